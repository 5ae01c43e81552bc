package org.voltsecond.figures;

import java.util.Locale;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * Whether a converter keeps to one of its limits. Immutable.
 *
 * <pre>{@code
 * LimitCheck check = LimitChecks.of(rail).check(Limit.OUTPUT_RIPPLE, milli(5));
 * boolean met = check.isMet(); // true
 * String where = check.where(); // "steady state"
 * }</pre>
 *
 * @param limit which limit or rating
 * @param bound the limit as it is stated, in its unit
 * @param value the worst value found; none where nothing could be looked at, or the output never settles
 * @param where where that is, in words; empty where nothing could be looked at
 */
public record LimitCheck(Restriction limit, double bound, Result<Double> value, String where) {
    private static final int DIGITS = 4;

    /**
     * Tells whether anything could be held against the limit.
     *
     * @return true if so
     */
    public boolean isKnown() {
        return !where.isEmpty();
    }

    /**
     * Tells whether the limit is met.
     *
     * @return true if the value is on the right side of the limit, or just on it
     */
    public boolean isMet() {
        return value.exists() && margin().get() >= 0;
    }

    /**
     * Returns how far the value is on the right side of the limit.
     *
     * @return the distance, in the unit of the limit; negative on the wrong side
     */
    public Result<Double> margin() {
        return value.map(found -> limit.isLeast() ? found - bound : bound - found);
    }

    /**
     * Tells the value.
     *
     * @return for example "4.403 mV", "never", "none" or "unknown"
     */
    public String found() {
        return value.exists()
                ? text(value.get())
                : !isKnown() ? "unknown" : limit.unit() == Unit.SECOND ? "never" : "none";
    }

    /**
     * Tells what is allowed.
     *
     * @return for example "5.000 mV at most"
     */
    public String stated() {
        return text(bound) + (limit.isLeast() ? " at least" : " at most");
    }

    /**
     * Tells whether the limit is met, and by how much.
     *
     * @return for example "met, 597.0 µV (11.9 %) to spare"
     */
    public String verdict() {
        if (!isKnown()) {
            return "not checked: " + value.reason();
        }
        if (!value.exists()) {
            return "not met: " + value.reason();
        }
        double margin = margin().get();
        // of a logarithm or a temperature a share means nothing, and the difference of temperatures is one in kelvin
        String share = limit.unit() == Unit.DECIBEL || limit.unit() == Unit.CELSIUS
                ? ""
                : String.format(Locale.ROOT, " (%.1f %%)", 100 * Math.abs(margin) / bound);
        String distance = limit.unit() == Unit.CELSIUS
                ? Told.quantity(Math.abs(margin), Unit.KELVIN, DIGITS)
                : text(Math.abs(margin)) + share;
        return isMet() ? "met, " + distance + " to spare" : "not met, by " + distance;
    }

    private String text(double quantity) {
        return limit.unit() == Unit.ONE
                ? String.format(Locale.ROOT, "%.2f %%", 100 * quantity)
                : Told.quantity(quantity, limit.unit(), DIGITS);
    }

    /**
     * Returns the check in words.
     *
     * @return for example "output ripple 4.403 mV in the steady state, 5.000 mV at most: met, ..."
     */
    @Override
    public String toString() {
        String place = isKnown() ? found() + " (" + where + "), " : "";
        return limit + " " + place + stated() + ": " + verdict();
    }
}
