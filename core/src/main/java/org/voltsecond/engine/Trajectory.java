package org.voltsecond.engine;

import java.util.AbstractList;
import java.util.List;
import java.util.Objects;

/**
 * The record of a run: one knot for each interval, from which everything in between is worked out exactly. Immutable and
 * safe to read from any thread.
 *
 * <pre>{@code
 * Trajectory run = start.run().trajectory();
 * int intervals = run.size(); // 1211
 * Interval at1ms = run.interval(run.indexAt(milli(1)));
 * double[] end = run.finalState(); // A, V
 * }</pre>
 */
public final class Trajectory {
    private final KeptIntervals kept;
    private final ClockTime end;
    private final double[] initialState;
    private final double[] finalState;

    Trajectory(KeptIntervals kept, double[] initialState, ClockTime end, double[] finalState) {
        this.kept = kept;
        this.initialState = initialState;
        this.end = end;
        this.finalState = finalState;
    }

    /**
     * Intervals in a row that come several times, one repetition after the other.
     *
     * @param first position of the first interval
     * @param count number of intervals of one repetition
     * @param times how many repetitions there are; 1 for intervals that do not come again
     */
    public record Block(int first, int count, int times) {
        /**
         * Returns the position after the last repetition.
         *
         * @return the index of the next interval
         */
        public int end() {
            return first + count * times;
        }
    }

    /**
     * Returns how many intervals there are.
     *
     * @return the number of intervals
     */
    public int size() {
        return kept.size;
    }

    /**
     * Returns one interval.
     *
     * @param index its position, from 0
     * @return the interval
     */
    public Interval interval(int index) {
        return new Interval(this, Objects.checkIndex(index, size()));
    }

    /**
     * Returns all intervals in order of time.
     *
     * @return a view of the intervals
     */
    public List<Interval> intervals() {
        return new AbstractList<>() {
            @Override
            public Interval get(int index) {
                return interval(index);
            }

            @Override
            public int size() {
                return Trajectory.this.size();
            }
        };
    }

    /**
     * Returns the intervals in blocks: what is the same in all repetitions has to be worked out in one of them. There the
     * phases, states and durations of a settled run are the same to the bit, and its times one or more clock periods later.
     *
     * @return all intervals in order of time, without gaps; a single block for a run in which nothing repeats
     */
    public List<Block> blocks() {
        return kept.blocks();
    }

    /**
     * Returns the position of the interval that holds a time. At a switching instant it is the interval that begins
     * there.
     *
     * @param time time since the start of the run, s; from {@link #start()} to {@link #end()}
     * @return the index
     */
    public int indexAt(double time) {
        if (!(time >= start() && time <= end())) {
            throw new IllegalArgumentException("a time within the trajectory must be from " + start() + " s to " + end()
                    + " s but was " + time + " s");
        }
        int low = 0;
        int high = size() - 1;
        while (low < high) {
            int middle = (low + high + 1) >>> 1;
            if (kept.startOf(middle) <= time) {
                low = middle;
            } else {
                high = middle - 1;
            }
        }
        return low;
    }

    /**
     * Returns when the run starts.
     *
     * @return time, s
     */
    public double start() {
        return size() == 0 ? 0 : kept.startOf(0);
    }

    /**
     * Returns when the run ends.
     *
     * @return time since the start of the run, s
     */
    public double end() {
        return end.seconds(clockPeriod());
    }

    /**
     * Returns when the run ends.
     *
     * @return the instant
     */
    public ClockTime endTime() {
        return end;
    }

    /**
     * Returns the clock period.
     *
     * @return the period, s
     */
    public double clockPeriod() {
        return kept.clockPeriod;
    }

    /**
     * Returns the state from which the run was started, just before anything that happens at that very instant.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] initialState() {
        return initialState.clone();
    }

    /**
     * Returns the state at the end, just before anything that happens at that very instant.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] finalState() {
        return finalState.clone();
    }

    KeptIntervals kept() {
        return kept;
    }

    double endOf(int index) {
        return index + 1 < size() ? kept.startOf(index + 1) : end();
    }

    @Override
    public String toString() {
        return size() + " intervals from " + start() + " s to " + end() + " s";
    }
}
