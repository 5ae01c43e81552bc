package org.voltsecond.engine;

import org.jspecify.annotations.Nullable;

/**
 * What a run knows of the interval that has just ended. A view onto the run: valid only during the call.
 *
 * <pre>{@code
 * double[] state = new double[2];
 * double[] peak = {0};
 * Simulation.of(rail.driven().law()).stream(rail.driven().restState(), milli(1), interval -> {
 *     interval.copyEndState(state); // the view itself is not to be kept
 *     peak[0] = Math.max(peak[0], state[0]);
 * });
 * double inrush = peak[0]; // 7.540 A
 * }</pre>
 */
public interface IntervalView {
    /**
     * Returns the phase that lasted for this interval.
     *
     * @return the phase
     */
    Phase phase();

    /**
     * Returns the clock edge before the start of the interval.
     *
     * @return the number of clock periods since the start of the run
     */
    long tick();

    /**
     * Returns when the interval started.
     *
     * @return time since the clock edge {@link #tick()}, s
     */
    double sinceTick();

    /**
     * Returns how long the interval lasted.
     *
     * @return the duration, s
     */
    double duration();

    /**
     * Returns how the state jumped into the interval.
     *
     * @return the jump; null if it did not
     */
    @Nullable
    AffineMap jump();

    /**
     * Returns why the interval ended.
     *
     * @return the cause; null if the run ended with it
     */
    @Nullable
    Cause cause();

    /**
     * Copies the state just after the start.
     *
     * @param into one entry for each state, SI units
     */
    void copyStartState(double[] into);

    /**
     * Copies the state just before the end.
     *
     * @param into one entry for each state, SI units
     */
    void copyEndState(double[] into);
}
