package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.math.BigDecimal;
import java.math.RoundingMode;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.RectangleInsets;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Axes in our look, with prefixed units and fixed room, so that panels line up and nothing is cut. */
final class Axes {
    /** Room for the numbers left of a panel. */
    static final int LEFT = 74;

    /** Room right of a panel: half the width of the last number below it. */
    static final int RIGHT = 30;

    static final int BELOW = 48;

    /** A window this much shorter than the time of its start is labelled from its start on. */
    private static final double FAR = 200;

    private Axes() {}

    static NumberAxis time(double from, double to) {
        boolean far = Math.abs(from) > FAR * (to - from);
        double origin = far ? roundedDown(from, to - from) : 0;
        Scale scale = Scale.of(Unit.SECOND, Math.max(Math.abs(from - origin), Math.abs(to - origin)));
        String since = far ? " since " + Quantity.format(origin, Unit.SECOND) : "";
        NumberAxis axis = axis(scale.in(from - origin), scale.in(to - origin));
        axis.setLabel("Time" + since + " (" + scale.symbol() + ")");
        axis.setFixedDimension(BELOW);
        axis.setTickLabelInsets(new RectangleInsets(3, 10, 3, 10));
        return axis;
    }

    /** The time with no more decimals than a window of the given length needs, so that it can be stated exactly. */
    private static double roundedDown(double time, double length) {
        int exponent = (int) Math.floor(Math.log10(length));
        BigDecimal steps = new BigDecimal(time).scaleByPowerOfTen(-exponent).setScale(0, RoundingMode.FLOOR);
        return steps.scaleByPowerOfTen(exponent).doubleValue();
    }

    static NumberAxis value(ValueRange range, Unit unit) {
        Scale scale = Scale.of(unit, range.largest());
        NumberAxis axis = axis(scale.in(range.low()), scale.in(range.high()));
        axis.setFixedDimension(LEFT);
        return axis;
    }

    static NumberAxis axis(double low, double high) {
        NumberAxis axis = new NumberAxis(null);
        axis.setAutoRangeIncludesZero(false);
        axis.setRange(low, high);
        axis.setStandardTickUnits(new Ticks());
        style(axis);
        return axis;
    }

    /** Draws the lines left of and below a panel again, over what is drawn in it. */
    static void frame(Graphics2D g, Rectangle2D area) {
        g.setPaint(Look.FAINT_INK);
        g.setStroke(Look.HAIR);
        g.draw(new Line2D.Double(area.getX(), area.getY(), area.getX(), area.getMaxY()));
        g.draw(new Line2D.Double(area.getX(), area.getMaxY(), area.getMaxX(), area.getMaxY()));
    }

    static void style(ValueAxis axis) {
        axis.setTickLabelFont(Look.SMALL);
        axis.setTickLabelPaint(Look.INK);
        axis.setLabelFont(Look.LABEL);
        axis.setLabelPaint(Look.INK);
        axis.setAxisLinePaint(Look.FAINT_INK);
        axis.setTickMarkPaint(Look.FAINT_INK);
        axis.setTickLabelInsets(new RectangleInsets(3, 5, 3, 5));
    }

    static XYPlot plain(NumberAxis valueAxis) {
        XYPlot plot = new XYPlot(null, null, valueAxis, new XYLineAndShapeRenderer());
        style(plot);
        return plot;
    }

    static void style(XYPlot plot) {
        plot.setBackgroundPaint(null);
        plot.setOutlineVisible(false);
        plot.setDomainGridlinePaint(Look.GRID);
        plot.setRangeGridlinePaint(Look.GRID);
        plot.setDomainGridlineStroke(Look.HAIR);
        plot.setRangeGridlineStroke(Look.HAIR);
        plot.setAxisOffset(new RectangleInsets(0, 0, 0, 0));
        plot.setInsets(new RectangleInsets(0, 0, 0, 0));
    }
}
