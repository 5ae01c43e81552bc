package org.voltsecond.sizing;

import org.voltsecond.units.Quantity;

/**
 * How far one figure at one corner is from its limit.
 *
 * <pre>{@code
 * CornerMargin ripple = proposal.check().binding(Criterion.OUTPUT_RIPPLE).orElseThrow();
 * double value = ripple.value(); // 31.2 mV
 * double allowed = ripple.allowed(); // 50 mV
 * double left = ripple.margin(); // 37.5 %
 * }</pre>
 *
 * @param corner where
 * @param limit which limit
 * @param value the simulated figure, in the unit of the limit
 * @param allowed the value of the limit, in the same unit
 */
public record CornerMargin(Corner corner, Criterion limit, double value, double allowed) {
    private static final int DIGITS = 4;

    /**
     * Returns what is left up to the limit, as a fraction of the limit.
     *
     * @return the margin; less than 0 if the limit is not met
     */
    public double margin() {
        return (limit.isLeast() ? value - allowed : allowed - value) / allowed;
    }

    /**
     * Returns whether the limit is met.
     *
     * @return true if the margin is 0 or more
     */
    public boolean isMet() {
        return margin() >= 0;
    }

    @Override
    public String toString() {
        return limit.label() + " " + Quantity.format(value, limit.unit(), DIGITS) + " of "
                + (limit.isLeast() ? "at least " : "at most ") + Quantity.format(allowed, limit.unit(), DIGITS) + " at "
                + corner;
    }
}
