package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.List;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.voltsecond.plot.Axes.DecadeAxis;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Axes.Scale;
import org.voltsecond.plot.Limits.Limit;
import org.voltsecond.plot.Picture.Drawing;
import org.voltsecond.units.Unit;

/** Draws lines over a common quantity. A range that is not a number stands for all values. */
record LineDrawing(
        Sheet sheet,
        Axis right,
        Axis up,
        List<LineBuilder.Line> lines,
        List<Limit> limits,
        List<LineBuilder.Mark> marks,
        ValueRange wanted)
        implements Drawing {
    /** Half the width of the end of a stem. */
    private static final double END = 2;

    /** Between a marked place and its word. */
    private static final double BESIDE = 12;

    /** One axis as it is asked for. */
    record Axis(String label, Unit unit, boolean percent, boolean logarithmic) {
        String title(Scale scale) {
            String symbol = percent ? "%" : scale.symbol();
            return label + (symbol.isEmpty() ? "" : " (" + symbol + ")");
        }

        double in(Scale scale, double value) {
            return percent ? 100 * value : scale.in(value);
        }
    }

    @Override
    public Drawing on(Sheet other) {
        return new LineDrawing(other, right, up, lines, limits, marks, wanted);
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        Rectangle2D inner = sheet.draw(g, width, height);
        ValueRange range = range();
        Legend legend = new Legend(g, inner.getX() + Axes.LEFT, inner.getMaxX() - Axes.RIGHT);
        for (int k = 0; k < lines.size(); k++) {
            if (lines.get(k).stems()) {
                legend.swatch(lines.get(k).name(), Look.trace(k));
            } else {
                legend.entry(lines.get(k).name(), Look.trace(k), Look.line(k));
            }
        }
        double top = StackDrawing.HEADING + 4 + legend.more();
        Rectangle2D chart = new Rectangle2D.Double(
                inner.getX(), inner.getY() + top, inner.getWidth() - Axes.RIGHT, inner.getHeight() - top);
        Rectangle2D area = drawAxes(g, chart, range);
        Mapping map = new Mapping(area, position(lowest()), position(highest()), range.low(), range.high());
        Shape clip = g.getClip();
        g.clip(area);
        for (int k = 0; k < lines.size(); k++) {
            g.setPaint(Look.trace(k));
            if (lines.get(k).stems()) {
                drawStems(g, lines.get(k), map, k);
            } else {
                g.setStroke(Look.line(k));
                g.draw(path(lines.get(k), map));
            }
        }
        limits.forEach(limit -> drawLimit(g, limit, map));
        marks.forEach(mark -> drawMark(g, mark, map));
        g.setClip(clip);
        Axes.frame(g, area);
        legend.draw(area.getY() - 12);
    }

    private Rectangle2D drawAxes(Graphics2D g, Rectangle2D chart, ValueRange range) {
        Scale scale = Scale.of(up.unit(), range.largest());
        NumberAxis values = Axes.axis(up.in(scale, range.low()), up.in(scale, range.high()));
        values.setFixedDimension(Axes.LEFT);
        XYPlot plot = Axes.plain(values);
        plot.setDomainAxis(horizontal());
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        plot.draw(g, chart, null, null, info);
        Rectangle2D area = info.getDataArea();
        Text.upright(g, Look.LABEL, Look.INK, up.title(scale), chart.getX() + 14, area.getCenterY());
        return area;
    }

    private ValueAxis horizontal() {
        if (right.logarithmic()) {
            return new DecadeAxis(right.label(), right.unit(), lowest(), highest());
        }
        Scale scale = Scale.of(right.unit(), Math.max(Math.abs(lowest()), Math.abs(highest())));
        NumberAxis axis = Axes.axis(scale.in(lowest()), scale.in(highest()));
        axis.setLabel(right.title(scale));
        axis.setFixedDimension(Axes.BELOW);
        return axis;
    }

    private Path2D path(LineBuilder.Line line, Mapping map) {
        Path2D path = new Path2D.Double();
        boolean gap = true;
        for (int i = 0; i < line.xs().size(); i++) {
            double value = line.ys().get(i);
            if (!Double.isFinite(value)) {
                gap = true;
                continue;
            }
            double x = map.x(position(line.xs().get(i)));
            if (gap) {
                path.moveTo(x, map.y(value));
            } else {
                path.lineTo(x, map.y(value));
            }
            gap = false;
        }
        return path;
    }

    /** The first have stems with round ends, others stand before them as squares, so that they differ without their colour. */
    private void drawStems(Graphics2D g, LineBuilder.Line line, Mapping map, int kind) {
        g.setStroke(Look.HAIR);
        double bottom = map.area().getMaxY();
        for (int i = 0; i < line.xs().size(); i++) {
            double x = map.x(position(line.xs().get(i)));
            double y = map.y(line.ys().get(i));
            if (y < bottom) {
                if (kind == 0) {
                    g.draw(new Line2D.Double(x, y, x, bottom));
                }
                Rectangle2D end = new Rectangle2D.Double(x - END, y - END, 2 * END, 2 * END);
                g.fill(kind == 0 ? new Ellipse2D.Double(x - END, y - END, 2 * END, 2 * END) : end);
            }
        }
    }

    /** The word stands on the side where there is room. */
    private void drawMark(Graphics2D g, LineBuilder.Mark mark, Mapping map) {
        double x = map.x(position(mark.x()));
        double y = map.y(mark.y());
        Look.dot(g, x, y);
        double width = Text.width(g, Look.HEADING, mark.label());
        double left = x + BESIDE + width < map.area().getMaxX() ? x + BESIDE : x - BESIDE - width;
        Text.patched(
                g,
                Look.HEADING,
                Look.INK,
                mark.label(),
                left,
                Math.max(y - 6, map.area().getY() + 16));
    }

    private void drawLimit(Graphics2D g, Limit limit, Mapping map) {
        double y = map.y(limit.value());
        g.setPaint(Look.MARK);
        g.setStroke(Look.dashed());
        g.draw(new Line2D.Double(map.area().getX(), y, map.area().getMaxX(), y));
        double x = map.area().getMaxX() - Text.width(g, Look.SMALL, limit.label()) - 8;
        Text.patched(g, Look.SMALL, Look.MARK, limit.label(), x, y - map.area().getY() > 20 ? y - 6 : y + 16);
    }

    private double position(double x) {
        return right.logarithmic() ? Math.log10(x) : x;
    }

    private ValueRange range() {
        if (!Double.isNaN(wanted.low())) {
            return wanted;
        }
        double low = limits.stream().mapToDouble(Limit::value).min().orElse(Double.POSITIVE_INFINITY);
        double high = limits.stream().mapToDouble(Limit::value).max().orElse(Double.NEGATIVE_INFINITY);
        for (LineBuilder.Line line : lines) {
            for (double value : line.ys()) {
                low = Double.isFinite(value) ? Math.min(low, value) : low;
                high = Double.isFinite(value) ? Math.max(high, value) : high;
            }
        }
        return ValueRange.around(low, high);
    }

    private double lowest() {
        return lines.stream().mapToDouble(line -> line.xs().get(0)).min().orElse(0);
    }

    private double highest() {
        return lines.stream()
                .mapToDouble(line -> line.xs().get(line.xs().size() - 1))
                .max()
                .orElse(1);
    }
}
