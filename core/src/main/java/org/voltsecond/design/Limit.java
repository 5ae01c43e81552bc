package org.voltsecond.design;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.design.Kind.Range;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What a design may be held to. Voltages of the output are magnitudes.
 *
 * <pre>{@code
 * double most = design.limits().get(Limit.OUTPUT_RIPPLE); // 50 mV
 * boolean least = Limit.OUTPUT_RIPPLE.isLeast(); // false
 * }</pre>
 */
public enum Limit {
    /** The peak-to-peak output ripple in the steady state, at most. */
    OUTPUT_RIPPLE("output_ripple", false, Unit.VOLT, Range.POSITIVE, "\"50 mV\""),
    /** The lowest output voltage in the steady state, ripple included, at least. */
    LOWEST_OUTPUT_VOLTAGE("lowest_output_voltage", true, Unit.VOLT, Range.POSITIVE, "\"4.9 V\""),
    /** The highest output voltage in steady state and transient, at most. */
    HIGHEST_OUTPUT_VOLTAGE("highest_output_voltage", false, Unit.VOLT, Range.POSITIVE, "\"5.25 V\""),
    /** The peak inductor current in steady state and transient, at most. */
    PEAK_INDUCTOR_CURRENT("peak_inductor_current", false, Unit.AMPERE, Range.POSITIVE, "\"4 A\""),
    /** The peak voltage across the transistor in steady state and transient, at most. */
    TRANSISTOR_VOLTAGE("transistor_voltage", false, Unit.VOLT, Range.POSITIVE, "\"30 V\""),
    /** The peak voltage across the rectifier in steady state and transient, at most. */
    RECTIFIER_VOLTAGE("rectifier_voltage", false, Unit.VOLT, Range.POSITIVE, "\"30 V\""),
    /** The droop after a change, at most. */
    DROOP("droop", false, Unit.VOLT, Range.POSITIVE, "\"0.2 V\""),
    /** The overshoot at the start and after a change, at most. */
    OVERSHOOT("overshoot", false, Unit.VOLT, Range.POSITIVE, "\"0.2 V\""),
    /** The settling time after the start and after a change, at most. */
    SETTLING_TIME("settling_time", false, Unit.SECOND, Range.POSITIVE, "\"500 µs\""),
    /** The efficiency in the steady state, at least. */
    EFFICIENCY("efficiency", true, Unit.ONE, Range.SHARE, "0.9");

    private final String key;
    private final boolean least;
    private final Unit unit;
    private final Range range;
    private final String example;

    Limit(String key, boolean least, Unit unit, Range range, String example) {
        this.key = key;
        this.least = least;
        this.unit = unit;
        this.range = range;
        this.example = example;
    }

    /**
     * Returns the key of the design file.
     *
     * @return for instance "output_ripple"
     */
    public String key() {
        return key;
    }

    /**
     * Returns which side of the limit is the right one.
     *
     * @return true if the value must be at least the limit, false if at most
     */
    public boolean isLeast() {
        return least;
    }

    /**
     * Returns the unit.
     *
     * @return the unit of limit and value
     */
    public Unit unit() {
        return unit;
    }

    /** Its line of the table of keys. */
    Key described() {
        return new Key(
                key,
                List.of(),
                unit == Unit.ONE ? "number" : unit.symbol(),
                range.words(),
                "not checked",
                example,
                "The " + this + ", at " + (least ? "least." : "most."));
    }

    /**
     * Returns the name in words.
     *
     * @return for instance "output ripple"
     */
    @Override
    public String toString() {
        return key.replace('_', ' ');
    }

    /** Reads the table [limits]. */
    static final class Reader {
        private Reader() {}

        /** Empty if there is no such table. */
        static Map<Limit, Double> read(Section root) {
            Map<Limit, Double> limits = new EnumMap<>(Limit.class);
            Section section = root.table("limits");
            if (section == null) {
                return limits;
            }
            for (Limit limit : Limit.values()) {
                double value = section.quantity(limit.key());
                if (Double.isFinite(value)) {
                    limits.put(limit, value);
                }
            }
            double lowest = limits.getOrDefault(Limit.LOWEST_OUTPUT_VOLTAGE, 0.0);
            double highest = limits.getOrDefault(Limit.HIGHEST_OUTPUT_VOLTAGE, Double.POSITIVE_INFINITY);
            if (lowest >= highest) {
                section.fault(
                        Limit.LOWEST_OUTPUT_VOLTAGE.key(),
                        "must be below highest_output_voltage, but " + Quantity.brief(lowest, Unit.VOLT) + " and "
                                + Quantity.brief(highest, Unit.VOLT) + " are given; valid: more than 0 V and below "
                                + Quantity.brief(highest, Unit.VOLT));
            }
            section.finish();
            return limits;
        }
    }
}
