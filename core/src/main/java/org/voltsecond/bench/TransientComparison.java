package org.voltsecond.bench;

import java.util.Arrays;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * A capture of something that happens once, a start-up or a load step, beside the simulated run, with the figures of both
 * over the time that they have in common. {@link SteadyStateComparison} is for a converter at rest.
 *
 * <p>One shift puts the capture into the time of the run; the middle of the capture lies within the run. It is the shift at
 * which the curves, averaged over short bins, have differences of least variance, so that an offset of the probe moves
 * nothing; where the run jumps by half of its peak to peak value or more (a switch node does), the median distance of the
 * edges decides. Outside of its time the run is taken to rest, so that a capture may begin before a start-up.
 *
 * <p><b>Accuracy</b>: of noise with RMS value s at n samples that lie in the transition about s / sqrt(n) over the slope of
 * the signal is left; with edges, a part of a sampling interval. Two clocks that differ match at one instant only.
 * Where one pulse hardly differs from the next, the shift may be off by a few whole periods: to place a load step, take the
 * output voltage or the inductor current.
 *
 * <p>Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Capture capture = Capture.sampled("channel 1", Unit.VOLT, 0, nano(10), samples);
 * TransientComparison comparison = TransientComparison.of(capture, start.of(rail.switchNode()));
 * double end = capture.endTime() + comparison.shift(); // in the time of the run
 * boolean byEdges = comparison.isAlignedByEdges(); // true
 * }</pre>
 */
public final class TransientComparison {
    private static final int FEWEST_SAMPLES = 16;
    private static final double LONGEST = 2;
    private static final double SHORTEST = 1e-3;

    private final Capture capture;
    private final Waveform part;
    private final RunAlignment alignment;
    private final RunFigures measured;
    private final RunFigures expected;
    private final double largestDifference;
    private final double rmsDifference;

    private TransientComparison(Capture capture, Waveform run) {
        this.capture = capture;
        alignment = RunAlignment.of(capture, run);
        double shift = alignment.shift();
        double from = Math.max(run.startTime(), capture.startTime() + shift);
        double to = Math.min(run.endTime(), capture.endTime() + shift);
        part = run.between(from, to);
        double lowest = Double.POSITIVE_INFINITY;
        double highest = Double.NEGATIVE_INFINITY;
        double largest = 0;
        double squares = 0;
        int[] common = IntStream.range(0, capture.size())
                .filter(i -> capture.time(i) + shift >= from && capture.time(i) + shift <= to)
                .toArray();
        double[] simulated = part.at(
                Arrays.stream(common).mapToDouble(i -> capture.time(i) + shift).toArray());
        for (int k = 0; k < common.length; k++) {
            double value = capture.value(common[k]);
            double difference = value - simulated[k];
            lowest = Math.min(lowest, value);
            highest = Math.max(highest, value);
            largest = Math.max(largest, Math.abs(difference));
            squares += difference * difference;
        }
        largestDifference = largest;
        rmsDifference = Math.sqrt(squares / common.length);
        boolean byEdges = alignment.byEdges();
        measured = RunFigures.of(
                capture.mean(from - shift, to - shift),
                lowest,
                highest,
                byEdges,
                CaptureEdges.of(capture).within(from - shift, to - shift));
        expected = RunFigures.of(part.mean(), part.minimum(), part.maximum(), byEdges, CaptureEdges.of(part));
    }

    /**
     * Compares a capture with a simulated run.
     *
     * @param capture what was measured: at least 16 samples, not longer than twice the run nor shorter than a thousandth
     *     of it
     * @param run the same signal over the run
     * @return the comparison
     * @throws IllegalArgumentException if the units differ, or the capture is too long, too short or too coarse
     */
    public static TransientComparison of(Capture capture, Waveform run) {
        if (!capture.unit().equals(run.unit())) {
            throw new IllegalArgumentException("capture " + capture.name() + " is in "
                    + capture.unit().symbol() + " but " + run.name() + " is in "
                    + run.unit().symbol() + "; compare like with like");
        }
        double length = run.endTime() - run.startTime();
        double duration = capture.endTime() - capture.startTime();
        if (!(duration <= LONGEST * length && duration >= SHORTEST * length)) {
            throw new IllegalArgumentException("capture " + capture.name() + " lasts "
                    + Quantity.brief(duration, Unit.SECOND) + ", the run " + Quantity.brief(length, Unit.SECOND)
                    + "; valid: from a thousandth of the run to twice the run. Check the unit of its time, or simulate"
                    + " another duration");
        }
        if (capture.size() < FEWEST_SAMPLES) {
            throw new IllegalArgumentException("capture " + capture.name() + " has only " + capture.size()
                    + " samples; at least " + FEWEST_SAMPLES + " are needed");
        }
        return new TransientComparison(capture, run);
    }

    /** {@return what was measured} */
    public Capture capture() {
        return capture;
    }

    /** {@return what to add to a time of the capture for the time in the run, s} */
    public double shift() {
        return alignment.shift();
    }

    /**
     * Returns what decided how both are aligned.
     *
     * @return "edges", "curve", or, where the capture or that part of the run is constant, "nothing"
     */
    public String alignment() {
        boolean flat = measured.highest() == measured.lowest() || part.peakToPeak() == 0;
        return alignment.byEdges() ? "edges" : flat ? "nothing" : "curve";
    }

    /** {@return true if edges had the last word on the shift, false if the curve alone told it} */
    public boolean isAlignedByEdges() {
        return alignment.byEdges();
    }

    /** {@return the figures of the capture} */
    public RunFigures measured() {
        return measured;
    }

    /** {@return the figures of the run over the same time} */
    public RunFigures simulated() {
        return expected;
    }

    /** {@return the largest distance of a sample from the run; at a jump up to the whole of it} */
    public double largestDifference() {
        return largestDifference;
    }

    /** {@return the RMS value of the samples less the run} */
    public double rmsDifference() {
        return rmsDifference;
    }

    /** {@return the run over the common time} */
    public Waveform run() {
        return part;
    }

    /** {@return the capture over the common time, in the time of the run} */
    public Waveform captured() {
        double shift = alignment.shift();
        return capture.waveform(part.startTime() - shift, part.endTime() - shift, shift);
    }

    /**
     * Returns what the capture has more than the simulation, for a reader: "mean +20 mV, ripple -1.2 mV, lowest 0 V, highest
     * +3 mV, at most 60 mV apart, 4 mV RMS".
     *
     * @return the differences; those of frequency and duty factor only where both sides have them
     */
    public String differences() {
        StringBuilder text = new StringBuilder();
        text.append("mean ").append(signed(measured.mean() - expected.mean()));
        text.append(", ripple ").append(signed(measured.ripple() - expected.ripple()));
        text.append(", lowest ").append(signed(measured.lowest() - expected.lowest()));
        text.append(", highest ").append(signed(measured.highest() - expected.highest()));
        text.append(", at most ").append(plain(largestDifference)).append(" apart, ");
        text.append(plain(rmsDifference)).append(" RMS");
        OptionalDouble frequency = measured.frequency();
        if (frequency.isPresent() && expected.frequency().isPresent()) {
            double ratio = frequency.getAsDouble() / expected.frequency().getAsDouble();
            double points = 100
                    * (measured.dutyFactor().orElseThrow()
                            - expected.dutyFactor().orElseThrow());
            text.append(String.format(
                    Locale.ROOT, ", frequency %+.3g %%, duty factor %+.3g points", 100 * (ratio - 1), points));
        }
        return text.toString();
    }

    private String signed(double value) {
        return (value > 0 ? "+" : "") + plain(value);
    }

    private String plain(double value) {
        return Quantity.format(value, part.unit(), 3);
    }

    @Override
    public String toString() {
        return capture + " beside " + part + ", shifted by " + Quantity.brief(alignment.shift(), Unit.SECOND)
                + ", aligned by " + alignment();
    }
}
