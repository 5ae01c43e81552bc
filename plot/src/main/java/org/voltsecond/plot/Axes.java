package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.text.DecimalFormat;
import java.text.DecimalFormatSymbols;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jfree.chart.axis.AxisState;
import org.jfree.chart.axis.LogAxis;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.NumberTick;
import org.jfree.chart.axis.NumberTickUnit;
import org.jfree.chart.axis.TickType;
import org.jfree.chart.axis.TickUnit;
import org.jfree.chart.axis.TickUnitSource;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.chart.ui.TextAnchor;
import org.voltsecond.units.Prefix;
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

    /**
     * From time and value to the plane.
     *
     * @param area where the panel is drawn
     * @param from time at its left border, s
     * @param to time at its right border, s
     * @param low value at its bottom
     * @param high value at its top
     */
    record Mapping(Rectangle2D area, double from, double to, double low, double high) {
        double x(double time) {
            return area.getX() + (time - from) / (to - from) * area.getWidth();
        }

        double y(double value) {
            return area.getMaxY() - (value - low) / (high - low) * area.getHeight();
        }
    }

    /**
     * The unit with prefix in which an axis is drawn, so that its numbers stay short.
     *
     * @param unit the unit without prefix
     * @param prefix its prefix
     */
    record Scale(Unit unit, Prefix prefix) {
        static Scale of(Unit unit, double largest) {
            return new Scale(unit, unit.takesPrefix() ? Prefix.of(largest) : Prefix.NONE);
        }

        double in(double value) {
            return prefix.in(value);
        }

        /** For example "µs"; empty for a plain number. */
        String symbol() {
            return prefix.symbol() + unit.symbol();
        }
    }

    /** A logarithmic axis with a label at every decade, and at 2 and 5 between them where there is room. */
    static final class DecadeAxis extends LogAxis {
        private static final long serialVersionUID = 1L;
        private static final double LABEL_ROOM = 62;
        private static final double LABEL_HEIGHT = 18;

        private final Unit unit;

        DecadeAxis(String label, Unit unit, double low, double high) {
            super(label);
            this.unit = unit;
            setRange(low, high);
            Axes.style(this);
            setFixedDimension(Axes.BELOW);
        }

        @Override
        public List<NumberTick> refreshTicks(Graphics2D g, AxisState state, Rectangle2D area, RectangleEdge edge) {
            double low = getRange().getLowerBound();
            double high = getRange().getUpperBound();
            boolean upright = RectangleEdge.isLeftOrRight(edge);
            double decade = (upright ? area.getHeight() : area.getWidth()) / (Math.log10(high) - Math.log10(low));
            // the narrowest step of 1, 2, 5 is from 1 to 2, a third of a decade
            boolean all = decade * Math.log10(2) > (upright ? LABEL_HEIGHT : LABEL_ROOM);
            List<NumberTick> ticks = new ArrayList<>();
            for (int exponent = (int) Math.floor(Math.log10(low)); exponent <= Math.log10(high); exponent++) {
                for (int digit = 1; digit <= 9; digit++) {
                    double value = Double.parseDouble(digit + "e" + exponent);
                    boolean labelled = digit == 1 || (all && (digit == 2 || digit == 5));
                    if (value >= low * (1 - 1e-12) && value <= high * (1 + 1e-12)) {
                        ticks.add(tick(value, labelled, upright));
                    }
                }
            }
            return ticks;
        }

        private NumberTick tick(double value, boolean labelled, boolean upright) {
            String text = labelled ? Quantity.format(value, unit) : "";
            TickType type = labelled ? TickType.MAJOR : TickType.MINOR;
            TextAnchor anchor = upright ? TextAnchor.CENTER_RIGHT : TextAnchor.TOP_CENTER;
            return new NumberTick(type, value, text, anchor, TextAnchor.CENTER, 0);
        }
    }

    /** Ticks at 1, 2 and 5 times powers of ten, written with just the decimals that they need, in any country alike. */
    static final class Ticks implements TickUnitSource {
        private static final double ROUNDING = 1e-9;

        @Override
        public TickUnit getLargerTickUnit(TickUnit unit) {
            return getCeilingTickUnit(unit.getSize() * (1 + 1e-6));
        }

        @Override
        public TickUnit getCeilingTickUnit(TickUnit unit) {
            return getCeilingTickUnit(unit.getSize());
        }

        @Override
        public TickUnit getCeilingTickUnit(double size) {
            int exponent = (int) Math.floor(Math.log10(size) + ROUNDING);
            double mantissa = size / Math.pow(10, exponent);
            double step =
                    mantissa <= 1 + ROUNDING ? 1 : mantissa <= 2 + ROUNDING ? 2 : mantissa <= 5 + ROUNDING ? 5 : 10;
            int decimals = Math.max(0, step == 10 ? -exponent - 1 : -exponent);
            return new Tick(step * Math.pow(10, exponent), decimals);
        }

        private static final class Tick extends NumberTickUnit {
            private static final long serialVersionUID = 1L;

            Tick(double size, int decimals) {
                super(size, format(decimals), 0);
            }

            private static DecimalFormat format(int decimals) {
                String pattern = decimals == 0 ? "0" : "0." + "0".repeat(decimals);
                return new DecimalFormat(pattern, DecimalFormatSymbols.getInstance(Locale.ROOT));
            }

            @Override
            public String valueToString(double value) {
                // a tick that rounding has put just below zero is not "-0"
                return super.valueToString(Math.abs(value) < ROUNDING * getSize() ? 0 : value);
            }
        }

        @Override
        public boolean equals(Object other) {
            return other instanceof Ticks;
        }

        @Override
        public int hashCode() {
            return Ticks.class.hashCode();
        }
    }
}
