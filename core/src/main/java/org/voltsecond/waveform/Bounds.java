package org.voltsecond.waveform;

import java.util.Arrays;
import java.util.List;
import java.util.function.IntPredicate;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.engine.Trajectory.Block;

/** Where spans in a row begin and end, in ascending order. */
interface Bounds {
    int size();

    int interval(int span);

    /** When a span begins; of the number of spans, when the last one ends, s. */
    double at(int span);

    /** The last span that begins at or before a time; the first if none does. */
    default int lastBy(double time) {
        return Math.max(0, firstNot(size(), span -> at(span) <= time) - 1);
    }

    default List<Block> blocks() {
        return List.of(new Block(0, size(), 1));
    }

    /** The first place where a condition does not hold, which holds at first and then no more. */
    static int firstNot(int count, IntPredicate condition) {
        int low = 0;
        int high = count;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (condition.test(middle)) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    record Listed(int[] intervals, double[] ends) implements Bounds {
        @Override
        public int size() {
            return intervals.length;
        }

        @Override
        public int interval(int span) {
            return intervals[span];
        }

        @Override
        public double at(int span) {
            return ends[span];
        }
    }

    /**
     * Those of a run: nothing is kept but which few intervals do not last, and what comes again is not gone through again.
     *
     * @param momentary the intervals that do not last, in ascending order
     */
    record OfRun(Trajectory run, List<Integer> momentary) implements Bounds {
        static OfRun of(Trajectory run) {
            return new OfRun(run, Arrays.stream(run.momentary()).boxed().toList());
        }

        @Override
        public int size() {
            return run.size() - momentary.size();
        }

        @Override
        public int interval(int span) {
            int count = momentary.size();
            return count == 0 ? span : span + firstNot(count, k -> momentary.get(k) - k <= span);
        }

        /** How many of those that do not last come before one. */
        private int passedBefore(int interval) {
            return firstNot(momentary.size(), k -> momentary.get(k) < interval);
        }

        @Override
        public double at(int span) {
            return span == size() ? run.end() : run.startOf(interval(span));
        }

        @Override
        public int lastBy(double time) {
            int interval = run.indexAt(Math.max(run.start(), Math.min(run.end(), time)));
            return Math.min(size() - 1, interval - passedBefore(interval));
        }

        /** In a block that comes again each lasts, by at least a billionth of the clock period. */
        @Override
        public List<Block> blocks() {
            return run.blocks().stream()
                    .map(block -> {
                        int first = block.first() - passedBefore(block.first());
                        int lasting = block.end() - passedBefore(block.end()) - first;
                        return new Block(first, lasting / block.times(), block.times());
                    })
                    .filter(block -> block.count() > 0)
                    .toList();
        }
    }

    record Delayed(Bounds bounds, double by) implements Bounds {
        @Override
        public int size() {
            return bounds.size();
        }

        @Override
        public int interval(int span) {
            return bounds.interval(span);
        }

        @Override
        public double at(int span) {
            return bounds.at(span) + by;
        }

        @Override
        public int lastBy(double time) {
            int span = bounds.lastBy(time - by);
            // the sum is rounded
            while (span > 0 && at(span) > time) {
                span--;
            }
            while (span + 1 < size() && at(span + 1) <= time) {
                span++;
            }
            return span;
        }

        @Override
        public List<Block> blocks() {
            return bounds.blocks();
        }
    }
}
