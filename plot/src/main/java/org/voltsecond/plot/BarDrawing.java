package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.voltsecond.plot.Axes.Scale;
import org.voltsecond.plot.Picture.Drawing;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Draws bars to the right, each with its value at its end.
 *
 * @param sheet what is around
 * @param quantity what the length of a bar means
 * @param unit its unit
 * @param bars the bars, from top to bottom
 * @param stacked whether those of one category stand end to end
 * @param origin where the bars begin
 * @param marks what categories are limited to
 */
record BarDrawing(
        Sheet sheet,
        String quantity,
        Unit unit,
        List<BarBuilder.Bar> bars,
        boolean stacked,
        double origin,
        Map<String, Double> marks)
        implements Drawing {
    private static final int DIGITS = 3;
    private static final double VALUE_ROOM = 84;
    private static final double GAP = 1.5;

    @Override
    public Drawing on(Sheet other) {
        return new BarDrawing(other, quantity, unit, bars, stacked, origin, marks);
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        Rectangle2D inner = sheet.draw(g, width, height);
        Map<String, Integer> series =
                indices(bars.stream().map(BarBuilder.Bar::series).toList());
        Map<String, Integer> categories =
                indices(bars.stream().map(BarBuilder.Bar::category).toList());
        double names = 14
                + categories.keySet().stream()
                        .mapToDouble(name -> Text.width(g, Look.LABEL, name))
                        .max()
                        .orElse(0);
        names = Math.min(names, 0.4 * inner.getWidth());
        Legend legend = legend(g, inner, series);
        double top = series.size() > 1 ? StackDrawing.HEADING + legend.more() : 6;
        Rectangle2D chart = new Rectangle2D.Double(
                inner.getX() + names,
                inner.getY() + top,
                inner.getWidth() - names - Axes.RIGHT,
                inner.getHeight() - top);
        Rectangle2D area = drawAxis(g, chart, chart.getWidth() / (chart.getWidth() - VALUE_ROOM));
        if (stacked) {
            drawStacks(g, area, series, categories);
        } else {
            drawBars(g, area, series, categories);
        }
        drawMarks(g, area, categories);
        nameRows(g, area, inner.getX(), categories);
        Axes.frame(g, area);
        if (series.size() > 1) {
            legend.draw(area.getY() - 10);
        }
    }

    private static Legend legend(Graphics2D g, Rectangle2D inner, Map<String, Integer> series) {
        Legend legend = new Legend(g, inner.getX(), inner.getMaxX());
        series.forEach((name, index) -> legend.kind(name, index));
        return legend;
    }

    private static Map<String, Integer> indices(List<String> names) {
        Map<String, Integer> indices = new LinkedHashMap<>();
        names.forEach(name -> indices.putIfAbsent(name, indices.size()));
        return indices;
    }

    private double largest() {
        double largest = stacked
                ? sums().values().stream()
                        .mapToDouble(Double::doubleValue)
                        .max()
                        .orElse(0)
                : bars.stream().mapToDouble(BarBuilder.Bar::value).max().orElse(0);
        for (double mark : marks.values()) {
            largest = Math.max(largest, mark);
        }
        return largest > origin ? largest : origin + 1;
    }

    private Map<String, Double> sums() {
        Map<String, Double> sums = new LinkedHashMap<>();
        bars.forEach(bar -> sums.merge(bar.category(), bar.value(), Double::sum));
        return sums;
    }

    private Rectangle2D drawAxis(Graphics2D g, Rectangle2D chart, double room) {
        Scale scale = Scale.of(unit, largest());
        NumberAxis values = Axes.axis(scale.in(origin), scale.in(origin + (largest() - origin) * room));
        values.setLabel(quantity + (scale.symbol().isEmpty() ? "" : " (" + scale.symbol() + ")"));
        values.setFixedDimension(Axes.BELOW);
        NumberAxis rows = Axes.axis(0, 1);
        rows.setVisible(false);
        XYPlot plot = Axes.plain(rows);
        plot.setDomainAxis(values);
        plot.setRangeGridlinesVisible(false);
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        plot.draw(g, chart, null, null, info);
        return info.getDataArea();
    }

    private void drawBars(
            Graphics2D g, Rectangle2D area, Map<String, Integer> series, Map<String, Integer> categories) {
        double row = area.getHeight() / categories.size();
        double thickness = 0.72 * row / series.size();
        double perUnit = (area.getWidth() - VALUE_ROOM) / (largest() - origin);
        for (BarBuilder.Bar bar : bars) {
            int category = categories.getOrDefault(bar.category(), 0);
            int position = series.getOrDefault(bar.series(), 0);
            double y = area.getY() + (category + 0.14) * row + position * thickness;
            double length = (bar.value() - origin) * perUnit;
            Look.fillKind(g, new Rectangle2D.Double(area.getX(), y + 1, length, thickness - 2), position);
            String value = Quantity.format(bar.value(), unit, DIGITS);
            Text.patched(g, Look.SMALL, Look.INK, value, area.getX() + length + 7, y + 0.5 * thickness + 4.5);
        }
    }

    /** A gap of paper between two parts of a row keeps them apart in grey print. */
    private void drawStacks(
            Graphics2D g, Rectangle2D area, Map<String, Integer> series, Map<String, Integer> categories) {
        double row = area.getHeight() / categories.size();
        double perUnit = (area.getWidth() - VALUE_ROOM) / largest();
        Map<String, Double> begun = new LinkedHashMap<>();
        for (BarBuilder.Bar bar : bars) {
            double begin = begun.getOrDefault(bar.category(), 0.0);
            begun.put(bar.category(), begin + bar.value());
            double y = area.getY() + (categories.getOrDefault(bar.category(), 0) + 0.2) * row;
            int kind = series.getOrDefault(bar.series(), 0);
            double length = Math.max(0, bar.value() * perUnit - GAP);
            Look.fillKind(g, new Rectangle2D.Double(area.getX() + begin * perUnit, y, length, 0.6 * row), kind);
        }
        begun.forEach((category, sum) -> {
            double y = area.getY() + (categories.getOrDefault(category, 0) + 0.5) * row;
            String value = Quantity.format(sum, unit, DIGITS);
            Text.patched(g, Look.SMALL, Look.INK, value, area.getX() + sum * perUnit + 7, y + 4.5);
        });
    }

    /** An upright line across the row, with its value behind it. */
    private void drawMarks(Graphics2D g, Rectangle2D area, Map<String, Integer> categories) {
        double row = area.getHeight() / categories.size();
        double perUnit = (area.getWidth() - VALUE_ROOM) / (largest() - origin);
        marks.forEach((category, mark) -> {
            double x = area.getX() + (mark - origin) * perUnit;
            double y = area.getY() + categories.getOrDefault(category, 0) * row;
            g.setColor(Look.MARK);
            g.setStroke(Look.dashed());
            g.draw(new Line2D.Double(x, y + 0.04 * row, x, y + 0.96 * row));
            Text.patched(
                    g, Look.SMALL, Look.MARK, "limit " + Quantity.format(mark, unit, DIGITS), x + 5, y + 0.92 * row);
        });
    }

    private static void nameRows(Graphics2D g, Rectangle2D area, double left, Map<String, Integer> categories) {
        double row = area.getHeight() / categories.size();
        categories.forEach((name, index) -> {
            String fitted = Text.fit(g, Look.LABEL, name, area.getX() - left - 10);
            double x = area.getX() - 10 - Text.width(g, Look.LABEL, fitted);
            Text.draw(g, Look.LABEL, Look.INK, fitted, x, area.getY() + (index + 0.5) * row + 4.5);
        });
    }
}
