package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import org.jfree.chart.axis.AxisState;
import org.jfree.chart.axis.LogAxis;
import org.jfree.chart.axis.NumberTick;
import org.jfree.chart.axis.TickType;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.chart.ui.TextAnchor;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** A logarithmic axis with a label at every decade, and at 2 and 5 between them where there is room. */
final class DecadeAxis extends LogAxis {
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
