package org.voltsecond.engine;

import java.lang.ref.SoftReference;
import java.util.AbstractList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

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
    private final int dimension;
    private final double clockPeriod;
    private final int size;
    private final Phase[] phases;
    private final long[] ticks;
    private final double[] sinceTicks;
    private final double[] durations;
    private final double[] states;
    private final @Nullable Cause[] causes;
    private final @Nullable AffineMap[] jumps;
    private final ClockTime end;
    private final double[] finalState;
    /** Made when first needed, and let go where memory is short. */
    private volatile @Nullable SoftReference<WalkedIntervals> walked;

    private Trajectory(Recorder recorder, ClockTime end, double[] finalState) {
        dimension = recorder.dimension;
        clockPeriod = recorder.clockPeriod;
        size = recorder.size;
        phases = Arrays.copyOf(recorder.phases, size);
        ticks = Arrays.copyOf(recorder.ticks, size);
        sinceTicks = Arrays.copyOf(recorder.sinceTicks, size);
        durations = Arrays.copyOf(recorder.durations, size);
        states = Arrays.copyOf(recorder.states, size * dimension);
        causes = Arrays.copyOf(recorder.causes, size);
        jumps = Arrays.copyOf(recorder.jumps, size);
        this.end = end;
        this.finalState = finalState;
    }

    /** Collects the intervals of a run. */
    static final class Recorder implements IntervalListener {
        private final int dimension;
        private final double clockPeriod;
        private int size;
        private Phase[] phases = new Phase[64];
        private long[] ticks = new long[64];
        private double[] sinceTicks = new double[64];
        private double[] durations = new double[64];
        private double[] states;
        private @Nullable Cause[] causes = new Cause[64];
        private @Nullable AffineMap[] jumps = new AffineMap[64];

        Recorder(int dimension, double clockPeriod) {
            this.dimension = dimension;
            this.clockPeriod = clockPeriod;
            states = new double[64 * dimension];
        }

        @Override
        public void onInterval(IntervalView interval) {
            if (size == phases.length) {
                grow();
            }
            phases[size] = interval.phase();
            ticks[size] = interval.tick();
            sinceTicks[size] = interval.sinceTick();
            durations[size] = interval.duration();
            causes[size] = interval.cause();
            jumps[size] = interval.jump();
            System.arraycopy(((Run) interval).scaledState(), 0, states, size * dimension, dimension);
            size++;
        }

        private void grow() {
            int capacity = 2 * size;
            phases = Arrays.copyOf(phases, capacity);
            ticks = Arrays.copyOf(ticks, capacity);
            sinceTicks = Arrays.copyOf(sinceTicks, capacity);
            durations = Arrays.copyOf(durations, capacity);
            states = Arrays.copyOf(states, capacity * dimension);
            causes = Arrays.copyOf(causes, capacity);
            jumps = Arrays.copyOf(jumps, capacity);
        }

        Trajectory finish(ClockTime end, double[] finalState) {
            return new Trajectory(this, end, finalState);
        }
    }

    /**
     * Returns how many intervals there are.
     *
     * @return the number of intervals
     */
    public int size() {
        return size;
    }

    /**
     * Returns one interval.
     *
     * @param index its position, from 0
     * @return the interval
     */
    public Interval interval(int index) {
        return new Interval(this, java.util.Objects.checkIndex(index, size));
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
                return size;
            }
        };
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
        int high = size - 1;
        while (low < high) {
            int middle = (low + high + 1) >>> 1;
            if (startOf(middle) <= time) {
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
        return size == 0 ? 0 : startOf(0);
    }

    /**
     * Returns when the run ends.
     *
     * @return time since the start of the run, s
     */
    public double end() {
        return end.seconds(clockPeriod);
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
        return clockPeriod;
    }

    /**
     * Returns the state at the end, just before anything that happens at that very instant.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] finalState() {
        return finalState.clone();
    }

    Phase phase(int index) {
        return phases[index];
    }

    ClockTime startTime(int index) {
        return new ClockTime(ticks[index], sinceTicks[index]);
    }

    private double startOf(int index) {
        return ticks[index] * clockPeriod + sinceTicks[index];
    }

    double endOf(int index) {
        return index + 1 < size ? startOf(index + 1) : end();
    }

    double duration(int index) {
        return durations[index];
    }

    double[] scaledStart(int index) {
        return Arrays.copyOfRange(states, index * dimension, (index + 1) * dimension);
    }

    /** The segments of an interval that is longer than one base of its flow. */
    List<Segment> segments(int index) {
        SoftReference<WalkedIntervals> reference = walked;
        WalkedIntervals known = reference == null ? null : reference.get();
        if (known == null) {
            known = new WalkedIntervals(size);
            walked = new SoftReference<>(known);
        }
        return known.segments(this, index);
    }

    @Nullable
    Cause cause(int index) {
        return causes[index];
    }

    @Nullable
    AffineMap jump(int index) {
        return jumps[index];
    }

    @Override
    public String toString() {
        return size() + " intervals from " + start() + " s to " + end() + " s";
    }
}
