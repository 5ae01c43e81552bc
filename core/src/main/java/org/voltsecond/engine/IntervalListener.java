package org.voltsecond.engine;

/** Is told of every interval of a run as soon as it has ended. */
@FunctionalInterface
public interface IntervalListener {
    /**
     * Called once for every interval of more than zero length, in order of time.
     *
     * @param interval the interval; valid only during the call, and reused for the next
     */
    void onInterval(IntervalView interval);
}
