package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.NumberTickUnit;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.ui.RectangleInsets;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.numeric.Complex;
import org.voltsecond.plot.Axes.DecadeAxis;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Picture.Drawing;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Draws magnitude and phase over frequency.
 *
 * @param sheet what is around it
 * @param responses at least one, all in one unit
 * @param margins whether to mark the margins of the first one
 */
record BodeDrawing(Sheet sheet, List<FrequencyResponse> responses, boolean margins) implements Drawing {
    private static final double DOT = 4;

    @Override
    public Drawing on(Sheet other) {
        return new BodeDrawing(other, responses, margins);
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        Rectangle2D inner = sheet.draw(g, width, height);
        Legend legend = new Legend(g, inner.getX() + Axes.LEFT, inner.getMaxX() - Axes.RIGHT);
        for (int k = 0; k < responses.size(); k++) {
            legend.entry(responses.get(k).name(), Look.trace(k), Look.line(k));
        }
        double top = StackDrawing.HEADING + legend.more();
        Rectangle2D charts = new Rectangle2D.Double(
                inner.getX(), inner.getY() + top, inner.getWidth() - Axes.RIGHT, inner.getHeight() - top);
        ValueRange magnitude = range(FrequencyResponse::decibels, margins ? 0 : Double.NaN);
        ValueRange phase = range(FrequencyResponse::phase, margins ? -180 : Double.NaN);
        List<Rectangle2D> areas = drawAxes(g, charts, magnitude, phase);
        String unit = responses.get(0).unit();
        String decibels = "Magnitude (dB" + (unit.isEmpty() ? ")" : " re 1 " + unit + ")");
        drawPanel(g, areas.get(0), magnitude, FrequencyResponse::decibels, decibels, charts.getX());
        drawPanel(g, areas.get(1), phase, FrequencyResponse::phase, "Phase (degrees)", charts.getX());
        legend.draw(areas.get(0).getY() - 12);
        if (margins) {
            drawMargins(g, mapping(areas.get(0), magnitude), mapping(areas.get(1), phase));
        }
    }

    /** Reads a figure off one point of a response. */
    private interface Figure {
        double of(FrequencyResponse response, int index);
    }

    private ValueRange range(Figure figure, double shown) {
        double low = Double.isNaN(shown) ? Double.POSITIVE_INFINITY : shown;
        double high = Double.isNaN(shown) ? Double.NEGATIVE_INFINITY : shown;
        for (FrequencyResponse response : responses) {
            for (int i = 0; i < response.size(); i++) {
                double value = figure.of(response, i);
                low = Double.isFinite(value) ? Math.min(low, value) : low;
                high = Double.isFinite(value) ? Math.max(high, value) : high;
            }
        }
        return ValueRange.around(low, high);
    }

    private double lowest() {
        return responses.stream().mapToDouble(r -> r.frequency(0)).min().orElseThrow();
    }

    private double highest() {
        return responses.stream()
                .mapToDouble(r -> r.frequency(r.size() - 1))
                .max()
                .orElseThrow();
    }

    private Mapping mapping(Rectangle2D area, ValueRange range) {
        return new Mapping(area, Math.log10(lowest()), Math.log10(highest()), range.low(), range.high());
    }

    private List<Rectangle2D> drawAxes(Graphics2D g, Rectangle2D charts, ValueRange magnitude, ValueRange phase) {
        CombinedDomainXYPlot combined =
                new CombinedDomainXYPlot(new DecadeAxis("Frequency", Unit.HERTZ, lowest(), highest()));
        combined.setGap(14);
        combined.setInsets(new RectangleInsets(0, 0, 0, 0));
        NumberAxis decibels = Axes.axis(magnitude.low(), magnitude.high());
        decibels.setFixedDimension(Axes.LEFT);
        combined.add(Axes.plain(decibels), 3);
        NumberAxis degrees = Axes.axis(phase.low(), phase.high());
        degrees.setFixedDimension(Axes.LEFT);
        double span = phase.high() - phase.low();
        if (span > 90) {
            degrees.setTickUnit(new NumberTickUnit(span > 400 ? 90 : 45));
        }
        combined.add(Axes.plain(degrees), 2);
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        combined.draw(g, charts, null, null, info);
        return List.of(
                info.getSubplotInfo(0).getDataArea(), info.getSubplotInfo(1).getDataArea());
    }

    private void drawPanel(Graphics2D g, Rectangle2D area, ValueRange range, Figure figure, String label, double left) {
        Mapping map = mapping(area, range);
        Shape clip = g.getClip();
        g.clip(area);
        for (int k = 0; k < responses.size(); k++) {
            FrequencyResponse response = responses.get(k);
            g.setPaint(Look.trace(k));
            g.setStroke(Look.line(k));
            drawLine(g, response, map, i -> figure.of(response, i));
        }
        g.setClip(clip);
        Axes.frame(g, area);
        Text.upright(g, Look.LABEL, Look.INK, label, left + 14, area.getCenterY());
    }

    private static void drawLine(Graphics2D g, FrequencyResponse response, Mapping map, IntToDoubleFunction figure) {
        Polyline line = new Polyline();
        for (int i = 0; i < response.size(); i++) {
            double value = figure.applyAsDouble(i);
            if (Double.isFinite(value)) {
                line.add(map.x(Math.log10(response.frequency(i))), map.y(value));
            }
        }
        g.draw(line.open());
    }

    private void drawMargins(Graphics2D g, Mapping magnitude, Mapping phase) {
        FrequencyResponse response = responses.get(0);
        Margins found = response.margins();
        level(g, magnitude, 0, "");
        level(g, phase, -180, "-180 degrees");
        List<String> labels = labels(found);
        OptionalDouble crossover = found.crossoverFrequency();
        if (crossover.isPresent()) {
            double at = crossover.getAsDouble();
            vertical(g, magnitude, at, 0, labels.get(0));
            vertical(g, phase, at, unwrapped(response, at), "");
        }
        for (Margins.Bound bound : List.of(found.gain(), found.gainReduction())) {
            if (bound.frequency().isPresent()) {
                double at = bound.frequency().getAsDouble();
                vertical(g, phase, at, unwrapped(response, at), "");
                double decibels = 20 * Math.log10(response.at(at).magnitude());
                vertical(g, magnitude, at, decibels, label(found, bound));
            }
        }
    }

    /** What stands beside the marks: crossover with its margin, then the gain margins. */
    private static List<String> labels(Margins found) {
        List<String> labels = new ArrayList<>();
        if (found.crossoverFrequency().isPresent()) {
            labels.add("crossover "
                    + Quantity.format(found.crossoverFrequency().getAsDouble(), Unit.HERTZ, 4) + ", phase margin "
                    + rounded(found.phaseMargin().orElseThrow()) + " degrees");
        }
        for (Margins.Bound bound : List.of(found.gain(), found.gainReduction())) {
            if (bound.frequency().isPresent()) {
                labels.add(label(found, bound));
            }
        }
        return labels;
    }

    static String label(Margins found, Margins.Bound bound) {
        return (bound.equals(found.gain()) ? "gain margin " : "gain reduction margin ")
                + rounded(bound.margin().orElseThrow()) + " dB at "
                + Quantity.format(bound.frequency().orElseThrow(), Unit.HERTZ, 4);
    }

    static double rounded(double value) {
        return Math.rint(10 * value) / 10;
    }

    /** The phase at any frequency, on the same turn as the curve nearby. */
    private static double unwrapped(FrequencyResponse response, double frequency) {
        int near = 0;
        while (near + 1 < response.size() && response.frequency(near + 1) <= frequency) {
            near++;
        }
        Complex value = response.at(frequency);
        double principal = Math.toDegrees(value.argument());
        return principal - 360 * Math.rint((principal - response.phase(near)) / 360);
    }

    private static void level(Graphics2D g, Mapping map, double value, String label) {
        double y = map.y(value);
        g.setPaint(Look.MARK);
        g.setStroke(Look.dashed());
        g.draw(new Line2D.Double(map.area().getX(), y, map.area().getMaxX(), y));
        if (!label.isEmpty()) {
            Text.patched(g, Look.SMALL, Look.MARK, label, map.area().getX() + 8, y - 6);
        }
    }

    private static void vertical(Graphics2D g, Mapping map, double frequency, double value, String label) {
        double x = map.x(Math.log10(frequency));
        double y = map.y(value);
        g.setPaint(Look.MARK);
        g.setStroke(Look.dashed());
        g.draw(new Line2D.Double(x, map.area().getY(), x, map.area().getMaxY()));
        g.fill(new Ellipse2D.Double(x - DOT, y - DOT, 2 * DOT, 2 * DOT));
        if (!label.isEmpty()) {
            double room = Text.width(g, Look.SMALL, label) + 10;
            Text.patched(g, Look.SMALL, Look.MARK, label, Math.max(map.area().getX() + 8, x - room), y + 18);
        }
    }
}
