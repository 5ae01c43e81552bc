package org.voltsecond.figures;

import java.util.Arrays;
import java.util.List;
import java.util.function.IntPredicate;
import java.util.function.IntToDoubleFunction;
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
    /** When each cycle begins, s, and after the last one when that ends. */
    private final IntToDoubleFunction edges;

    private final int count;
    /** The duty cycle of each. */
    private final IntToDoubleFunction duty;
    /** The cycles are alike in all repetitions of a block. */
    private final List<Block> blocks;

    private Cycles(IntToDoubleFunction edges, int count, IntToDoubleFunction duty, List<Block> blocks) {
        this.edges = edges;
        this.count = count;
        this.duty = duty;
        this.blocks = blocks;
    }

    static Cycles of(Converter converter, ConverterTransient run) {
        return converter.driven().isClocked() ? ofClock(converter, run) : freeRunning(run.gate());
    }

    private static Cycles ofClock(Converter converter, ConverterTransient run) {
        DutyCycles duty = run.run().dutyCycles(converter.transistorName());
        double period = converter.driven().clockPeriod();
        // the last edge may be the end of the run but for rounding
        return new Cycles(k -> Math.min(k * period, run.finalTime()), duty.periods(), duty::of, duty.blocks());
    }

    private static Cycles freeRunning(Waveform gate) {
        double[] edges = gate.edges().stream()
                .filter(edge -> edge.after() > edge.before())
                .mapToDouble(edge -> edge.time())
                .toArray();
        double[] duty = new double[Math.max(0, edges.length - 1)];
        Arrays.setAll(duty, k -> gate.between(edges[k], edges[k + 1]).mean());
        // without a whole cycle there may be no edge
        return new Cycles(
                k -> k < edges.length ? edges[k] : gate.endTime(),
                duty.length,
                k -> duty[k],
                List.of(new Block(0, duty.length, 1)));
    }

    /** The cycles that begin at or after an instant and end at or before another. */
    Whole within(double from, double to) {
        int first = place(from);
        int last = place(to);
        // a cycle that ends at the very instant counts, one that begins there does not
        if (last > count || edge(last) > to) {
            last--;
        }
        return new Whole(from, first, Math.max(first, last));
    }

    private double edge(int cycle) {
        return edges.applyAsDouble(cycle);
    }

    /** The first edge at or after an instant. */
    private int place(double time) {
        int low = 0;
        int high = count + 1;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (edge(middle) < time) {
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
            double minimum = Double.POSITIVE_INFINITY;
            double maximum = Double.NEGATIVE_INFINITY;
            for (Block block : blocks) {
                int from = Math.max(first, block.first());
                int to = Math.min(Math.min(last, block.end()), from + block.count());
                for (int k = from; k < to; k++) {
                    minimum = Math.min(minimum, duty.applyAsDouble(k));
                    maximum = Math.max(maximum, duty.applyAsDouble(k));
                }
            }
            return Result.of(new StepFigures.DutyCycles(minimum, maximum, duty.applyAsDouble(last - 1)));
        }

        /**
         * When the last cycle ends whose mean lies outside a band; the start of the stretch if there is none, infinity if it
         * is the very last.
         */
        double settledAt(Waveform waveform, double level, double band) {
            int at = last;
            double inside = waveform.between(edge(first), edge(last))
                    .settlingTime(level, band)
                    .orElse(Double.POSITIVE_INFINITY);
            // where the waveform stays inside with its ripple, its means do
            while (at > first && edge(at - 1) - edge(first) >= inside) {
                at--;
            }
            at = lastOutside(
                    at, k -> Math.abs(waveform.between(edge(k), edge(k + 1)).mean() - level) <= band);
            if (at == first) {
                return begin;
            }
            return at == last ? Double.POSITIVE_INFINITY : edge(at);
        }

        /** The end of the last cycle before {@code at} that is outside, of which the last of each block tell; else the first begin. */
        private int lastOutside(int at, IntPredicate isInside) {
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
