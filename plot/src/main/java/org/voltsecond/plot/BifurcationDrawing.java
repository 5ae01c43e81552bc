package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Rectangle2D;
import java.util.HashSet;
import java.util.Set;
import java.util.stream.DoubleStream;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.voltsecond.analysis.Bifurcation;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Picture.Drawing;

/**
 * Draws a dot for every sample over the swept parameter; dots that would lie on each other are drawn once.
 *
 * @param sheet what is around it
 * @param bifurcation the sweep
 * @param parameter what is swept, with its unit
 */
record BifurcationDrawing(Sheet sheet, Bifurcation bifurcation, String parameter) implements Drawing {
    private static final double DOT = 1.4;

    @Override
    public Drawing on(Sheet other) {
        return new BifurcationDrawing(other, bifurcation, parameter);
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        Rectangle2D inner = sheet.draw(g, width, height);
        Rectangle2D chart = new Rectangle2D.Double(
                inner.getX(), inner.getY() + 10, inner.getWidth() - Axes.RIGHT, inner.getHeight() - 10);
        ValueRange up =
                ValueRange.around(samples().min().orElse(0), samples().max().orElse(1));
        double from = parameters().min().orElseThrow();
        double to = parameters().max().orElseThrow();
        Rectangle2D area = drawAxes(g, chart, up, from, to);
        Mapping map = new Mapping(area, from, to, up.low(), up.high());
        Shape clip = g.getClip();
        g.clip(area);
        g.setPaint(Look.trace(0));
        Set<Long> drawn = new HashSet<>();
        for (Bifurcation.Point point : bifurcation.points()) {
            double x = map.x(point.parameter());
            for (double sample : point.samples()) {
                double y = map.y(sample);
                long place = (Math.round(2 * x) << 32) + Math.round(2 * y);
                if (drawn.add(place)) {
                    g.fill(new Rectangle2D.Double(x - DOT / 2, y - DOT / 2, DOT, DOT));
                }
            }
        }
        g.setClip(clip);
        Axes.frame(g, area);
    }

    private DoubleStream parameters() {
        return bifurcation.points().stream().mapToDouble(Bifurcation.Point::parameter);
    }

    private DoubleStream samples() {
        return bifurcation.points().stream()
                .flatMap(point -> point.samples().stream())
                .mapToDouble(Double::doubleValue);
    }

    private Rectangle2D drawAxes(Graphics2D g, Rectangle2D chart, ValueRange up, double from, double to) {
        NumberAxis values = Axes.axis(up.low(), up.high());
        values.setFixedDimension(Axes.LEFT);
        NumberAxis right = Axes.axis(from, to);
        right.setLabel(parameter);
        right.setFixedDimension(Axes.BELOW);
        XYPlot plot = Axes.plain(values);
        plot.setDomainAxis(right);
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        plot.draw(g, chart, null, null, info);
        Rectangle2D area = info.getDataArea();
        String label = bifurcation.signal() + " on the clock edge (" + bifurcation.unit() + ")";
        Text.upright(g, Look.LABEL, Look.INK, label, chart.getX() + 14, area.getCenterY());
        return area;
    }
}
