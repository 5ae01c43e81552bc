package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleBinaryOperator;
import java.util.function.Predicate;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.engine.Trajectory.Block;
import org.voltsecond.waveform.RunReading;

/**
 * Shares of each whole clock period of a run in which a condition holds; nothing is kept for each of them. Immutable, and safe for any
 * thread.
 *
 * <pre>{@code
 * DutyCycles duty = start.run().dutyCycles("Q1");
 * double last = duty.of(duty.periods() - 1); // 0.45
 * }</pre>
 */
public final class DutyCycles {
    /** So many periods have their smallest and largest kept; each of them is worked out when it is asked for. */
    private static final int CHUNK = 1 << 8;

    private final RunReading reading;
    private final Trajectory run;
    private final Predicate<Phase> condition;
    private final double clockPeriod;
    private final int periods;
    private final List<Block> blocks;
    private final Extremes extremes;

    private DutyCycles(RunReading reading, double clockPeriod, Predicate<Phase> condition) {
        this.reading = reading;
        run = reading.run();
        this.condition = condition;
        this.clockPeriod = clockPeriod;
        periods = (int) Math.floor((run.end() - run.start()) / clockPeriod * (1 + 0x1p-50));
        blocks = List.copyOf(blocks(run, periods));
        extremes = new Extremes();
    }

    static DutyCycles of(RunReading reading, double clockPeriod, Predicate<Phase> condition) {
        DutyCycles all = new DutyCycles(reading, clockPeriod, condition);
        reading.await(all.extremes);
        return all;
    }

    private static List<Block> blocks(Trajectory run, int periods) {
        List<Block> blocks = new ArrayList<>();
        int next = 0;
        for (Block block : run.blocks()) {
            if (block.times() > 1) {
                int from = tick(run, block.first());
                // what comes again stands before for the first time
                int count = from - tick(run, block.first() - block.count());
                blocks.add(new Block(next, from - next, 1));
                blocks.add(new Block(from, count, block.times()));
                next = from + count * block.times();
            }
        }
        blocks.add(new Block(next, Math.max(0, periods - next), 1));
        return blocks;
    }

    private static int tick(Trajectory run, int index) {
        return Math.toIntExact(run.interval(index).startTime().tick());
    }

    /** Finds the smallest and the largest of each chunk, those of a block that comes again aside. */
    private final class Extremes extends RunReading.OfBlocks {
        private final double[] minima = new double[periods / CHUNK + 1];
        private final double[] maxima = new double[periods / CHUNK + 1];
        private int period;
        private double sum;
        private boolean comesAgain;

        Extremes() {
            super(run);
            Arrays.fill(minima, Double.POSITIVE_INFINITY);
            Arrays.fill(maxima, Double.NEGATIVE_INFINITY);
        }

        @Override
        protected void read(Interval interval, int times) {
            int tick = (int) interval.startTime().tick();
            if (comesAgain && times == 1) {
                period = tick;
                sum = 0;
            }
            comesAgain = times > 1;
            goTo(tick);
            if (condition.test(interval.phase())) {
                share(interval, (at, time) -> {
                    goTo(at);
                    sum += time;
                });
            }
        }

        @Override
        public void done() {
            goTo(periods);
        }

        private void goTo(int next) {
            while (period < next) {
                if (period < periods) {
                    double duty = sum / clockPeriod;
                    minima[period / CHUNK] = Math.min(minima[period / CHUNK], duty);
                    maxima[period / CHUNK] = Math.max(maxima[period / CHUNK], duty);
                }
                sum = 0;
                period++;
            }
        }
    }

    private interface Sharer {
        void add(int period, double time);
    }

    /** Tells how long an interval lasts in each period. */
    private void share(Interval interval, Sharer sharer) {
        int at = (int) interval.startTime().tick();
        double from = interval.sinceTick();
        double left = interval.duration();
        while (left > 0) {
            double here = Math.min(left, Math.max(0, clockPeriod - from));
            sharer.add(at, here);
            left -= here;
            from = 0;
            at++;
        }
    }

    /** The first of all periods that are like one. */
    private int firstLike(int period) {
        for (Block block : blocks) {
            if (period >= 0 && period < block.end()) {
                return block.first() + (period - block.first()) % block.count();
            }
        }
        throw new IllegalArgumentException(
                "a period must be from 0 to " + (periods - 1) + ", those of the run, but was " + period);
    }

    /**
     * Returns the smallest share in some periods.
     *
     * @param from the first of them
     * @param to the period after the last, more than {@code from}
     * @return the smallest, 0 to 1
     */
    public double minimum(int from, int to) {
        return most(from, to, extremes.minima, Math::min, Double.POSITIVE_INFINITY);
    }

    /**
     * Returns the largest share in some periods.
     *
     * @param from the first of them
     * @param to the period after the last, more than {@code from}
     * @return the largest, 0 to 1
     */
    public double maximum(int from, int to) {
        return most(from, to, extremes.maxima, Math::max, Double.NEGATIVE_INFINITY);
    }

    private double most(int from, int to, double[] ofChunks, DoubleBinaryOperator more, double none) {
        reading.read(extremes);
        double most = none;
        for (Block block : blocks) {
            int k = Math.max(from, block.first());
            int end = Math.min(Math.min(to, block.end()), k + block.count());
            while (k < end) {
                boolean whole = block.times() == 1 && k % CHUNK == 0 && k + CHUNK <= end;
                most = more.applyAsDouble(most, whole ? ofChunks[k / CHUNK] : of(k));
                k += whole ? CHUNK : 1;
            }
        }
        return most;
    }

    /**
     * Returns how many whole periods there are.
     *
     * @return the number of periods
     */
    public int periods() {
        return periods;
    }

    /**
     * Returns the share of one period.
     *
     * @param period its position, from 0
     * @return the share of it in which the part conducts, 0 to 1
     * @throws IllegalArgumentException if there is no such period
     */
    public double of(int period) {
        int wanted = firstLike(period);
        int index = run.indexAt(Math.min(wanted * clockPeriod, run.end()));
        while (index > 0 && run.interval(index).startTime().tick() >= wanted) {
            index--;
        }
        double[] sum = {0};
        while (index < run.size() && run.interval(index).startTime().tick() <= wanted) {
            Interval interval = run.interval(index++);
            if (condition.test(interval.phase())) {
                share(interval, (at, time) -> sum[0] += at == wanted ? time : 0);
            }
        }
        return sum[0] / clockPeriod;
    }

    /**
     * Returns the periods in blocks, in all repetitions of which they are alike.
     *
     * @return all periods in order of time, without gaps
     */
    public List<Block> blocks() {
        return blocks;
    }

    @Override
    public String toString() {
        return periods + " duty cycles";
    }
}
