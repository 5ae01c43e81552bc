package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.ui.RectangleInsets;

/** Draws panels on one time axis. The axes come from the chart library; what is drawn on them is exact and our own. */
final class StackDrawing implements Drawing {
    /** Height of the line above a panel that names its traces. */
    static final int HEADING = 28;

    /** All traces together are drawn with this many columns at most, which bounds the size of a file. */
    private static final int COLUMN_BUDGET = 6600;

    private final Stack stack;
    private final List<List<Shown>> traces;

    StackDrawing(Stack stack) {
        this.stack = stack;
        this.traces = stack.panels().stream()
                .map(panel -> panel.waveforms().stream()
                        .map(waveform -> new Shown(waveform, stack.from(), stack.to()))
                        .toList())
                .toList();
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        Rectangle2D inner = stack.sheet().draw(g, width, height);
        int columns = columns(inner.getWidth() - Axes.LEFT - Axes.RIGHT);
        List<ValueRange> ranges = new ArrayList<>();
        for (int i = 0; i < traces.size(); i++) {
            ranges.add(ValueRange.of(stack.panels().get(i), traces.get(i), columns));
        }
        TimeLegend legend = new TimeLegend(stack, inner);
        double top = HEADING + legend.layOut(g);
        Rectangle2D charts = new Rectangle2D.Double(
                inner.getX(), inner.getY() + top, inner.getWidth() - Axes.RIGHT, inner.getHeight() - top);
        List<Rectangle2D> areas = drawAxes(g, charts, ranges);
        legend.draw(g, areas.get(0).getY());
        for (int i = 0; i < areas.size(); i++) {
            ValueRange range = ranges.get(i);
            Mapping map = new Mapping(areas.get(i), stack.from(), stack.to(), range.low(), range.high());
            drawPanel(g, i, map, columns);
            drawHeading(g, i, map, i == 0 ? legend.height() : 0, columns);
        }
    }

    private int columns(double width) {
        int all = traces.stream().mapToInt(List::size).sum();
        return Math.max(100, Math.min((int) Math.ceil(width), COLUMN_BUDGET / all));
    }

    private List<Rectangle2D> drawAxes(Graphics2D g, Rectangle2D charts, List<ValueRange> ranges) {
        CombinedDomainXYPlot combined = new CombinedDomainXYPlot(Axes.time(stack.from(), stack.to()));
        combined.setGap(HEADING);
        combined.setInsets(new RectangleInsets(0, 0, 0, 0));
        for (int i = 0; i < ranges.size(); i++) {
            Panel panel = stack.panels().get(i);
            NumberAxis axis = Axes.value(ranges.get(i), panel.unit());
            combined.add(Axes.plain(axis), (int) Math.round(100 * panel.weight()));
        }
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        combined.draw(g, charts, null, null, info);
        List<Rectangle2D> areas = new ArrayList<>();
        for (int i = 0; i < ranges.size(); i++) {
            areas.add(info.getSubplotInfo(i).getDataArea());
        }
        return areas;
    }

    private void drawPanel(Graphics2D g, int index, Mapping map, int columns) {
        Shape clip = g.getClip();
        g.clip(map.area());
        drawBands(g, map);
        drawMarks(g, map);
        List<Shown> panel = traces.get(index);
        for (int k = 0; k < panel.size(); k++) {
            new Trace(panel.get(k), map, columns).draw(g, Look.trace(color(index, k)), Look.line(k));
        }
        Limits.draw(g, stack.panels().get(index), map);
        g.setClip(clip);
        Axes.frame(g, map.area());
    }

    /** One trace after the other in one panel; a panel of its own colour for single traces. */
    private int color(int panel, int position) {
        return traces.get(panel).size() > 1 ? position : panel;
    }

    private void drawBands(Graphics2D g, Mapping map) {
        for (TimeBand band : TimeLegend.visible(stack, map.area().getWidth())) {
            double left = Math.max(map.area().getX(), map.x(band.start()));
            double right = Math.min(map.area().getMaxX(), map.x(band.end()));
            g.setPaint(band.kind().color());
            g.fill(new Rectangle2D.Double(
                    left, map.area().getY(), right - left, map.area().getHeight()));
        }
    }

    private void drawMarks(Graphics2D g, Mapping map) {
        g.setPaint(Look.MARK);
        g.setStroke(Look.dashed());
        for (TimeMark mark : stack.marks()) {
            double x = map.x(mark.time());
            g.draw(new Line2D.Double(x, map.area().getY(), x, map.area().getMaxY()));
        }
    }

    private void drawHeading(Graphics2D g, int index, Mapping map, double legendHeight, int columns) {
        Panel panel = stack.panels().get(index);
        Rectangle2D area = map.area();
        double largest = Math.max(Math.abs(map.low()), Math.abs(map.high()));
        String unit = Scale.of(panel.unit(), largest).symbol();
        Text.draw(g, Look.LABEL, Look.INK, unit, area.getX() - 8 - Text.width(g, Look.LABEL, unit), area.getY() - 9);
        Heading heading = new Heading(g, area.getX(), area.getMaxX(), area.getY() - 9 - legendHeight);
        heading.title(panel.heading());
        List<Shown> shown = traces.get(index);
        for (int k = 0; k < shown.size(); k++) {
            String name = shown.get(k).waveform().name();
            if (shown.get(k).isBand(columns)) {
                heading.band(name + " (from lowest to highest)", Look.trace(color(index, k)), shown.size() - k);
            } else {
                heading.entry(name, Look.trace(color(index, k)), Look.line(k), shown.size() - k);
            }
        }
    }
}
