package org.voltsecond.figures;

import java.util.List;
import java.util.function.IntPredicate;
import org.voltsecond.analysis.DutyCycles;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.engine.Trajectory.Block;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Waveform;

/**
 * The whole switching cycles of a run: the periods of the clock, or without a clock the times from the start of a pulse to
 * the start of the next.
 */
final class Cycles {
    /** So many cycles are looked at together. */
    static final int CHUNK = 1 << 8;

    private final Source source;

    private Cycles(Source source) {
        this.source = source;
    }

    /** Where cycles begin, and what the transistor does in them. */
    interface Source {
        int count();

        /** When a cycle begins, s; of the number of cycles, when the last ends. Known at once of each {@link #CHUNK}th. */
        double edge(int cycle);

        double duty(int cycle);

        double lowestDuty(int from, int to);

        double highestDuty(int from, int to);

        /** The cycles are alike in all repetitions of a block. */
        List<Block> blocks();
    }

    static Cycles of(Converter converter, ConverterTransient run) {
        return new Cycles(
                converter.driven().isClocked()
                        ? OfClock.of(converter, run)
                        : FreeRunning.of(run.run(), converter.transistorName()));
    }

    private record OfClock(DutyCycles duties, double period, double end) implements Source {
        static OfClock of(Converter converter, ConverterTransient run) {
            return new OfClock(
                    run.run().dutyCycles(converter.transistorName()),
                    converter.driven().clockPeriod(),
                    run.finalTime());
        }

        @Override
        public int count() {
            return duties.periods();
        }

        /** The last edge may be the end of the run but for rounding. */
        @Override
        public double edge(int cycle) {
            return Math.min(cycle * period, end);
        }

        @Override
        public double duty(int cycle) {
            return duties.of(cycle);
        }

        @Override
        public double lowestDuty(int from, int to) {
            return duties.minimum(from, to);
        }

        @Override
        public double highestDuty(int from, int to) {
            return duties.maximum(from, to);
        }

        @Override
        public List<Block> blocks() {
            return duties.blocks();
        }
    }

    /** The cycles that begin at or after an instant and end at or before another. */
    Whole within(double from, double to) {
        int first = place(from);
        int last = place(to);
        // a cycle that ends at the very instant counts, one that begins there does not
        if (last > source.count() || source.edge(last) > to) {
            last--;
        }
        return new Whole(from, first, Math.max(first, last));
    }

    /** The first edge at or after an instant. */
    private int place(double time) {
        int edges = source.count() + 1;
        int chunk = firstNot(0, (edges - 1) / CHUNK + 1, k -> source.edge(k * CHUNK) < time);
        return firstNot(Math.max(0, chunk - 1) * CHUNK, Math.min(edges, chunk * CHUNK), k -> source.edge(k) < time);
    }

    /** The first place where a condition does not hold, which holds at first and then no more. */
    private static int firstNot(int from, int to, IntPredicate condition) {
        int low = from;
        int high = to;
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

    /** Some cycles in a row. */
    final class Whole {
        private final int first;
        private final int last;
        private final double begin;

        private Whole(double begin, int first, int last) {
            this.begin = begin;
            this.first = first;
            this.last = last;
        }

        boolean isEmpty() {
            return first >= last;
        }

        Result<StepFigures.DutyCycles> duty() {
            if (isEmpty()) {
                return Result.missing("no whole cycle lies between this change and the next or the end");
            }
            return Result.of(new StepFigures.DutyCycles(
                    source.lowestDuty(first, last), source.highestDuty(first, last), source.duty(last - 1)));
        }

        /**
         * When the last cycle ends whose mean lies outside a band; the start of the stretch if there is none, infinity if it
         * is the very last.
         */
        double settledAt(Waveform waveform, double level, double band) {
            double start = source.edge(first);
            double inside = waveform.between(start, source.edge(last))
                    .settlingTime(level, band)
                    .orElse(Double.POSITIVE_INFINITY);
            // where the waveform stays inside with its ripple, its means do
            int at = firstNot(first, last, k -> source.edge(k) - start < inside);
            at = lastOutside(
                    at,
                    k -> Math.abs(waveform.between(source.edge(k), source.edge(k + 1))
                                            .mean()
                                    - level)
                            <= band);
            if (at == first) {
                return begin;
            }
            return at == last ? Double.POSITIVE_INFINITY : source.edge(at);
        }

        /** The end of the last cycle before {@code at} that is outside, of which the last of each block tell; else the first begin. */
        private int lastOutside(int at, IntPredicate isInside) {
            List<Block> blocks = source.blocks();
            int end = at;
            for (int b = blocks.size() - 1; b >= 0; b--) {
                Block block = blocks.get(b);
                int from = Math.max(first, block.first());
                int looked = Math.max(from, end - block.count());
                while (end > looked) {
                    if (!isInside.test(end - 1)) {
                        return end;
                    }
                    end--;
                }
                end = Math.min(end, Math.max(from, first));
            }
            return end;
        }
    }
}
