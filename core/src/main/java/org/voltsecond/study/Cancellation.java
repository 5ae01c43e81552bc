package org.voltsecond.study;

/** A switch that ends a study early. It may be thrown from any thread, and stays thrown. */
public final class Cancellation {
    private volatile boolean cancelled;

    /** Creates a switch that is not thrown. */
    public Cancellation() {}

    /** Ends every study that was given this switch, as soon as the designs in hand are done. */
    public void cancel() {
        cancelled = true;
    }

    /**
     * Tells whether the switch is thrown.
     *
     * @return true once {@link #cancel()} was called
     */
    public boolean isCancelled() {
        return cancelled;
    }
}
