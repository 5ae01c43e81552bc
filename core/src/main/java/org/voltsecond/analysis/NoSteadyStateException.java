package org.voltsecond.analysis;

/** There is no periodic steady state, or none was found: the message says why and what to try. */
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
