package org.voltsecond.analysis;

/**
 * There is no periodic steady state, or none was found: the message says why and what to try.
 *
 * <pre>{@code
 * try {
 *     DutyCycleSearch.forOutput(rail.withInput(4.5), 5); // a buck stage cannot step up
 * } catch (NoSteadyStateException none) {
 *     String why = none.getMessage(); // "no duty cycle gives 5.0 V: the output reaches ..."
 * }
 * }</pre>
 */
public final class NoSteadyStateException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /**
     * Creates the exception.
     *
     * @param message why, with the numbers of the last attempt, and what to try
     */
    public NoSteadyStateException(String message) {
        super(message);
    }

    /**
     * Creates the exception for a run that could not go on.
     *
     * @param message why, and what to try
     * @param cause what stopped the run
     */
    public NoSteadyStateException(String message, Throwable cause) {
        super(message, cause);
    }
}
