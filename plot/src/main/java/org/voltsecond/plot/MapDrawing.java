package org.voltsecond.plot;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.plot.Axes.DecadeAxis;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Axes.Scale;
import org.voltsecond.plot.DiscontinuousArea.MissingCells;
import org.voltsecond.plot.Levels.ContourLabel;
import org.voltsecond.plot.Levels.MapField;
import org.voltsecond.plot.Picture.Drawing;
import org.voltsecond.study.Axis;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;

/**
 * Draws a map: bands of a figure with contours, if there is one, and the boundary of conduction.
 *
 * @param sheet what is around it
 * @param map the map, with two values or more on each axis
 * @param figure which figure; none for the conduction alone
 * @param design where the design itself lies; null if that is not to be shown
 */
record MapDrawing(Sheet sheet, OperatingMap map, OptionalInt figure, MapLine.@Nullable Spot design) implements Drawing {
    private static final int SCALE_ROOM = 78;
    private static final int HATCH = 9;
    private static final int COLUMNS = 260;
    private static final int ROWS = 180;
    private static final double LIGHTEST = 0.06;
    private static final double DARKEST = 0.62;

    @Override
    public Drawing on(Sheet other) {
        return new MapDrawing(other, map, figure, design);
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        Rectangle2D inner = sheet.draw(g, width, height);
        double right = figure.isPresent() ? SCALE_ROOM : Axes.RIGHT;
        Legend legend = legend(g, inner.getX() + Axes.LEFT, inner.getMaxX() - right);
        double top = StackDrawing.HEADING + legend.more();
        Rectangle2D chart = new Rectangle2D.Double(
                inner.getX(), inner.getY() + top, inner.getWidth() - right, inner.getHeight() - top);
        Rectangle2D area = drawAxes(g, chart);
        double[] x = MapField.positions(map.across());
        double[] y = MapField.positions(map.up());
        Mapping mapping = new Mapping(area, x[0], x[x.length - 1], y[0], y[y.length - 1]);
        Shape clip = g.getClip();
        g.clip(area);
        List<Rectangle2D> taken = new ArrayList<>();
        if (figure.isPresent()) {
            drawBands(g, mapping, figure.getAsInt());
        } else {
            // bands leave them white, which without bands would look like continuous conduction
            g.setPaint(Look.MISSING);
            g.fill(MissingCells.in(map, mapping));
        }
        drawDiscontinuous(g, mapping);
        if (figure.isPresent()) {
            drawContours(g, mapping, figure.getAsInt(), taken);
        }
        drawBoundary(g, mapping);
        if (design != null && shows(design)) {
            ContourLabel.Place place = place(design, mapping);
            Look.dot(g, place.x(), place.y());
        }
        g.setClip(clip);
        Axes.frame(g, area);
        legend.draw(area.getY() - 12);
        if (figure.isPresent()) {
            drawScale(g, area, figure.getAsInt());
        }
    }

    private Rectangle2D drawAxes(Graphics2D g, Rectangle2D chart) {
        ValueAxis right = axis(map.across(), true);
        ValueAxis up = axis(map.up(), false);
        // the grid would only cross the contours
        XYPlot plot = new XYPlot(null, right, up, figure.isEmpty() ? new XYLineAndShapeRenderer() : null);
        Axes.style(plot);
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        plot.draw(g, chart, null, null, info);
        Rectangle2D area = info.getDataArea();
        Text.upright(g, Look.LABEL, Look.INK, label(map.up()), chart.getX() + 14, area.getCenterY());
        return area;
    }

    private static ValueAxis axis(Axis axis, boolean lying) {
        List<Double> values = axis.values();
        double low = values.get(0);
        double high = values.get(values.size() - 1);
        if (axis.logarithmic()) {
            DecadeAxis decades = new DecadeAxis(capital(axis.name()), axis.unit(), low, high);
            decades.setLabel(lying ? decades.getLabel() : null);
            decades.setFixedDimension(lying ? Axes.BELOW : Axes.LEFT);
            return decades;
        }
        Scale scale = scale(axis);
        NumberAxis numbers = Axes.axis(scale.in(low), scale.in(high));
        numbers.setLabel(lying ? label(axis) : null);
        numbers.setFixedDimension(lying ? Axes.BELOW : Axes.LEFT);
        return numbers;
    }

    private static Scale scale(Axis axis) {
        double low = axis.values().get(0);
        double high = axis.values().get(axis.size() - 1);
        return Scale.of(axis.unit(), Math.max(Math.abs(low), Math.abs(high)));
    }

    /** Ticks of a logarithmic axis carry their unit themselves. */
    private static String label(Axis axis) {
        String symbol = axis.logarithmic() ? "" : scale(axis).symbol();
        return capital(axis.name()) + (symbol.isEmpty() ? "" : " (" + symbol + ")");
    }

    private static String capital(String name) {
        return name.substring(0, 1).toUpperCase(Locale.ROOT) + name.substring(1);
    }

    private Levels levels(int index) {
        Figure<?> shown = map.figures().get(index);
        boolean percent = shown.equals(Figures.EFFICIENCY) || shown.equals(Figures.DUTY_CYCLE);
        return Levels.between(map.least(index), map.most(index), shown.unit(), percent);
    }

    private static Color shade(Levels levels, int band) {
        double part = band / Math.max(1.0, levels.values().size());
        double strength = LIGHTEST + (DARKEST - LIGHTEST) * part;
        Color hue = Look.trace(0);
        // mixed with paper rather than veiled, so that neighbouring rectangles leave no seam
        return new Color(
                mixed(hue.getRed(), strength), mixed(hue.getGreen(), strength), mixed(hue.getBlue(), strength));
    }

    private static int mixed(int colour, double strength) {
        return (int) Math.round(255 + (colour - 255) * strength);
    }

    private void drawBands(Graphics2D g, Mapping mapping, int index) {
        MapField field = MapField.of(map, index);
        Levels levels = levels(index);
        double cellWidth = mapping.area().getWidth() / COLUMNS;
        double cellHeight = mapping.area().getHeight() / ROWS;
        for (int row = 0; row < ROWS; row++) {
            double top = mapping.area().getY() + row * cellHeight;
            double y = mapping.high() - (row + 0.5) / ROWS * (mapping.high() - mapping.low());
            int from = 0;
            int band = band(field, levels, mapping, 0, y);
            for (int column = 1; column <= COLUMNS; column++) {
                int next = column < COLUMNS ? band(field, levels, mapping, column, y) : Integer.MIN_VALUE;
                if (next != band) {
                    if (band >= 0) {
                        g.setPaint(shade(levels, band));
                        g.fill(new Rectangle2D.Double(
                                mapping.area().getX() + from * cellWidth,
                                top,
                                (column - from) * cellWidth + 0.6,
                                cellHeight + 0.6));
                    }
                    from = column;
                    band = next;
                }
            }
        }
    }

    private static int band(MapField field, Levels levels, Mapping mapping, int column, double y) {
        double x = mapping.from() + (column + 0.5) / COLUMNS * (mapping.to() - mapping.from());
        double value = field.at(x, y);
        return Double.isNaN(value) ? -1 : levels.band(value);
    }

    private void drawDiscontinuous(Graphics2D g, Mapping mapping) {
        Shape area = new DiscontinuousArea(map).in(mapping);
        Shape clip = g.getClip();
        if (figure.isEmpty()) {
            g.setPaint(Look.veil(Look.trace(0), 0.16));
            g.fill(area);
        }
        g.clip(area);
        g.setPaint(Look.veil(Look.MARK, 0.45));
        g.setStroke(Look.HAIR);
        Rectangle2D all = mapping.area();
        for (double x = all.getX() - all.getHeight(); x < all.getMaxX(); x += HATCH) {
            g.draw(new Line2D.Double(x, all.getMaxY(), x + all.getHeight(), all.getY()));
        }
        g.setClip(clip);
    }

    private void drawContours(Graphics2D g, Mapping mapping, int index, List<Rectangle2D> taken) {
        Levels levels = levels(index);
        for (int k = 0; k < levels.values().size(); k++) {
            List<MapLine> lines = map.contours(index, levels.values().get(k));
            g.setPaint(Look.INK);
            g.setStroke(Look.HAIR);
            lines.forEach(line -> g.draw(path(line, mapping)));
            for (MapLine line : lines) {
                ContourLabel.draw(g, levels.label(k), places(line, mapping), mapping.area(), taken);
            }
        }
    }

    private Path2D path(MapLine line, Mapping mapping) {
        Polyline path = new Polyline();
        places(line, mapping).forEach(place -> path.add(place.x(), place.y()));
        return path.open();
    }

    private List<ContourLabel.Place> places(MapLine line, Mapping mapping) {
        return line.spots().stream().map(spot -> place(spot, mapping)).toList();
    }

    private ContourLabel.Place place(MapLine.Spot spot, Mapping mapping) {
        return new ContourLabel.Place(
                mapping.x(MapField.position(map.across(), spot.across())),
                mapping.y(MapField.position(map.up(), spot.up())));
    }

    private boolean shows(MapLine.Spot spot) {
        return isWithin(map.across(), spot.across()) && isWithin(map.up(), spot.up());
    }

    private static boolean isWithin(Axis axis, double value) {
        return value >= axis.values().get(0) && value <= axis.values().get(axis.size() - 1);
    }

    private void drawBoundary(Graphics2D g, Mapping mapping) {
        g.setPaint(Look.trace(1));
        g.setStroke(Look.line(0));
        map.boundary().forEach(line -> g.draw(path(line, mapping)));
    }

    private Legend legend(Graphics2D g, double left, double right) {
        Legend legend = new Legend(g, left, right);
        figure.ifPresent(index -> {
            String name = name(map.figures().get(index));
            if (!sheet.title().contains(name)) {
                legend.title(capital(name));
            }
        });
        if (!map.boundary().isEmpty()) {
            legend.entry("boundary of conduction", Look.trace(1), Look.line(0));
        }
        if (design != null && shows(design)) {
            legend.dot("the design");
        }
        legend.hatch("discontinuous conduction" + (anywhere(Conduction.DISCONTINUOUS) ? "" : ": nowhere"));
        if (figure.isEmpty() && map.failures() > 0) {
            legend.swatch("no steady state", Look.MISSING);
        }
        return legend;
    }

    private static String name(Figure<?> shown) {
        // no model of other losses is in it
        return shown.equals(Figures.EFFICIENCY) ? "efficiency, conduction losses only" : shown.toString();
    }

    private boolean anywhere(Conduction wanted) {
        for (int i = 0; i < map.across().size(); i++) {
            for (int j = 0; j < map.up().size(); j++) {
                if (map.conduction(i, j).orElse(null) == wanted) {
                    return true;
                }
            }
        }
        return false;
    }

    /** The bands from the lowest to the highest, with the values between them. */
    private void drawScale(Graphics2D g, Rectangle2D area, int index) {
        Levels levels = levels(index);
        int bands = levels.values().size() + 1;
        double each = Math.min(34, area.getHeight() / bands);
        double x = area.getMaxX() + 16;
        double bottom = area.getMaxY();
        for (int band = 0; band < bands; band++) {
            Rectangle2D patch = new Rectangle2D.Double(x, bottom - (band + 1) * each, 16, each);
            g.setPaint(shade(levels, band));
            g.fill(patch);
            g.setPaint(Look.FAINT_INK);
            g.setStroke(Look.HAIR);
            g.draw(patch);
            if (band > 0) {
                Text.draw(g, Look.SMALL, Look.INK, levels.label(band - 1), x + 22, bottom - band * each + 4);
            }
        }
        Text.draw(g, Look.SMALL, Look.INK, levels.symbol(), x, bottom - bands * each - 8);
    }
}
