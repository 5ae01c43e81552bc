package org.voltsecond.engine;

import java.util.AbstractList;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.function.IntPredicate;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.KeptIntervals.Held;
import org.voltsecond.engine.KeptIntervals.Stretch;

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
    private final Simulation.Source source;
    private final Stretch[] stretches;
    private final Held held;
    private final int size;
    private final List<Block> blocks;
    private final List<Configuration> configurations;
    private final int[] momentary;
    private final ClockTime end;
    private final double[] finalState;
    /** Several readers often read the same, and share what it has worked out. An interval is immutable, so that a race is harmless. */
    private @Nullable Interval latest;

    private Trajectory(Recorder recorder, ClockTime end, double[] finalState) {
        source = recorder.source;
        stretches = recorder.stretches.toArray(new Stretch[0]);
        held = recorder.held;
        size = recorder.size;
        blocks = blocksOf(stretches);
        configurations = List.copyOf(recorder.configurations);
        momentary = Arrays.copyOf(recorder.momentary, recorder.momentaryCount);
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
        return size;
    }

    /**
     * Returns one interval.
     *
     * @param index its position, from 0
     * @return the interval
     */
    public Interval interval(int index) {
        Interval known = latest;
        if (known == null || known.index() != index) {
            Stretch stretch = stretches[stretchOf(Objects.checkIndex(index, size))];
            known = new Interval(this, index, kept(stretch), index - stretch.first);
            latest = known;
        }
        return known;
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
        return blocks;
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
        int of = lastOf(stretches.length, k -> stretches[k].start <= time);
        Stretch stretch = stretches[of];
        KeptIntervals intervals = kept(stretch);
        return stretch.first + lastOf(stretch.size, k -> intervals.startOf(k) <= time);
    }

    /** The last place where a condition holds, which holds at first and then no more; 0 where it never does. */
    private static int lastOf(int count, IntPredicate condition) {
        int low = 0;
        int high = count - 1;
        while (low < high) {
            int middle = (low + high + 1) >>> 1;
            if (condition.test(middle)) {
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
        return size == 0 ? 0 : stretches[0].start;
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
        return source.law().clockPeriod();
    }

    /**
     * Returns the state from which the run was started, just before anything that happens at that very instant.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] initialState() {
        return source.initialState().clone();
    }

    /**
     * Returns the state at the end, just before anything that happens at that very instant.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] finalState() {
        return finalState.clone();
    }

    /**
     * Returns when an interval starts, without going there where it is known.
     *
     * @param index its position, from 0
     * @return time since the start of the run, s
     */
    public double startOf(int index) {
        Stretch stretch = stretches[stretchOf(index)];
        return index == stretch.first ? stretch.start : kept(stretch).startOf(index - stretch.first);
    }

    /**
     * Returns the state just before an interval, whose start may have moved it by a jump.
     *
     * @param index its position, from 0
     * @return one entry for each state, SI units, a new array
     */
    public double[] stateBefore(int index) {
        Stretch stretch = stretches[stretchOf(index)];
        return index == stretch.first
                ? stretch.left.clone()
                : interval(index - 1).endState();
    }

    double endOf(int index) {
        return index + 1 < size ? startOf(index + 1) : end();
    }

    /**
     * Returns the configurations of all intervals.
     *
     * @return each once, in the order in which they come first
     */
    public List<Configuration> configurations() {
        return configurations;
    }

    /**
     * Returns the intervals so short that in seconds since the start of the run they end when they begin.
     *
     * @return their positions in ascending order, a new array
     */
    public int[] momentary() {
        return momentary.clone();
    }

    /**
     * Tells whether some of the intervals are more than stay at hand, so that whoever goes through them has them run again.
     *
     * @param count how many
     * @return whether they are; of a run that is no longer than a few times that, false
     */
    public boolean isLong(int count) {
        return count > source.stretch() && size > 2 * source.stretch();
    }

    private int stretchOf(int index) {
        return stretches.length == 1 ? 0 : lastOf(stretches.length, k -> stretches[k].first <= index);
    }

    private KeptIntervals kept(Stretch stretch) {
        KeptIntervals known = stretch.atHand();
        if (known != null) {
            return known;
        }
        synchronized (stretch) {
            known = stretch.atHand();
            if (known == null) {
                latest = null;
                held.makeRoom();
                known = runAgain(stretch);
                held.hold(stretch, known);
            }
            return known;
        }
    }

    private KeptIntervals runAgain(Stretch stretch) {
        Recorder again = new Recorder(source, stretch.from);
        Run run = source.run(again);
        if (stretch.from == null) {
            run.start(source.initialState());
        } else {
            run.resume(stretch.from);
        }
        run.until(end);
        return again.builder.finish(false);
    }

    private static List<Block> blocksOf(Stretch[] stretches) {
        List<Block> blocks = new ArrayList<>();
        for (Stretch stretch : stretches) {
            for (Block block : stretch.blocks) {
                Block last = blocks.isEmpty() ? block : blocks.get(blocks.size() - 1);
                if (!blocks.isEmpty() && block.times() == 1 && last.times() == 1) {
                    blocks.set(blocks.size() - 1, new Block(last.first(), last.count() + block.count(), 1));
                } else {
                    blocks.add(new Block(stretch.first + block.first(), block.count(), block.times()));
                }
            }
        }
        return List.copyOf(blocks);
    }

    /** Collects the intervals of a run, of which it keeps the last; or those of one stretch. */
    static final class Recorder implements IntervalListener {
        private final Simulation.Source source;
        private final double clockPeriod;
        private final boolean isOfOneStretch;
        private final List<Stretch> stretches = new ArrayList<>();
        private final Held held;
        private final Set<Configuration> configurations = new LinkedHashSet<>();
        private Run.@Nullable Resumption from;
        private KeptIntervals.Builder builder;
        private int size;
        private int[] momentary = {};
        private int momentaryCount;
        private double lastStart = Double.NEGATIVE_INFINITY;
        /** The state after the last stretch. */
        private double[] left;

        /** Collects all. */
        Recorder(Simulation.Source source) {
            this(source, null, false);
        }

        /** Collects one stretch. */
        private Recorder(Simulation.Source source, Run.@Nullable Resumption from) {
            this(source, from, true);
        }

        private Recorder(Simulation.Source source, Run.@Nullable Resumption from, boolean isOfOneStretch) {
            this.source = source;
            clockPeriod = source.law().clockPeriod();
            this.from = from;
            this.isOfOneStretch = isOfOneStretch;
            held = new Held(source.mostHeld());
            left = source.initialState();
            builder = newBuilder();
        }

        private KeptIntervals.Builder newBuilder() {
            int n = source.initialState().length;
            return new KeptIntervals.Builder(n, clockPeriod, KeptIntervals.Builder.mostIntervals(n));
        }

        @Override
        public void onInterval(IntervalView interval) {
            builder.add(interval);
            double start = interval.tick() * clockPeriod + interval.sinceTick();
            end((int) (size + builder.size()) - 2, start);
            lastStart = start;
        }

        /** Looks whether an interval has lasted. */
        private void end(int index, double time) {
            if (!(time > lastStart)) {
                if (momentaryCount == momentary.length) {
                    momentary = Arrays.copyOf(momentary, Math.max(8, 2 * momentaryCount));
                }
                momentary[momentaryCount++] = index;
            }
        }

        @Override
        public boolean onRepeat(int periods, long times) {
            builder.repeat(periods, times);
            // in what comes again intervals last by at least a billionth of the clock period
            lastStart = Double.NEGATIVE_INFINITY;
            return true;
        }

        /** The run can be run again from here; whether that is as far as it is to go. */
        boolean endsStretch(Run.Resumption here) {
            if (builder.size() == 0 || isOfOneStretch) {
                return builder.size() > 0;
            }
            close(false);
            held.makeRoom();
            from = here;
            builder = newBuilder();
            return false;
        }

        private void close(boolean isAll) {
            KeptIntervals intervals = builder.finish(isAll);
            if (size + (long) intervals.size > KeptIntervals.Builder.MOST) {
                throw new SwitchingException(
                        "the run comes to more than " + KeptIntervals.Builder.MOST + " intervals; shorten it");
            }
            intervals.addConfigurationsTo(configurations);
            Stretch stretch = new Stretch(size, from, left, intervals);
            held.hold(stretch, intervals);
            stretches.add(stretch);
            left = intervals.stateAfterAll();
            size += intervals.size;
        }

        Trajectory finish(ClockTime end, double[] finalState) {
            end((int) (size + builder.size()) - 1, end.seconds(clockPeriod));
            close(stretches.isEmpty());
            return new Trajectory(this, end, finalState);
        }
    }

    @Override
    public String toString() {
        return size + " intervals from " + start() + " s to " + end() + " s";
    }
}
