package org.voltsecond.waveform;

import org.voltsecond.engine.Piece;
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
        if (harmonics < 1) {
            throw new IllegalArgumentException("a spectrum needs at least 1 harmonic but got " + harmonics);
        }
        Sum[] re = sums(harmonics + 1);
        Sum[] im = sums(harmonics + 1);
        for (int span = 0; span < timeline.size(); span++) {
            for (Piece piece : curve.pieces(span)) {
                for (int k = 0; k <= harmonics; k++) {
                    add(piece, 2 * Math.PI * k / duration, timeline.start(), re[k], im[k]);
                }
            }
        }
        double[] real = new double[harmonics + 1];
        double[] imaginary = new double[harmonics + 1];
        for (int k = 0; k <= harmonics; k++) {
            double scale = (k == 0 ? 1 : 2) / duration;
            real[k] = scale * re[k].value();
            imaginary[k] = scale * im[k].value();
        }
        return new Spectrum(1 / duration, real, imaginary);
    }

    private static Sum[] sums(int count) {
        Sum[] sums = new Sum[count];
        for (int k = 0; k < count; k++) {
            sums[k] = new Sum();
        }
        return sums;
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
