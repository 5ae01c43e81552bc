package org.voltsecond.plot;

import java.util.List;
import org.voltsecond.plot.Limits.Limit;
import org.voltsecond.plot.Trace.Shown;

/**
 * The values that a panel shows.
 *
 * @param low at the bottom
 * @param high at the top
 */
record ValueRange(double low, double high) {
    private static final double MARGIN = 0.08;

    /** A range that shows all of the given values with some room around them. */
    static ValueRange around(double lowest, double highest) {
        double size = Math.max(Math.abs(lowest), Math.abs(highest));
        double span = highest - lowest;
        if (!(span > 1e-9 * size)) {
            span = size > 0 ? 0.2 * size : 2;
        }
        return new ValueRange(lowest - MARGIN * span, highest + MARGIN * span);
    }

    static ValueRange of(Panel panel, List<Shown> traces, int columns) {
        ValueRange asked = panel.range();
        if (asked != null) {
            return asked;
        }
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (Shown trace : traces) {
            ValueRange extremes = trace.extremes(columns);
            low = Math.min(low, extremes.low);
            high = Math.max(high, extremes.high);
        }
        for (Limit limit : panel.limits()) {
            low = Math.min(low, limit.value());
            high = Math.max(high, limit.value());
        }
        return around(low, high);
    }

    double largest() {
        return Math.max(Math.abs(low), Math.abs(high));
    }
}
