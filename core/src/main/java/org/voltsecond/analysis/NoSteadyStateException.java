package org.voltsecond.analysis;

/**
 * There is no periodic steady state, or none was found: the message says why and what to try.
 *
 * <pre>{@code
 * try {
 *     DutyCycleSearch.forOutput(rail.withInput(4.5), 5); // a buck stage cannot step up
 * } catch (NoSteadyStateException none) {
 *     String why = none.getMessage(); // "no duty cycle gives 5 V: the output reaches ..."
 *     NoSteadyStateException.Reason reason = none.reason(); // OUT_OF_REACH
 * }
 * }</pre>
 */
public final class NoSteadyStateException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** Why there is no steady state, for a program; the message tells a reader more. */
    public enum Reason {
        /** In every period the state moves on by the same amount: something is fed and never drained. */
        DRIFTS,
        /** The state grows from period to period. */
        GROWS,
        /** The circuit settles, but comes back to the same state only after more periods than were asked for. */
        REPEATS_LATER,
        /** The circuit comes back to the same state after fewer periods than were asked for already. */
        REPEATS_SOONER,
        /** The regulator leaves pulses out, and the states of the periods do not repeat. */
        SKIPS_PULSES,
        /** No pulse is long or short enough for what the regulator aims at, and nothing holds its control voltage. */
        AT_LIMIT,
        /** The current limit ends pulse after pulse, and the regulator pauses and starts anew again and again. */
        HICCUPS,
        /** The circuit neither settles nor grows, as in chaos; small differences do not die away. */
        WANDERS,
        /** Small differences die away, but the circuit settles too slowly, or comes back only after very many periods. */
        TAKES_LONG,
        /** The search was given up after a number of steps of simulation that no ordinary circuit needs. */
        EFFORT_IS_SPENT,
        /** A run on the way could not go on, or no new cycle began. */
        STOPS,
        /** What drives the circuit does not repeat after a number of switching periods, or not after one that can be searched. */
        NO_COMMON_PERIOD,
        /** No steady state has the figure that was asked for. */
        OUT_OF_REACH,
        /** The steady state is one of many: nothing brings a disturbed state back, so that it has no derivative. */
        NOT_ISOLATED
    }

    /** Why. */
    private final Reason reason;

    /** After how many of the periods that were asked for the circuit comes back; 0 if that is not why. */
    private final int returnsAfter;

    /**
     * Creates the exception.
     *
     * @param reason why, for a program
     * @param message why, with the numbers of the last attempt, and what to try
     */
    public NoSteadyStateException(Reason reason, String message) {
        this(reason, 0, message);
    }

    NoSteadyStateException(Reason reason, int returnsAfter, String message) {
        super(message);
        this.reason = reason;
        this.returnsAfter = returnsAfter;
    }

    /**
     * Creates the exception for a run that could not go on.
     *
     * @param message why, and what to try
     * @param cause what stopped the run
     */
    public NoSteadyStateException(String message, Throwable cause) {
        super(message, cause);
        reason = Reason.STOPS;
        returnsAfter = 0;
    }

    /**
     * Returns after how many times the period that was asked for the circuit comes back to the same state.
     *
     * @return the number, more than 1; 0 if the reason is not {@link Reason#REPEATS_LATER}
     */
    public int returnsAfter() {
        return returnsAfter;
    }

    /**
     * Returns why there is no steady state.
     *
     * @return the reason
     */
    public Reason reason() {
        return reason;
    }
}
