package org.voltsecond.engine;

import java.util.Arrays;

/**
 * Why an interval ended. Several causes at one instant are handed over one after the other in the order of the kinds
 * as they are listed here, guards in the order in which their configuration lists them.
 *
 * <pre>{@code
 * Interval on = steady.periodic().trajectory().interval(0);
 * Cause.Kind kind = on.cause().kind(); // END
 * Cause currentZero = Cause.guard(0); // the first guard of the configuration fell through zero
 * }</pre>
 *
 * @param kind what happened
 * @param index which scheduled change or which guard; 0 for the end of a phase
 */
public record Cause(Kind kind, int index) {
    /** The kinds of causes, in the order in which simultaneous ones are handed over. */
    public enum Kind {
        /** A change that was scheduled in advance. */
        CHANGE,
        /** The phase reached its timed end. */
        END,
        /** A guard of the configuration fell through zero. */
        GUARD
    }

    /** The phase reached its timed end. */
    public static final Cause END = new Cause(Kind.END, 0);

    /** Those of the first guards, which come again and again. */
    private static final Cause[] GUARDS = new Cause[64];

    static {
        Arrays.setAll(GUARDS, index -> new Cause(Kind.GUARD, index));
    }

    /**
     * Returns the cause that a guard fell through zero.
     *
     * @param index position in {@link Configuration#guards()}
     * @return the cause
     */
    public static Cause guard(int index) {
        return index >= 0 && index < GUARDS.length ? GUARDS[index] : new Cause(Kind.GUARD, index);
    }

    /**
     * Returns the cause that a scheduled change is due.
     *
     * @param index position in {@link SwitchingLaw#changes()}
     * @return the cause
     */
    public static Cause change(int index) {
        return new Cause(Kind.CHANGE, index);
    }
}
