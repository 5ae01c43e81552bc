package org.voltsecond.engine;

import java.lang.ref.SoftReference;
import java.util.AbstractList;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Machine;

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
    /** What an interval takes beside its states: three numbers and three references. */
    private static final int BYTES_BESIDE_STATES = 3 * Double.BYTES + 3 * Integer.BYTES;
    /** What time lines, cycles and pictures take for each interval: 72 bytes measured on a long run, and room for as many. */
    private static final int BYTES_TO_READ = 150;

    private final double clockPeriod;
    private final int size;
    private final Page[] pages;
    private final ClockTime end;
    private final double[] finalState;
    /** Made when first needed, and let go where memory is short. */
    private volatile @Nullable SoftReference<WalkedIntervals> walked;

    private final double[] initialState;

    private Trajectory(Recorder recorder, Page[] pages, ClockTime end, double[] finalState) {
        clockPeriod = recorder.clockPeriod;
        size = recorder.size();
        this.pages = pages;
        this.end = end;
        this.finalState = finalState;
        initialState = recorder.initialState;
    }

    /** Some intervals in a row: a long run is never copied as a whole. */
    private record Page(
            int dimension,
            Phase[] phases,
            long[] ticks,
            double[] sinceTicks,
            double[] durations,
            double[] states,
            @Nullable Cause[] causes,
            @Nullable AffineMap[] jumps) {
        /** Intervals of a full page, a power of two: some 300 kB. */
        static final int FULL = 1 << 12;

        static Page of(int dimension, int capacity) {
            return new Page(
                    dimension,
                    new Phase[capacity],
                    new long[capacity],
                    new double[capacity],
                    new double[capacity],
                    new double[capacity * dimension],
                    new Cause[capacity],
                    new AffineMap[capacity]);
        }

        Page withCapacity(int capacity) {
            return new Page(
                    dimension,
                    Arrays.copyOf(phases, capacity),
                    Arrays.copyOf(ticks, capacity),
                    Arrays.copyOf(sinceTicks, capacity),
                    Arrays.copyOf(durations, capacity),
                    Arrays.copyOf(states, capacity * dimension),
                    Arrays.copyOf(causes, capacity),
                    Arrays.copyOf(jumps, capacity));
        }

        void set(int at, IntervalView interval) {
            phases[at] = interval.phase();
            ticks[at] = interval.tick();
            sinceTicks[at] = interval.sinceTick();
            durations[at] = interval.duration();
            causes[at] = interval.cause();
            jumps[at] = interval.jump();
            System.arraycopy(((Run) interval).scaledState(), 0, states, at * dimension, dimension);
        }
    }

    /** Collects the intervals of a run. */
    static final class Recorder implements IntervalListener {
        /** Intervals that a first page has room for. */
        private static final int FIRST = 64;

        private final double clockPeriod;
        private final double[] initialState;
        private final int most;
        private final List<Page> full = new ArrayList<>();
        private Page page;
        private int used;

        Recorder(double[] initialState, double clockPeriod) {
            this(initialState, clockPeriod, mostIntervals(initialState.length));
        }

        Recorder(double[] initialState, double clockPeriod, int most) {
            this.clockPeriod = clockPeriod;
            this.initialState = initialState.clone();
            this.most = most;
            page = Page.of(initialState.length, FIRST);
        }

        /** How many the memory of this Java machine takes, with what reading them needs. */
        private static int mostIntervals(int dimension) {
            long each = BYTES_TO_READ + BYTES_BESIDE_STATES + (long) Double.BYTES * dimension;
            return (int) Math.min(Integer.MAX_VALUE - Page.FULL, Machine.mostMemory() / each);
        }

        @Override
        public void onInterval(IntervalView interval) {
            if (used == page.ticks.length) {
                grow();
            }
            page.set(used, interval);
            used++;
        }

        int size() {
            return full.size() * Page.FULL + used;
        }

        private void grow() {
            if (size() >= most) {
                throw new SwitchingException("the run has come to " + size()
                        + " intervals, which is all that the memory of this Java machine takes; shorten the run, or run"
                        + " java with a larger -Xmx");
            }
            if (used < Page.FULL) {
                page = page.withCapacity(2 * used);
            } else {
                full.add(page);
                page = Page.of(page.dimension, Page.FULL);
                used = 0;
            }
        }

        Trajectory finish(ClockTime end, double[] finalState) {
            List<Page> pages = new ArrayList<>(full);
            pages.add(page.withCapacity(used));
            return new Trajectory(this, pages.toArray(new Page[0]), end, finalState);
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

    private Page page(int index) {
        return pages[index / Page.FULL];
    }

    Phase phase(int index) {
        return page(index).phases[index & Page.FULL - 1];
    }

    ClockTime startTime(int index) {
        Page page = page(index);
        int at = index & Page.FULL - 1;
        return new ClockTime(page.ticks[at], page.sinceTicks[at]);
    }

    private double startOf(int index) {
        Page page = page(index);
        int at = index & Page.FULL - 1;
        return page.ticks[at] * clockPeriod + page.sinceTicks[at];
    }

    double endOf(int index) {
        return index + 1 < size ? startOf(index + 1) : end();
    }

    double duration(int index) {
        return page(index).durations[index & Page.FULL - 1];
    }

    double[] scaledStart(int index) {
        Page page = page(index);
        int first = (index & Page.FULL - 1) * page.dimension;
        return Arrays.copyOfRange(page.states, first, first + page.dimension);
    }

    /** The segments of an interval that is longer than one base of its flow. */
    List<WalkedIntervals.Segment> segments(int index) {
        return walked().segments(this, index);
    }

    /** The {@link Flow#series} of an interval that is no longer. */
    double[] series(int index) {
        return walked().series(this, index);
    }

    private WalkedIntervals walked() {
        SoftReference<WalkedIntervals> reference = walked;
        WalkedIntervals known = reference == null ? null : reference.get();
        if (known == null) {
            known = new WalkedIntervals(size);
            walked = new SoftReference<>(known);
        }
        return known;
    }

    @Nullable
    Cause cause(int index) {
        return page(index).causes[index & Page.FULL - 1];
    }

    @Nullable
    AffineMap jump(int index) {
        return page(index).jumps[index & Page.FULL - 1];
    }

    @Override
    public String toString() {
        return size() + " intervals from " + start() + " s to " + end() + " s";
    }
}
