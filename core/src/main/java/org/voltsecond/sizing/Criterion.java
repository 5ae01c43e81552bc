package org.voltsecond.sizing;

import org.voltsecond.units.Unit;

/**
 * What a proposal can be held against at a corner.
 *
 * <pre>{@code
 * for (Criterion limit : Criterion.values()) {
 *     System.out.println(limit.label() + (limit.isLeast() ? " at least" : " at most"));
 * }
 * }</pre>
 */
public enum Criterion {
    /** Ripple of the inductor current, peak to peak, A; at most. */
    INDUCTOR_RIPPLE("inductor ripple", Unit.AMPERE, false),
    /** Ripple of the output voltage, peak to peak, V; at most. */
    OUTPUT_RIPPLE("output ripple", Unit.VOLT, false),
    /** Duty cycle; at most. */
    DUTY_CYCLE("duty cycle", Unit.ONE, false),
    /** On time, s; at least. */
    ON_TIME("on time", Unit.SECOND, true),
    /** Duty cycle at full load; at least. */
    LEAST_DUTY_CYCLE("smallest duty cycle", Unit.ONE, true),
    /** Off time of the transistor, s; at least. */
    OFF_TIME("off time", Unit.SECOND, true),
    /** Highest inductor current, A; at most, for instance where the core saturates. */
    INDUCTOR_PEAK("inductor peak", Unit.AMPERE, false);

    private final String label;
    private final Unit unit;
    private final boolean least;

    Criterion(String label, Unit unit, boolean least) {
        this.label = label;
        this.unit = unit;
        this.least = least;
    }

    /** {@return the name for a table} */
    public String label() {
        return label;
    }

    /** {@return the unit of its values} */
    public Unit unit() {
        return unit;
    }

    /** {@return true if values must be at least the limit, false if at most} */
    public boolean isLeast() {
        return least;
    }
}
