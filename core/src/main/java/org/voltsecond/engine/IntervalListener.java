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

    /**
     * Called when the clock periods that were just told of come again, every state the same to the bit, as those of a settled
     * converter do. Who can do without being told of them says so.
     *
     * @param periods how many clock periods, of which the last has just ended
     * @param times how many times they follow once more
     * @return true to hear of none of their intervals; false, as it is if not overridden, to be told of each
     */
    default boolean onRepeat(int periods, long times) {
        return false;
    }
}
