package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.List;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.numeric.Complex;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Legend.Heading;
import org.voltsecond.plot.Picture.Drawing;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Draws a loop gain in the complex plane about the point -1, with equal scales.
 *
 * @param sheet what is around it
 * @param response the loop gain
 */
record NyquistDrawing(Sheet sheet, FrequencyResponse response) implements Drawing {
    private static final double LEFT = -3;
    private static final double RIGHT = 2;
    private static final double DOT = 4;

    @Override
    public Drawing on(Sheet other) {
        return new NyquistDrawing(other, response);
    }

    @Override
    public void draw(Graphics2D g, int width, int height) {
        Rectangle2D inner = sheet.draw(g, width, height);
        Rectangle2D chart = new Rectangle2D.Double(
                inner.getX(),
                inner.getY() + StackDrawing.HEADING,
                inner.getWidth() - Axes.RIGHT,
                inner.getHeight() - StackDrawing.HEADING);
        double across = chart.getWidth() - Axes.LEFT;
        double half = 0.5 * (RIGHT - LEFT) * (chart.getHeight() - Axes.BELOW) / across;
        Rectangle2D area = drawAxes(g, chart, half);
        Mapping map = new Mapping(area, LEFT, RIGHT, -half, half);
        Shape clip = g.getClip();
        g.clip(area);
        drawReference(g, map);
        g.setPaint(Look.trace(0));
        g.setStroke(Look.line(0));
        Polyline line = new Polyline();
        for (int i = 0; i < response.size(); i++) {
            Complex value = response.value(i);
            // far outside nothing is to be seen, and coordinates of millions of pixels are not for every reader of SVG
            double shrink = Math.min(1, 100 / value.magnitude());
            line.add(map.x(value.real() * shrink), map.y(value.imaginary() * shrink));
        }
        g.draw(line.open());
        drawMargins(g, map);
        g.setClip(clip);
        Axes.frame(g, area);
        new Heading(g, area.getX(), area.getMaxX(), area.getY() - 12)
                .entry(
                        response.name() + ", rising frequency from "
                                + Quantity.format(response.frequency(0), Unit.HERTZ, 4),
                        Look.trace(0),
                        Look.line(0),
                        1);
    }

    private static Rectangle2D drawAxes(Graphics2D g, Rectangle2D chart, double half) {
        NumberAxis imaginary = Axes.axis(-half, half);
        imaginary.setFixedDimension(Axes.LEFT);
        NumberAxis real = Axes.axis(LEFT, RIGHT);
        real.setLabel("Real part");
        real.setFixedDimension(Axes.BELOW);
        XYPlot plot = Axes.plain(imaginary);
        plot.setDomainAxis(real);
        PlotRenderingInfo info = new PlotRenderingInfo(null);
        plot.draw(g, chart, null, null, info);
        Rectangle2D area = info.getDataArea();
        Text.upright(g, Look.LABEL, Look.INK, "Imaginary part", chart.getX() + 14, area.getCenterY());
        return area;
    }

    /** The unit circle, the real axis, and the point at which a loop is at its limit. */
    private static void drawReference(Graphics2D g, Mapping map) {
        g.setPaint(Look.MARK);
        g.setStroke(Look.dashed());
        g.draw(new Ellipse2D.Double(map.x(-1), map.y(1), map.x(1) - map.x(-1), map.y(-1) - map.y(1)));
        g.setStroke(Look.HAIR);
        g.draw(new Line2D.Double(map.area().getX(), map.y(0), map.area().getMaxX(), map.y(0)));
        double x = map.x(-1);
        double y = map.y(0);
        g.setStroke(Look.line(0));
        g.draw(new Line2D.Double(x - 6, y - 6, x + 6, y + 6));
        g.draw(new Line2D.Double(x - 6, y + 6, x + 6, y - 6));
        Text.patched(g, Look.SMALL, Look.MARK, "-1", x - 24, y - 8);
    }

    private void drawMargins(Graphics2D g, Mapping map) {
        Margins found = response.margins();
        found.leastCrossover()
                .ifPresent(least -> mark(
                        g,
                        map,
                        least.frequency(),
                        "phase margin " + BodeDrawing.rounded(least.phaseMargin()) + " degrees at "
                                + Quantity.format(least.frequency(), Unit.HERTZ, 4)));
        for (Margins.Bound bound : List.of(found.gain(), found.gainReduction())) {
            bound.frequency().ifPresent(at -> mark(g, map, at, BodeDrawing.label(found, bound)));
        }
    }

    private void mark(Graphics2D g, Mapping map, double at, String label) {
        Complex value = response.at(at);
        double x = map.x(value.real());
        double y = map.y(value.imaginary());
        g.setPaint(Look.MARK);
        g.fill(new Ellipse2D.Double(x - DOT, y - DOT, 2 * DOT, 2 * DOT));
        double room = map.area().getMaxX() - Text.width(g, Look.SMALL, label) - 8;
        double left = Math.max(map.area().getX() + 8, Math.min(x + 10, room));
        Text.patched(g, Look.SMALL, Look.MARK, label, left, value.imaginary() < 0 ? y + 18 : y - 8);
    }
}
