package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.engine.Trajectory.Block;

/**
 * Shares of each whole clock period of a run in which a condition holds. Those of a settled run, whose periods come again, are kept
 * once. Immutable.
 *
 * <pre>{@code
 * DutyCycles duty = start.run().dutyCycles("Q1");
 * double last = duty.of(duty.periods() - 1); // 0.45
 * }</pre>
 */
public final class DutyCycles {
    private final double clockPeriod;
    private final int periods;
    private final List<Block> blocks;
    /** One after the other for the first repetition of each block. */
    private final double[] times;

    private DutyCycles(double clockPeriod, int periods, List<Block> blocks) {
        this.clockPeriod = clockPeriod;
        this.periods = periods;
        this.blocks = List.copyOf(blocks);
        times = new double[blocks.stream().mapToInt(Block::count).sum()];
    }

    static DutyCycles of(Trajectory run, double clockPeriod, Predicate<Phase> condition) {
        int periods = (int) Math.floor((run.end() - run.start()) / clockPeriod * (1 + 0x1p-50));
        DutyCycles all = new DutyCycles(clockPeriod, periods, blocks(run, periods));
        for (Block block : run.blocks()) {
            for (int index = block.first(); index < block.first() + block.count(); index++) {
                Interval interval = run.interval(index);
                if (condition.test(interval.phase())) {
                    all.add(interval.startTime().tick(), interval.sinceTick(), interval.duration());
                }
            }
        }
        for (int k = 0; k < all.times.length; k++) {
            all.times[k] /= clockPeriod;
        }
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

    private void add(long tick, double sinceTick, double duration) {
        long period = tick;
        double from = sinceTick;
        double left = duration;
        while (left > 0 && period < periods) {
            double here = Math.min(left, Math.max(0, clockPeriod - from));
            times[place((int) period)] += here;
            left -= here;
            from = 0;
            period++;
        }
    }

    private int place(int period) {
        int before = 0;
        for (Block block : blocks) {
            if (period < block.end()) {
                return before + (period - block.first()) % block.count();
            }
            before += block.count();
        }
        throw new IllegalArgumentException(
                "a period must be from 0 to " + (periods - 1) + ", those of the run, but was " + period);
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
        return times[place(period)];
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
