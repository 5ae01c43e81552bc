package org.voltsecond.plot.viewer;

/**
 * The value of a trace at a cursor. Where the trace jumps it has two.
 *
 * <pre>{@code
 * CursorValue node = new CursorValue(11.8, -0.4, true); // V: the cursor stands on a falling edge
 * boolean exists = node.exists(); // true
 * }</pre>
 *
 * @param before the value just before, in the unit of the trace; NaN where the trace has no value
 * @param after the value just after
 * @param jumps whether they differ by more than rounding
 */
public record CursorValue(double before, double after, boolean jumps) {
    static final CursorValue NONE = new CursorValue(Double.NaN, Double.NaN, false);

    /**
     * Tells whether the trace has a value there.
     *
     * @return false where the trace has not begun or has ended
     */
    public boolean exists() {
        return !Double.isNaN(after);
    }
}
