package org.voltsecond.plot.report;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Waveform;

/**
 * The whole switching cycles of a run: the periods of the clock, or without a clock the times from the begin of a pulse to
 * the begin of the next.
 */
final class Cycles {
    /** When each cycle begins, s, and at last when the last one ends. */
    private final double[] edges;

    /** The duty cycle of each. */
    private final double[] duty;

    private final boolean clocked;

    private Cycles(boolean clocked, double[] edges, double[] duty) {
        this.clocked = clocked;
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
        Arrays.setAll(edges, k -> k * period);
        return new Cycles(true, edges, duty);
    }

    private static Cycles freeRunning(Waveform gate) {
        double[] edges = gate.edges().stream()
                .filter(edge -> edge.after() > edge.before())
                .mapToDouble(edge -> edge.time())
                .toArray();
        double[] duty = new double[Math.max(0, edges.length - 1)];
        Arrays.setAll(duty, k -> gate.between(edges[k], edges[k + 1]).mean());
        return new Cycles(false, edges, duty);
    }

    /** The mean over the last whole cycle before an instant; over all before it if there is none. */
    double meanOfLastCycle(Waveform waveform, double time) {
        int last = lastCycleBefore(time);
        return last < 0
                ? waveform.between(waveform.startTime(), time).mean()
                : waveform.between(edges[last], edges[last + 1]).mean();
    }

    private int lastCycleBefore(double time) {
        int place = Arrays.binarySearch(edges, time);
        // without a clock, a pulse that begins at the very instant of a change is an answer to it and ends no whole
        // cycle
        int edge = place < 0 ? -place - 2 : clocked ? place : place - 1;
        return Math.min(edge, duty.length) - 1;
    }

    /** Duty cycles of the whole cycles from one instant to another. */
    Result<DutyFigures> between(double from, double to) {
        int last = lastCycleBefore(to);
        double[] within = IntStream.rangeClosed(Math.max(0, lastCycleBefore(from)), last)
                .filter(k -> edges[k] >= from)
                .mapToDouble(k -> duty[k])
                .toArray();
        if (within.length == 0) {
            return Result.missing("no whole cycle lies between this change and the next or the end");
        }
        return Result.of(new DutyFigures(
                Arrays.stream(within).min().orElseThrow(),
                Arrays.stream(within).max().orElseThrow(),
                within[within.length - 1]));
    }
}
