package org.voltsecond.analysis;

import java.util.Comparator;
import java.util.Objects;
import java.util.function.DoubleFunction;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.Machine;
import org.voltsecond.numeric.RootSearch;

/**
 * A transfer function over frequency: exact at its frequencies, and on request at any other. Immutable; safe to use from
 * any thread.
 *
 * <pre>{@code
 * FrequencyResponse response = rail.steadyState()
 *         .smallSignal()
 *         .controlToOutput(FrequencyResponse.decades(100, kilo(100), 20)); // 20 frequencies a decade
 * FrequencyResponse.Peak peak = response.peak();
 * double resonance = peak.frequency(); // 4.83 kHz
 * double lag = response.phase(response.size() - 1); // -170.5 degrees
 * }</pre>
 */
public final class FrequencyResponse {
    private static final double FULL_TURN = 360;

    private final String name;
    private final String unit;
    private final double[] frequencies;
    private final Complex[] values;
    private final double[] phases;
    private final DoubleFunction<Complex> law;
    /** What is known of the closed loop besides the curve. */
    private final NyquistCriterion.@Nullable Growth growth;

    /** Kept once they were asked for, since each crossing takes some dozen evaluations. Any thread finds the same. */
    private volatile @Nullable Margins margins;

    private FrequencyResponse(
            String name, String unit, double[] frequencies, DoubleFunction<Complex> law, Complex... values) {
        this.name = name;
        this.unit = unit;
        this.frequencies = frequencies.clone();
        this.law = law;
        this.values = values;
        phases = unwrapped(values);
        growth = null;
    }

    private FrequencyResponse(
            String newName, FrequencyResponse other, double moreDegrees, NyquistCriterion.@Nullable Growth newGrowth) {
        name = newName;
        unit = other.unit;
        frequencies = other.frequencies;
        law = other.law;
        values = other.values;
        phases = DoubleStream.of(other.phases).map(phase -> phase + moreDegrees).toArray();
        growth = newGrowth;
    }

    /**
     * Works out a transfer function at given frequencies.
     *
     * @param name what it is, for figures
     * @param unit symbol of its unit; empty for a plain number
     * @param frequencies at least one, Hz, ascending; all more than 0
     * @param law the value at a frequency in Hz
     * @return the response
     * @throws IllegalArgumentException if the frequencies are not as they should be
     */
    public static FrequencyResponse of(String name, String unit, double[] frequencies, DoubleFunction<Complex> law) {
        requireSound(name, frequencies);
        Complex[] values = DoubleStream.of(frequencies).mapToObj(law).toArray(Complex[]::new);
        return new FrequencyResponse(name, unit, frequencies, law, values);
    }

    /** The same to the bit on as many threads as there are; the law has to be safe to use from any of them. */
    static FrequencyResponse ofAnyThread(String name, String unit, double[] frequencies, DoubleFunction<Complex> law) {
        requireSound(name, frequencies);
        Attempt[] attempts = Machine.onAnyThread(DoubleStream.of(frequencies))
                .mapToObj(frequency -> Attempt.at(frequency, law))
                .toArray(Attempt[]::new);
        Complex[] values = Stream.of(attempts).map(Attempt::value).toArray(Complex[]::new);
        return new FrequencyResponse(name, unit, frequencies, law, values);
    }

    /** A value or why there is none, since a failure that crosses threads by itself may lose its message. */
    private record Attempt(
            @Nullable Complex found, @Nullable RuntimeException failure) {
        static Attempt at(double frequency, DoubleFunction<Complex> law) {
            try {
                return new Attempt(law.apply(frequency), null);
            } catch (RuntimeException e) {
                return new Attempt(null, e);
            }
        }

        Complex value() {
            if (failure != null) {
                throw failure;
            }
            return Objects.requireNonNull(found, "a value or a failure");
        }
    }

    private static void requireSound(String name, double... frequencies) {
        boolean sound = frequencies.length > 0;
        for (int i = 0; i < frequencies.length; i++) {
            double below = i == 0 ? 0 : frequencies[i - 1];
            sound &= frequencies[i] > below && frequencies[i] < Double.POSITIVE_INFINITY;
        }
        if (!sound) {
            throw new IllegalArgumentException(name + ": frequencies must be at least one, more than 0 Hz, finite and "
                    + "ascending, but were " + java.util.Arrays.toString(frequencies) + " Hz");
        }
    }

    /**
     * Returns frequencies at equal ratios, both ends included.
     *
     * @param from lowest frequency, Hz; more than 0
     * @param to highest, Hz; above the lowest
     * @param pointsPerDecade at least this many in a decade; at least 1
     * @return the frequencies, Hz, ascending
     * @throws IllegalArgumentException if a number is out of its range
     */
    public static double[] decades(double from, double to, int pointsPerDecade) {
        if (!(from > 0 && to > from && to < Double.POSITIVE_INFINITY && pointsPerDecade >= 1)) {
            throw new IllegalArgumentException(
                    "frequencies must run from more than 0 Hz up to a higher finite one with at "
                            + "least 1 point per decade, but were asked for from " + from + " Hz to " + to + " Hz with "
                            + pointsPerDecade);
        }
        int steps = (int) Math.ceil(pointsPerDecade * Math.log10(to / from) - 1e-9);
        return IntStream.rangeClosed(0, steps)
                .mapToDouble(i -> i == 0 ? from : i == steps ? to : from * Math.pow(to / from, (double) i / steps))
                .toArray();
    }

    /**
     * Returns the same under another name.
     *
     * @param other what it is, for figures
     * @return the response
     */
    public FrequencyResponse named(String other) {
        return new FrequencyResponse(other, this, 0, growth);
    }

    /** The same curve as a loop gain of which more is known. */
    FrequencyResponse closing(NyquistCriterion.Growth known) {
        return new FrequencyResponse(name, this, 0, known);
    }

    private static double[] unwrapped(Complex[] values) {
        double[] phases = new double[values.length];
        double last = -FULL_TURN / 4;
        for (int i = 0; i < phases.length; i++) {
            double principal = Math.toDegrees(values[i].argument());
            phases[i] = principal - FULL_TURN * Math.rint((principal - last) / FULL_TURN);
            last = Double.isFinite(phases[i]) ? phases[i] : last;
        }
        return phases;
    }

    /**
     * Returns what it is.
     *
     * @return the name, for figures
     */
    public String name() {
        return name;
    }

    /**
     * Returns the unit of the values.
     *
     * @return its symbol; empty for a plain number
     */
    public String unit() {
        return unit;
    }

    /**
     * Returns the number of frequencies.
     *
     * @return the number
     */
    public int size() {
        return frequencies.length;
    }

    /**
     * Returns the frequencies.
     *
     * @return Hz, ascending, a new array
     */
    public double[] frequencies() {
        return frequencies.clone();
    }

    /**
     * Returns one frequency.
     *
     * @param index from 0
     * @return Hz
     */
    public double frequency(int index) {
        return frequencies[index];
    }

    /**
     * Returns one value.
     *
     * @param index from 0
     * @return the complex ratio of output to input, in {@link #unit()}
     */
    public Complex value(int index) {
        return values[index];
    }

    /**
     * Returns the value at any frequency, worked out anew.
     *
     * @param frequency Hz; more than 0
     * @return the complex ratio of output to input, in {@link #unit()}
     */
    public Complex at(double frequency) {
        return law.apply(frequency);
    }

    /**
     * Returns the magnitude of one value.
     *
     * @param index from 0
     * @return the ratio of the amplitudes, in {@link #unit()}
     */
    public double magnitude(int index) {
        return values[index].magnitude();
    }

    /**
     * Returns the magnitude of one value in decibels.
     *
     * @param index from 0
     * @return 20 log10 of the magnitude in {@link #unit()}, dB
     */
    public double decibels(int index) {
        return decibels(values[index]);
    }

    private static double decibels(Complex value) {
        return 20 * Math.log10(value.magnitude());
    }

    /**
     * Returns the same response with its phases told on another turn. An impedance that begins as that of an inductor, just
     * above 90 degrees, begins there with -180, where a loop gain, of which the first phase usually lies above -270 degrees,
     * would be told from -270 down. Nothing else changes, margins neither.
     *
     * @param degrees what the phase at the lowest frequency is to lie above, by up to 360 degrees; finite
     * @return the response
     * @throws IllegalArgumentException if the number is not finite
     */
    public FrequencyResponse withFirstPhaseAbove(double degrees) {
        if (!Double.isFinite(degrees)) {
            throw new IllegalArgumentException(
                    name + ": the first phase must lie above a finite number of degrees but was to lie above " + degrees
                            + " degrees; valid: for example -180 degrees");
        }
        double first =
                DoubleStream.of(phases).filter(Double::isFinite).findFirst().orElse(degrees + FULL_TURN / 2);
        double turns = Math.rint((first - degrees) / FULL_TURN - 0.5);
        return turns == 0 ? this : new FrequencyResponse(name, this, -FULL_TURN * turns, growth);
    }

    /**
     * Returns the phase of one value. It is continued from frequency to frequency without jumps of a whole turn; the first
     * lies from -270 up to 90 degrees, unless {@link #withFirstPhaseAbove} moved it.
     *
     * @param index from 0
     * @return the phase, degrees; positive where the output leads
     */
    public double phase(int index) {
        return phases[index];
    }

    /**
     * Returns the largest magnitude, refined between the frequencies where it lies inside their range.
     *
     * @return where it is, and what it is
     */
    public Peak peak() {
        int largest = IntStream.range(0, size())
                .boxed()
                .max(Comparator.comparingDouble(this::magnitude))
                .orElseThrow();
        double low = Math.log(frequencies[Math.max(0, largest - 1)]);
        double high = Math.log(frequencies[Math.min(size() - 1, largest + 1)]);
        RootSearch.Top top =
                RootSearch.highest(logarithm -> at(Math.exp(logarithm)).magnitude(), low, high, 1e-9);
        return top.value() > magnitude(largest)
                ? new Peak(Math.exp(top.at()), top.value())
                : new Peak(frequencies[largest], magnitude(largest));
    }

    /**
     * The largest magnitude of a response.
     *
     * @param frequency where it is, Hz
     * @param magnitude what it is, in the unit of the response
     */
    public record Peak(double frequency, double magnitude) {}

    /**
     * Reads this response as a loop gain and works out its margins: those of the curve between the lowest and the highest
     * frequency, each crossing refined to round-off. Whether the loop is stable is known of one that {@link
     * SmallSignal#loopGain} worked out, by the multipliers of its steady state; then the gain margins are those of the curve up to
     * half the switching frequency, beyond which it shows images of what is below. Of any other curve it is
     * counted from the curve, with an open loop that is stable.
     *
     * @return the margins
     */
    public Margins margins() {
        Margins known = margins;
        if (known == null) {
            known = NyquistCriterion.margins(this, new LoopCurve(frequencies, values, law), growth);
            margins = known;
        }
        return known;
    }

    @Override
    public String toString() {
        return name + " at " + size() + " frequencies";
    }
}
