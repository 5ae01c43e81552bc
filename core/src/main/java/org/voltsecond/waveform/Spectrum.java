package org.voltsecond.waveform;

import java.util.function.ToDoubleBiFunction;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The Fourier coefficients of a periodic waveform, exact up to rounding since each polynomial is integrated against the
 * sine and cosine in closed form: {@code x(t) = mean + sum amplitude(k) cos(2 pi k f (t - start) + phase(k))}.
 *
 * <p><b>Accuracy</b>: an absolute error of about 1e-15 of the largest value. Immutable.
 *
 * <pre>{@code
 * Spectrum spectrum = steady.of(rail.inputCurrent()).spectrum(20);
 * double fundamental = spectrum.amplitude(1); // 1.267 A
 * double tenth = spectrum.fundamentalFrequency() * 10; // 3 MHz
 * }</pre>
 */
public final class Spectrum {
    private final double fundamental;
    private final double[] real;
    private final double[] imaginary;

    private Spectrum(double fundamental, double[] real, double[] imaginary) {
        this.fundamental = fundamental;
        this.real = real;
        this.imaginary = imaginary;
    }

    static Spectrum of(Timeline timeline, Curve curve, double duration, int harmonics) {
        requireHarmonics(harmonics);
        double[][] found = coefficients(timeline, curve, duration, 0, harmonics);
        return new Spectrum(1 / duration, found[0], found[1]);
    }

    /** Those of the harmonics between two, real parts in row 0, imaginary parts in row 1. */
    private static double[][] coefficients(Timeline timeline, Curve curve, double duration, int first, int last) {
        Sum[] re = sums(last - first + 1);
        Sum[] im = sums(last - first + 1);
        for (int span = 0; span < timeline.size(); span++) {
            for (Piece piece : curve.pieces(span)) {
                for (int k = first; k <= last; k++) {
                    add(piece, 2 * Math.PI * k / duration, timeline.start(), re[k - first], im[k - first]);
                }
            }
        }
        double[][] result = new double[2][re.length];
        for (int k = 0; k < re.length; k++) {
            double scale = (first + k == 0 ? 1 : 2) / duration;
            result[0][k] = scale * re[k].value();
            result[1][k] = scale * im[k].value();
        }
        return result;
    }

    private static Sum[] sums(int count) {
        Sum[] sums = new Sum[count];
        for (int k = 0; k < count; k++) {
            sums[k] = new Sum();
        }
        return sums;
    }

    /**
     * Works out the Fourier coefficients of a signal over a period, from the ends of the intervals alone: the same as those of its
     * waveform, but quick also for thousands of harmonics, and with steps that may take a time.
     *
     * <p><b>Accuracy</b>: about 1e-15 of the largest state; where a time constant is below a millionth of the period, 1e-21 of the period
     * over the time constant. A harmonic on a resonance narrower than a millionth of its frequency is taken from the waveform.
     *
     * @param trajectory one period
     * @param signal what to look at
     * @param harmonics the highest harmonic, at least 1
     * @param ramp tells of two intervals that follow each other how long the step between them takes, s; 0 for a jump. What happens
     *     there then happens in a straight ramp about the instant, wherever it shows
     * @return the spectrum
     * @throws IllegalArgumentException if no harmonic is asked for, or the signal belongs to another system
     */
    public static Spectrum of(
            Trajectory trajectory, Signal signal, int harmonics, ToDoubleBiFunction<Interval, Interval> ramp) {
        requireHarmonics(harmonics);
        double[][] found = new SignalSpectrum(trajectory, signal, ramp).coefficients(harmonics);
        Waveform waveform = Waveform.of(trajectory, signal);
        double period = trajectory.end() - trajectory.start();
        for (int k = 0; k <= harmonics; k++) {
            if (k == 0 || Double.isNaN(found[0][k])) { // the mean, and what lies on a resonance, the ends do not tell
                double[][] whole = coefficients(waveform.timeline(), waveform.curve(), period, k, k);
                found[0][k] = whole[0][0];
                found[1][k] = whole[1][0];
            }
        }
        return new Spectrum(1 / period, found[0], found[1]);
    }

    private static void requireHarmonics(int harmonics) {
        if (harmonics < 1) {
            throw new IllegalArgumentException("a spectrum needs at least 1 harmonic but got " + harmonics);
        }
    }

    /** Adds the integral of the piece times exp(-j omega (t - origin)). */
    private static void add(Piece piece, double omega, double origin, Sum re, Sum im) {
        double[][] moments = Moments.of(piece.degree(), omega * piece.length());
        double real = 0;
        double imaginary = 0;
        for (int m = piece.degree(); m >= 0; m--) {
            real += piece.coefficient(m) * moments[0][m];
            imaginary += piece.coefficient(m) * moments[1][m];
        }
        double turn = -omega * (piece.start() - origin);
        double cos = Math.cos(turn) * piece.length();
        double sin = Math.sin(turn) * piece.length();
        re.add(real * cos - imaginary * sin);
        im.add(real * sin + imaginary * cos);
    }

    /**
     * Returns the fundamental frequency: one over the duration of the waveform.
     *
     * @return the frequency, Hz
     */
    public double fundamentalFrequency() {
        return fundamental;
    }

    /**
     * Returns the highest harmonic that was asked for.
     *
     * @return its order; 1 is the fundamental
     */
    public int harmonics() {
        return real.length - 1;
    }

    /**
     * Returns the amplitude (peak value) of one harmonic; its RMS value is this over the square root of two.
     *
     * @param harmonic order from 0 (the size of the mean) to {@link #harmonics()}
     * @return the amplitude, in the unit of the waveform
     */
    public double amplitude(int harmonic) {
        return Math.hypot(real[harmonic], imaginary[harmonic]);
    }

    /**
     * Returns the phase of one harmonic as a cosine, from the start of the waveform.
     *
     * @param harmonic order from 0 to {@link #harmonics()}
     * @return the phase, rad, from -pi to pi
     */
    public double phase(int harmonic) {
        return Math.atan2(imaginary[harmonic], real[harmonic]);
    }

    /**
     * Returns the mean.
     *
     * @return the mean with its sign, in the unit of the waveform
     */
    public double mean() {
        return real[0];
    }

    @Override
    public String toString() {
        return harmonics() + " harmonics of " + Quantity.format(fundamentalFrequency(), Unit.HERTZ, 4);
    }
}
