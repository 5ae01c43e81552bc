package org.voltsecond.emission;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.DoubleFunction;
import java.util.function.IntToDoubleFunction;
import java.util.function.ToDoubleBiFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.Interval;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Spectrum;

/**
 * What a receiver would see at the artificial networks: every harmonic, in dBµV of its RMS value. The level of a harmonic is what the
 * average detector reads. A peak detector reads at most the sum of the magnitudes within its bandwidth, {@link #peakBound}, and a
 * quasi-peak detector no more than a peak detector. Immutable, safe for any thread.
 *
 * <pre>{@code
 * Emissions seen = EmissionEstimate.of(rail).limits(EmissionLimits.CLASS_A).measure();
 * double first = seen.frequency(1); // 300 kHz
 * double level = seen.level(1); // 132.4, in dBµV
 * double ofReceiver = seen.peakBound(1); // 132.4: there is no other harmonic within 9 kHz
 * }</pre>
 */
public final class Emissions {
    /** Limits count from here on: the lowest frequency of CISPR 32, Hz. */
    public static final double LOWEST = 150e3;

    /** What is told of a harmonic that is nothing but round-off, dBµV; the noise of the receiver's 50 Ω in 9 kHz is at -21 dBµV. */
    private static final double SILENCE = -200;

    private static final double MICROVOLT = 1e-6;

    /** The words for the minus line. */
    public static final String MINUS_LINE = "minus line";

    private final EmissionEstimate test;
    private final ConverterSteadyState steady;
    private final Signal plusLine;
    private final Spectrum plus;
    private final @Nullable Spectrum minus;
    private final @Nullable Spectrum common;
    private final @Nullable Spectrum differential;

    Emissions(
            EmissionEstimate test,
            ArtificialNetwork.Installed at,
            ConverterSteadyState steady,
            int harmonics,
            ToDoubleBiFunction<Interval, Interval> ramps) {
        this.test = test;
        this.steady = steady;
        plusLine = at.plusLine();
        plus = spectrum(steady, at.plusLine(), harmonics, ramps);
        if (test.hasCommonMode()) {
            minus = spectrum(steady, at.minusLine(), harmonics, ramps);
            Signal sum = at.plusLine().plus(at.minusLine());
            common = spectrum(steady, sum.times(0.5), harmonics, ramps);
            differential = spectrum(steady, at.plusLine().minus(at.minusLine()).times(0.5), harmonics, ramps);
        } else {
            minus = null; // what flows in one line flows back in the other
            common = null;
            differential = null;
        }
    }

    private static Spectrum spectrum(
            ConverterSteadyState steady, Signal signal, int harmonics, ToDoubleBiFunction<Interval, Interval> ramps) {
        return Spectrum.of(steady.periodic().trajectory(), signal, harmonics, ramps);
    }

    /** {@return how they were looked at} */
    public EmissionEstimate test() {
        return test;
    }

    /** {@return the steady state of the converter that is fed through the networks; it may be an unstable one} */
    public ConverterSteadyState steady() {
        return steady;
    }

    /** {@return what a receiver sees at the network of the plus line, V} */
    public Signal plusLine() {
        return plusLine;
    }

    /** {@return how many harmonics there are, up to the highest frequency} */
    public int size() {
        return plus.harmonics();
    }

    /**
     * Returns the frequency of a harmonic.
     *
     * @param harmonic from 1
     * @return Hz
     */
    public double frequency(int harmonic) {
        return harmonic * plus.fundamentalFrequency();
    }

    /**
     * Returns the level across the network of the plus line.
     *
     * @param harmonic from 1
     * @return dBµV
     */
    public double level(int harmonic) {
        return decibels(rms(plus, harmonic));
    }

    /**
     * Returns the level across the network of the minus line; without a capacitance to earth that of the plus line.
     *
     * @param harmonic from 1
     * @return dBµV
     */
    public double minusLevel(int harmonic) {
        return decibels(rms(minus == null ? plus : minus, harmonic));
    }

    /**
     * Returns the level of the common mode: of half the sum of both lines.
     *
     * @param harmonic from 1
     * @return dBµV; empty where nothing leads to earth
     */
    public OptionalDouble commonMode(int harmonic) {
        return common == null ? OptionalDouble.empty() : OptionalDouble.of(decibels(rms(common, harmonic)));
    }

    /**
     * Returns the level of the differential mode: of half the difference of both lines.
     *
     * @param harmonic from 1
     * @return dBµV
     */
    public double differentialMode(int harmonic) {
        return decibels(rms(differential == null ? plus : differential, harmonic));
    }

    /**
     * Returns a bound of what a peak detector reads with the harmonic in the middle of its bandwidth: the sum of the magnitudes of all
     * harmonics within it, whatever their phases, by the 6 dB bandwidth as if the filter were a rectangle. The bandwidth is 9 kHz below
     * 30 MHz, 120 kHz above (CISPR 16-1-1, from memory).
     *
     * @param harmonic from 1
     * @return dBµV
     */
    public double peakBound(int harmonic) {
        double bandwidth = frequency(harmonic) <= 30e6 ? 9e3 : 120e3;
        int each = (int) Math.floor(bandwidth / 2 * (1 + 1e-9) / plus.fundamentalFrequency());
        double sum = 0;
        for (int k = Math.max(1, harmonic - each); k <= Math.min(size(), harmonic + each); k++) {
            sum += rms(plus, k);
        }
        return decibels(sum);
    }

    private static double rms(Spectrum spectrum, int harmonic) {
        return spectrum.amplitude(harmonic) / Math.sqrt(2);
    }

    private static double decibels(double rms) {
        return Math.max(SILENCE, 20 * StrictMath.log10(rms / MICROVOLT));
    }

    /**
     * A harmonic against its limit.
     *
     * <pre>{@code
     * Emissions.Worst worst = new Emissions.Worst(kilo(300), 42, 50);
     * double margin = worst.margin(); // 8
     * }</pre>
     *
     * @param frequency Hz
     * @param level dBµV
     * @param limit dBµV; not a number for the strongest of harmonics that have none
     */
    public record Worst(double frequency, double level, double limit) {
        /** Why there is neither limit nor margin. */
        public static final String WITHOUT_LIMIT = "no limits are given to hold the levels against";

        /** {@return limit less level, dB; negative where the limit is exceeded} */
        public double margin() {
            return limit - level;
        }

        /** {@return in words, whether the limit is met and by how much} */
        public String verdict() {
            String distance = String.format(
                    java.util.Locale.ROOT,
                    "%.1f dB at %s: %.1f dBµV, limit %.1f dBµV",
                    Math.abs(margin()),
                    Quantity.brief(frequency, Unit.HERTZ),
                    level,
                    limit);
            return margin() < 0 ? "exceeded by " + distance : "met with " + distance;
        }
    }

    /**
     * Returns the harmonic with the least margin from 150 kHz on, at the plus line, against the limit of the average detector.
     *
     * @return the harmonic, or why there is none
     */
    public Result<Worst> worst() {
        EmissionLimits limits = test.limits();
        return limits == null ? none() : worst(this::level, limits::average);
    }

    /**
     * Returns the same of what else there is where something leads to earth.
     *
     * @return of the minus line, the common mode and the differential mode, by these words; empty without a capacitance to earth
     */
    public Map<String, Result<Worst>> worstElsewhere() {
        Map<String, Result<Worst>> all = new LinkedHashMap<>();
        EmissionLimits limits = test.limits();
        if (common != null && limits != null) {
            all.put(MINUS_LINE, worst(this::minusLevel, limits::average));
            all.put("common mode", worst(k -> decibels(rms(common, k)), limits::average));
            all.put("differential mode", worst(this::differentialMode, limits::average));
        }
        return all;
    }

    /**
     * Returns the harmonic whose {@link #peakBound} has the least margin against the limit of the quasi-peak detector.
     *
     * @return the harmonic, or why there is none
     */
    public Result<Worst> worstPeak() {
        EmissionLimits limits = test.limits();
        return limits == null ? none() : worst(this::peakBound, limits::quasiPeak);
    }

    private static Result<Worst> none() {
        return Result.missing(Worst.WITHOUT_LIMIT);
    }

    /**
     * Returns the strongest harmonic of the plus line from 150 kHz on, where no limits are given.
     *
     * @return the harmonic, or why there is none
     */
    public Result<Worst> strongest() {
        Result<Worst> found = worst(this::level, frequency -> OptionalDouble.of(0));
        return found.map(worst -> new Worst(worst.frequency(), worst.level(), Double.NaN));
    }

    private Result<Worst> worst(IntToDoubleFunction level, DoubleFunction<OptionalDouble> limit) {
        Worst worst = null;
        for (int k = 1; k <= size(); k++) {
            OptionalDouble bound = limit.apply(frequency(k));
            if (frequency(k) >= LOWEST * (1 - 1e-9) && bound.isPresent()) {
                Worst here = new Worst(frequency(k), level.applyAsDouble(k), bound.getAsDouble());
                worst = worst == null || here.margin() < worst.margin() ? here : worst;
            }
        }
        return worst == null
                ? Result.missing("no harmonic from 150 kHz to " + Quantity.brief(test.highest(), Unit.HERTZ)
                        + " lies where there is a limit")
                : Result.of(worst);
    }

    @Override
    public String toString() {
        return size() + " harmonics of " + Quantity.format(plus.fundamentalFrequency(), Unit.HERTZ, 4) + " at "
                + test.network();
    }
}
