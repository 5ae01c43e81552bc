package org.voltsecond.bench;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Crossing;
import org.voltsecond.waveform.Edge;
import org.voltsecond.waveform.Waveform;

/**
 * A capture of a converter at rest beside the simulated period, aligned, with the figures of both.
 *
 * <p>Where the simulated signal jumps once up in a period, by at least half of its peak to peak value (a switch node
 * does), and the capture has edges at regular distances, both are aligned by their rising edges: the straight line that
 * fits the edges of the capture best gives period and phase. Otherwise the average of all whole periods of the capture is
 * moved to where it correlates best with the simulated period.
 *
 * <p><b>Accuracy</b>: that of the capture. An edge is placed between two samples on a straight line, so a frequency is good
 * to about a sampling interval in the duration of the capture, a duty factor to about a sampling interval in a period.
 *
 * <p>Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Capture capture = Capture.sampled("channel 1", Unit.VOLT, 0, nano(10), samples);
 * SteadyStateComparison comparison = SteadyStateComparison.of(capture, steady.of(rail.switchNode()));
 * boolean byEdges = comparison.isAlignedByEdges(); // true
 * double likeness = comparison.correlation().orElseThrow(); // 0.9984
 * }</pre>
 */
public final class SteadyStateComparison {
    private static final double FEWEST_SAMPLES = 8;

    private final Capture capture;
    private final Waveform period;
    private final double length;
    private final double origin;
    private final boolean byEdges;
    private final PeriodFigures measured;
    private final PeriodFigures expected;
    private final OptionalDouble correlation;
    private final double rmsDifference;

    private SteadyStateComparison(Capture capture, Waveform period) {
        this.capture = capture;
        this.period = period;
        double expectedLength = period.endTime() - period.startTime();
        OptionalDouble rise = singleRise(period);
        CaptureEdges edges = CaptureEdges.of(capture);
        CapturePeriod simulated = CapturePeriod.of(period);
        byEdges = rise.isPresent() && edges.regular();
        OptionalDouble frequency;
        if (byEdges) {
            double[] fit = edges.fit();
            length = fit[0];
            frequency = OptionalDouble.of(1 / length);
            origin = fit[1] - (rise.getAsDouble() - period.startTime()) / expectedLength * length;
        } else {
            frequency = CaptureTone.in(capture, 1 / expectedLength);
            length = frequency.isPresent() ? 1 / frequency.getAsDouble() : expectedLength;
            double begin = capture.startTime();
            origin = begin + simulated.bestShare(CapturePeriod.of(capture, begin, length)) * length;
        }
        CapturePeriod averaged = CapturePeriod.of(capture, origin, length);
        double coefficient = simulated.correlation(averaged, 0);
        correlation = Double.isNaN(coefficient) ? OptionalDouble.empty() : OptionalDouble.of(coefficient);
        rmsDifference = averaged.rmsDifference(simulated);
        double whole = Math.floor((capture.endTime() - capture.startTime()) / length) * length;
        measured = new PeriodFigures(
                capture.mean(capture.startTime(), Math.min(capture.endTime(), capture.startTime() + whole)),
                averaged.ripple(),
                frequency,
                byEdges ? OptionalDouble.of(edges.dutyFactor()) : OptionalDouble.empty());
        expected = new PeriodFigures(
                period.mean(),
                period.peakToPeak(),
                OptionalDouble.of(1 / expectedLength),
                rise.isPresent() ? OptionalDouble.of(shareAbove(period)) : OptionalDouble.empty());
    }

    /**
     * Compares a capture with the simulated steady state.
     *
     * @param capture what was measured: at least two periods, with at least 8 samples in each
     * @param period exactly one simulated period of the same signal
     * @return the comparison
     * @throws IllegalArgumentException if the units differ, or the capture is too short or too coarse
     */
    public static SteadyStateComparison of(Capture capture, Waveform period) {
        if (!capture.unit().equals(period.unit())) {
            throw new IllegalArgumentException("capture " + capture.name() + " is in "
                    + capture.unit().symbol() + " but " + period.name() + " is in "
                    + period.unit().symbol() + "; compare like with like");
        }
        double length = period.endTime() - period.startTime();
        double duration = capture.endTime() - capture.startTime();
        // Half a period more, for a converter whose clock is slower than the simulated one.
        if (!(duration >= 2.5 * length)) {
            throw new IllegalArgumentException(
                    "capture " + capture.name() + " lasts " + Quantity.brief(duration, Unit.SECOND)
                            + ", less than 2.5 of the simulated periods of " + Quantity.brief(length, Unit.SECOND)
                            + "; capture more periods, or check the unit of its time");
        }
        double samples = capture.size() * length / duration;
        if (!(samples >= FEWEST_SAMPLES)) {
            throw new IllegalArgumentException(
                    "capture " + capture.name() + " has only " + Quantity.brief(samples, Unit.ONE)
                            + " samples in a simulated period of " + Quantity.brief(length, Unit.SECOND)
                            + "; at least 8 are needed: sample faster, or check the unit of its time");
        }
        return new SteadyStateComparison(capture, period);
    }

    /** Where the signal jumps up through its middle; empty if it does not do so exactly once. */
    private static OptionalDouble singleRise(Waveform period) {
        double middle = middle(period);
        double least = 0.5 * period.peakToPeak();
        // The end of a period is the start of the next: the jump there is seen only in two of them.
        List<Edge> rises = period.repeated(2).edges().stream()
                .filter(edge -> edge.height() >= least && edge.before() < middle && edge.after() > middle)
                .toList();
        double last = period.endTime() + 4 * Math.ulp(period.endTime());
        List<Edge> first = rises.stream().filter(edge -> edge.time() <= last).toList();
        return first.size() == 1 ? OptionalDouble.of(first.get(0).time()) : OptionalDouble.empty();
    }

    private static double middle(Waveform period) {
        return 0.5 * (period.minimum() + period.maximum());
    }

    /** From the exact crossings. */
    private static double shareAbove(Waveform period) {
        double middle = middle(period);
        double above = 0;
        double time = period.startTime();
        boolean high = period.at(time) > middle;
        for (Crossing crossing : period.crossings(middle)) {
            above += high ? crossing.time() - time : 0;
            time = crossing.time();
            high = crossing.rising();
        }
        above += high ? period.endTime() - time : 0;
        return above / (period.endTime() - period.startTime());
    }

    /** {@return the capture that was compared} */
    public Capture capture() {
        return capture;
    }

    /** {@return the figures of the capture} */
    public PeriodFigures measured() {
        return measured;
    }

    /** {@return the figures of the simulated period} */
    public PeriodFigures simulated() {
        return expected;
    }

    /** {@return true if aligned by edges, false if by best correlation} */
    public boolean isAlignedByEdges() {
        return byEdges;
    }

    /**
     * Returns what decided how both are aligned.
     *
     * @return "edges", "correlation", or, where the capture or the simulated signal is constant, "nothing"
     */
    public String alignment() {
        return byEdges ? "edges" : correlation.isPresent() ? "correlation" : "nothing";
    }

    /** {@return a time of the capture that matches the start of the simulated period, s} */
    public double origin() {
        return origin;
    }

    /**
     * Returns how alike the averaged period of the capture and the simulated one are in shape.
     *
     * @return the correlation coefficient, at most 1; empty if either is flat
     */
    public OptionalDouble correlation() {
        return correlation;
    }

    /**
     * Returns the RMS value of the averaged period of the capture less the simulated one, phase by phase.
     *
     * @return the RMS difference, in the unit of the signal; at an edge it holds the slew and the sampling of the capture
     */
    public double rmsDifference() {
        return rmsDifference;
    }

    /**
     * Returns a few periods of the capture near its middle, moved to the time of the simulated ones. Where the two clocks
     * differ, both match in the middle of what is returned.
     *
     * @param periods how many, at least 1; the capture may hold less of them
     * @return the capture from about 0 s on, in the time of {@link #simulated(int)}, its own clock kept
     * @throws IllegalArgumentException if no period is asked for
     */
    public Waveform captured(int periods) {
        double shown = periods * (period.endTime() - period.startTime());
        double middle = 0.5 * (capture.startTime() + capture.endTime());
        double half = 0.5 * periods * length;
        double from = origin + Math.rint((middle - half - origin) / length) * length + half - 0.5 * shown;
        return capture.waveform(from, from + shown, simulated(periods).startTime() - from);
    }

    /**
     * Returns a few simulated periods.
     *
     * @param periods how many, at least 1
     * @return the waveform
     * @throws IllegalArgumentException if no period is asked for
     */
    public Waveform simulated(int periods) {
        return period.repeated(periods);
    }

    /**
     * Returns what the capture has more than the simulation, for a reader: "mean +20 mV, ripple -1.2 mV, frequency +0.4 %,
     * duty factor -0.6 points" (points of a hundred).
     *
     * @return the differences; those of frequency and duty factor only where the capture tells them
     */
    public String differences() {
        StringBuilder text = new StringBuilder();
        text.append("mean ").append(signed(measured.mean() - expected.mean()));
        text.append(", ripple ").append(signed(measured.ripple() - expected.ripple()));
        if (measured.frequency().isPresent()) {
            double ratio =
                    measured.frequency().getAsDouble() / expected.frequency().getAsDouble();
            text.append(String.format(Locale.ROOT, ", frequency %+.3g %%", 100 * (ratio - 1)));
        }
        if (measured.dutyFactor().isPresent() && expected.dutyFactor().isPresent()) {
            double points = 100
                    * (measured.dutyFactor().getAsDouble()
                            - expected.dutyFactor().getAsDouble());
            text.append(String.format(Locale.ROOT, ", duty factor %+.3g points", points));
        }
        return text.toString();
    }

    private String signed(double value) {
        return (value > 0 ? "+" : "") + Quantity.format(value, period.unit(), 3);
    }

    @Override
    public String toString() {
        return capture + " beside " + period + ", aligned by " + alignment();
    }
}
