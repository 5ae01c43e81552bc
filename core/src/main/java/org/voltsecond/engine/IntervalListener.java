package org.voltsecond.engine;

/**
 * Is told of every interval of a run as soon as it has ended.
 *
 * <pre>{@code
 * double[] longest = {0};
 * IntervalListener listener = interval -> longest[0] = Math.max(longest[0], interval.duration());
 * Simulation.of(rail.driven().law()).stream(rail.driven().restState(), milli(1), listener);
 * }</pre>
 */
@FunctionalInterface
public interface IntervalListener {
    /**
     * Called once for every interval of more than zero length, in order of time.
     *
     * @param interval the interval; valid only during the call, and reused for the next
     */
    void onInterval(IntervalView interval);
}
