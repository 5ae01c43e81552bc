package org.voltsecond.figures;

import java.util.Arrays;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Waveform;

/**
 * The whole switching cycles of a run: the periods of the clock, or without a clock the times from the start of a pulse to
 * the start of the next.
 */
final class Cycles {
    /** When each cycle begins, s, and at last when the last one ends. */
    private final double[] edges;

    /** The duty cycle of each. */
    private final double[] duty;

    private Cycles(double[] edges, double[] duty) {
        this.edges = edges;
        this.duty = duty;
    }

    static Cycles of(Converter converter, ConverterTransient run) {
        return converter.driven().isClocked() ? ofClock(converter, run) : freeRunning(run.gate());
    }

    private static Cycles ofClock(Converter converter, ConverterTransient run) {
        double[] duty = run.run().dutyCycles(converter.transistorName());
        double period = converter.driven().clockPeriod();
        double[] edges = new double[duty.length + 1];
        // the last edge may be the end of the run but for rounding
        Arrays.setAll(edges, k -> Math.min(k * period, run.finalTime()));
        return new Cycles(edges, duty);
    }

    private static Cycles freeRunning(Waveform gate) {
        double[] edges = gate.edges().stream()
                .filter(edge -> edge.after() > edge.before())
                .mapToDouble(edge -> edge.time())
                .toArray();
        double[] duty = new double[Math.max(0, edges.length - 1)];
        Arrays.setAll(duty, k -> gate.between(edges[k], edges[k + 1]).mean());
        return new Cycles(edges, duty);
    }

    /** The cycles that begin at or after an instant and end at or before another. */
    Whole within(double from, double to) {
        int first = place(from);
        int last = place(to);
        // a cycle that ends at the very instant counts, one that begins there does not
        if (last == edges.length || edges[last] > to) {
            last--;
        }
        return new Whole(from, first, Math.max(first, last));
    }

    /** The first edge at or after an instant. */
    private int place(double time) {
        int found = Arrays.binarySearch(edges, time);
        return found < 0 ? -found - 1 : found;
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
            double[] some = Arrays.copyOfRange(duty, first, last);
            return Result.of(new StepFigures.DutyCycles(
                    Arrays.stream(some).min().orElseThrow(),
                    Arrays.stream(some).max().orElseThrow(),
                    some[some.length - 1]));
        }

        /**
         * When the last cycle ends whose mean lies outside a band; the start of the stretch if there is none, infinity if it
         * is the very last.
         */
        double settledAt(Waveform waveform, double level, double band) {
            int at = last;
            double inside = waveform.between(edges[first], edges[last])
                    .settlingTime(level, band)
                    .orElse(Double.POSITIVE_INFINITY);
            // where the waveform stays inside with its ripple, its means do
            while (at > first && edges[at - 1] - edges[first] >= inside) {
                at--;
            }
            while (at > first
                    && Math.abs(waveform.between(edges[at - 1], edges[at]).mean() - level) <= band) {
                at--;
            }
            if (at == first) {
                return begin;
            }
            return at == last ? Double.POSITIVE_INFINITY : edges[at];
        }
    }
}
