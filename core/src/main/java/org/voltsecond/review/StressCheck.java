package org.voltsecond.review;

import org.voltsecond.figures.LimitCheck;
import org.voltsecond.units.Quantity;

/**
 * Whether a part is used within its rating, at the worst of all that it was looked at in. Immutable.
 *
 * <pre>{@code
 * Rating rating = Rating.of("rectifier", Rating.Measure.VOLTAGE, 10, "D1"); // V, too little behind 12 V
 * StressCheck check = rating.check(Occasions.of(steady));
 * String verdict = check.verdict(); // "not met, by 1.858 V (18.6 %)"
 * }</pre>
 *
 * @param rating the rating
 * @param part which of its parts is the worst
 * @param check the value there, held against what is allowed
 */
public record StressCheck(Rating rating, String part, LimitCheck check) {
    private static final int DIGITS = 4;

    /** {@return whether the value is at most what is allowed} */
    public boolean isMet() {
        return check.isMet();
    }

    /** {@return in words where the worst value is; empty where nothing could be looked at} */
    public String where() {
        return check.where();
    }

    /** {@return for example "met, 12.1 V (40.4 %) to spare" or "not met, by 2.1 A (35.0 %)"} */
    public String verdict() {
        return check.verdict();
    }

    /** {@return the share of what is allowed that is left; negative where it is not met, not a number where nothing is known} */
    public double spare() {
        return check.margin().orElse(Double.NaN) / rating.allowed();
    }

    /**
     * Tells what is wrong or tight in one line.
     *
     * @return for example "transistor voltage of Q1 26.50 V (corner 15 V, 2 A), 30.00 V rated, 24.00 V allowed: not met, by ..."
     */
    public String line() {
        String rated = Quantity.format(rating.value(), rating.unit(), DIGITS) + " rated";
        String allowed = rating.derating() < 1
                ? ", " + Quantity.format(rating.allowed(), rating.unit(), DIGITS) + " allowed"
                : "";
        String found = check.isKnown() ? " " + check.found() + " (" + check.where() + ")" : "";
        String of = part.equals(rating.name()) ? "" : " of " + part;
        return rating + of + found + ", " + rated + allowed + ": " + verdict();
    }

    @Override
    public String toString() {
        return line();
    }
}
