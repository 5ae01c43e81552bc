package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.ui.RectangleInsets;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Axes.Scale;
import org.voltsecond.plot.Legend.Heading;
import org.voltsecond.plot.Panel.Shade;
import org.voltsecond.plot.Picture.Drawing;
import org.voltsecond.plot.Trace.Shown;

/** Draws panels on one time axis. The axes come from the chart library; what is drawn on them is exact and our own. */
final class StackDrawing implements Drawing {
    /** Height of the line above a panel that names its traces. */
    static final int HEADING = 28;

    /** All traces together are drawn with this many columns at most, which bounds the size of a file. */
    private static final int COLUMN_BUDGET = 6600;

    private final Stack stack;
    private final List<StackPanel> panels;

    StackDrawing(Stack stack) {
        this.stack = stack;
        this.panels = IntStream.range(0, stack.panels().size())
                .filter(index -> !stack.panels().get(index).isEmpty())
                .mapToObj(index -> StackPanel.of(stack, index))
                .toList();
    }

    @Override
    public Drawing on(Sheet other) {
        return new StackDrawing(
                new Stack(other, stack.panels(), stack.bands(), stack.marks(), stack.from(), stack.to()));
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        drawAndTell(g, width, height);
    }

    /** Draws, and returns where each panel has come to lie. */
    List<PanelArea> drawAndTell(Graphics2D g, int width, int height) {
        Rectangle2D inner = stack.sheet().draw(g, width, height);
        int columns = columns(inner.getWidth() - Axes.LEFT - Axes.RIGHT);
        List<ValueRange> ranges = new ArrayList<>();
        for (StackPanel panel : panels) {
            ranges.add(ValueRange.of(panel.panel(), panel.traces(), columns));
        }
        TimeLegend legend = new TimeLegend(stack, inner);
        double top = HEADING + legend.layOut(g);
        Rectangle2D charts = new Rectangle2D.Double(
                inner.getX(), inner.getY() + top, inner.getWidth() - Axes.RIGHT, inner.getHeight() - top);
        List<Rectangle2D> areas = drawAxes(g, charts, ranges);
        legend.draw(g, areas.get(0).getY());
        List<PanelArea> told = new ArrayList<>();
        for (int i = 0; i < areas.size(); i++) {
            ValueRange range = ranges.get(i);
            Mapping map = new Mapping(areas.get(i), stack.from(), stack.to(), range.low(), range.high());
            drawPanel(g, panels.get(i), map, columns);
            drawHeading(g, panels.get(i), map, i == 0 ? legend.height() : 0, columns);
            told.add(PanelArea.of(panels.get(i).index(), map));
        }
        return told;
    }

    private int columns(double width) {
        int all = panels.stream().mapToInt(panel -> panel.traces().size()).sum();
        return Math.max(100, Math.min((int) Math.ceil(width), COLUMN_BUDGET / all));
    }

    private List<Rectangle2D> drawAxes(Graphics2D g, Rectangle2D charts, List<ValueRange> ranges) {
        CombinedDomainXYPlot combined = new CombinedDomainXYPlot(Axes.time(stack.from(), stack.to()));
        combined.setGap(HEADING);
        combined.setInsets(new RectangleInsets(0, 0, 0, 0));
        for (int i = 0; i < ranges.size(); i++) {
            Panel panel = panels.get(i).panel();
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

    private void drawPanel(Graphics2D g, StackPanel panel, Mapping map, int columns) {
        Shape clip = g.getClip();
        g.clip(map.area());
        drawBands(g, map);
        drawMarks(g, map);
        for (Shade shade : panel.panel().shades()) {
            Look.fillArea(g, Trace.between(shade, map, columns), panel.style(0).color(), shade.kind());
        }
        for (int k = 0; k < panel.traces().size(); k++) {
            TraceStyle style = panel.style(k);
            new Trace(panel.traces().get(k), map, columns).draw(g, style.color(), style.stroke());
        }
        panel.panel().shades().forEach(shade -> label(g, shade, map));
        Limits.draw(g, panel.panel(), map);
        g.setClip(clip);
        Axes.frame(g, map.area());
    }

    /** Where most of the area is, and never beyond the panel. */
    private static void label(Graphics2D g, Shade shade, Mapping map) {
        if (shade.label().isEmpty()) {
            return;
        }
        double middle = shade.middle();
        double width = Text.width(g, Look.LABEL, shade.label());
        double left = map.x(middle) - 0.5 * width;
        double inside =
                Math.max(map.area().getX() + 6, Math.min(left, map.area().getMaxX() - width - 6));
        double y = 0.5 * (map.y(shade.one().at(middle)) + map.y(shade.other().at(middle)));
        Text.patched(g, Look.LABEL, Look.INK, shade.label(), inside, y + 5);
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

    private void drawHeading(Graphics2D g, StackPanel drawn, Mapping map, double legendHeight, int columns) {
        Panel panel = drawn.panel();
        Rectangle2D area = map.area();
        double largest = Math.max(Math.abs(map.low()), Math.abs(map.high()));
        String unit = Scale.of(panel.unit(), largest).symbol();
        Text.draw(g, Look.LABEL, Look.INK, unit, area.getX() - 8 - Text.width(g, Look.LABEL, unit), area.getY() - 9);
        Heading heading = new Heading(g, area.getX(), area.getMaxX(), area.getY() - 9 - legendHeight);
        heading.title(panel.heading());
        List<Shown> shown = drawn.traces();
        for (int k = 0; k < shown.size(); k++) {
            String name = shown.get(k).waveform().name();
            if (shown.get(k).isBand(columns)) {
                heading.band(name + " (from lowest to highest)", drawn.style(k).color(), shown.size() - k);
            } else {
                heading.entry(name, drawn.style(k).color(), drawn.style(k).stroke(), shown.size() - k);
            }
        }
    }

    /** What a stacked picture shows. */
    record Stack(Sheet sheet, List<Panel> panels, List<TimeBand> bands, List<TimeMark> marks, double from, double to) {}

    /**
     * A panel with the traces of it that are shown. Colours and line styles go by the place among all traces, so that they stay
     * when a trace is left out.
     *
     * @param panel the panel
     * @param index its place in the stack
     * @param positions places of the traces shown
     * @param traces the traces shown
     */
    record StackPanel(Panel panel, int index, List<Integer> positions, List<Shown> traces) {
        static StackPanel of(Stack stack, int index) {
            Panel panel = stack.panels().get(index);
            List<Integer> positions = IntStream.range(0, panel.waveforms().size())
                    .filter(panel::shows)
                    .boxed()
                    .toList();
            List<Shown> traces = positions.stream()
                    .map(position -> new Shown(panel.waveforms().get(position), stack.from(), stack.to()))
                    .toList();
            return new StackPanel(panel, index, positions, traces);
        }

        TraceStyle style(int k) {
            return TraceStyle.of(panel, index, positions.get(k));
        }
    }
}
