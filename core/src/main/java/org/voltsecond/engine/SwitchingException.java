package org.voltsecond.engine;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A run cannot go on: what happened, where, and what to try. The run adds the time to the message.
 *
 * <pre>{@code
 * DrivenCircuit chattering = stage.outputCapacitor(micro(47), milli(5))
 *         .drive(Hysteretic.voltageBand(kilo(300), 1, 0.2, 0)) // a band of nothing, and no delay
 *         .driven();
 * try {
 *     Transient.fromRest(chattering, milli(1));
 * } catch (SwitchingException stopped) {
 *     double when = stopped.time(); // 205 µs
 *     String why = stopped.getMessage(); // "at 205.2..."
 * }
 * }</pre>
 */
public class SwitchingException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** When the fault occurred, s since the start of the run; NaN if that is not known. */
    private final double time;

    /**
     * Creates an exception whose time is not yet known; the run that catches it adds the time.
     *
     * @param message what happened, which parts take part, and what to try
     */
    public SwitchingException(String message) {
        super(message);
        this.time = Double.NaN;
    }

    private SwitchingException(String message, double time, Throwable cause) {
        super(message, cause);
        this.time = time;
    }

    /**
     * Returns the same fault with its time.
     *
     * @param seconds time since the start, s
     * @return the exception to throw
     */
    public SwitchingException at(double seconds) {
        return Double.isNaN(time)
                ? new SwitchingException(
                        "at " + Quantity.brief(seconds, Unit.SECOND) + ": " + getMessage(), seconds, this)
                : this;
    }

    /**
     * Returns when the fault occurred.
     *
     * @return time since the start, s; NaN if it is not known
     */
    public double time() {
        return time;
    }
}
