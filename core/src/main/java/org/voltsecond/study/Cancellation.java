package org.voltsecond.study;

/**
 * A switch that ends a study early. It may be thrown from any thread, and stays thrown.
 *
 * <pre>{@code
 * Cancellation stopButton = new Cancellation(); // another thread may call its cancel()
 * Execution execution = Execution.standard().withCancellation(stopButton);
 * Sweep sweep = Sweep.of(rail, Axis.inputVoltage(9, 15, 7), Figures.usual(), execution);
 * boolean stopped = stopButton.isCancelled(); // false
 * }</pre>
 */
public final class Cancellation {
    private volatile boolean cancelled;

    /** Creates a switch that is not thrown. */
    public Cancellation() {}

    /** Ends every study that was given this switch; the designs in hand are left where they are. */
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
