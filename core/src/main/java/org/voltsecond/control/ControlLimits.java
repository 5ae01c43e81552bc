package org.voltsecond.control;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Between which values a control voltage is held, and where they come from. A real amplifier cannot leave its supply, so a
 * regulator without limits of its own takes those within which its modulator can make something of the control voltage; the
 * integrator stops at them. Limits that do not bind change nothing. Immutable.
 *
 * <pre>{@code
 * ControlLimits limits = regulated.controlLimits();
 * double high = limits.high(); // 1 V, the peak of the ramp
 * boolean taken = limits.isTaken(); // true: none were given
 * String why = limits.origin().toString(); // "the swing of the ramp"
 * }</pre>
 *
 * @param low lower limit, V (of digital control a duty cycle); minus infinity for none
 * @param high upper limit, V (of digital control a duty cycle); infinity for none
 * @param origin where they come from
 */
public record ControlLimits(double low, double high, Origin origin) {
    /** Where limits of a control voltage come from. */
    public enum Origin {
        /** They were asked for. */
        GIVEN("as given"),
        /** Voltage mode: from the valley of the ramp to its peak, beyond which the pulses do not change. */
        RAMP("the swing of the ramp"),
        /** Current mode: from zero to the current limit, with room for the compensating slope. */
        CURRENT_LIMIT("zero to the current limit"),
        /** Current mode: from zero to twice the command at full load, with room for the compensating slope. */
        FULL_LOAD("zero to twice the command at full load"),
        /** Current mode in a circuit whose full load is not known: no upper limit can be taken. */
        UNKNOWN_LOAD("zero on; the full load is not known, so there is no upper limit"),
        /** Digital control: from zero to the maximum duty cycle, to which each result is limited. */
        DUTY_CYCLE("zero to the maximum duty cycle"),
        /** The circuit's own amplifier has them. */
        AMPLIFIER("those of the amplifier"),
        /** There is nothing to hold: the command is given, or a comparator looks at the output itself. */
        NONE("none, since nothing can wind up");

        private final String words;

        Origin(String words) {
            this.words = words;
        }

        @Override
        public String toString() {
            return words;
        }
    }

    /** No limits. */
    static ControlLimits none(Origin origin) {
        return new ControlLimits(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, origin);
    }

    ControlLimits with(double newLow, double newHigh) {
        return new ControlLimits(newLow, newHigh, origin);
    }

    /**
     * Returns whether the limits were taken since none were given.
     *
     * @return true unless they were asked for, are those of the circuit's amplifier, or there are none to take
     */
    public boolean isTaken() {
        return switch (origin) {
            case RAMP, CURRENT_LIMIT, FULL_LOAD, UNKNOWN_LOAD, DUTY_CYCLE -> true;
            case GIVEN, AMPLIFIER, NONE -> false;
        };
    }

    @Override
    public String toString() {
        Unit unit = origin == Origin.DUTY_CYCLE ? Unit.ONE : Unit.VOLT;
        return Quantity.brief(low, unit) + " to " + Quantity.brief(high, unit) + " (" + origin + ")";
    }
}
