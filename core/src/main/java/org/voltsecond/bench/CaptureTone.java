package org.voltsecond.bench;

import java.util.OptionalDouble;

/**
 * Finds the fundamental of a capture without edges near an expected frequency: the highest of its spectrum behind a Hann
 * window, first of a few periods in the middle, then of ever more of them, so that each search is a short one.
 *
 * <p>A named numeric kernel.
 */
final class CaptureTone {
    /** How far the frequency may be from the one expected, as a share of it. */
    private static final double REACH = 0.3;

    /** Below this, what the window lets through of the mean and the mirror image would move the peak. */
    private static final double FEWEST_PERIODS = 8;

    /** How many times the mean power of noise the peak must have; noise does so at one frequency in a million. */
    private static final double STANDS_OUT = 14;

    private final Capture capture;
    private final double expected;

    private CaptureTone(Capture capture, double expected) {
        this.capture = capture;
        this.expected = expected;
    }

    /** The frequency, Hz; empty if there are too few periods or nothing stands out of the noise. */
    static OptionalDouble in(Capture capture, double expected) {
        double duration = capture.endTime() - capture.startTime();
        if (!(duration * expected >= FEWEST_PERIODS)) {
            return OptionalDouble.empty();
        }
        return new CaptureTone(capture, expected).search(duration);
    }

    private OptionalDouble search(double duration) {
        double window = FEWEST_PERIODS / expected;
        double frequency = highest(window, (1 - REACH) * expected, (1 + REACH) * expected);
        while (window < duration) {
            double uncertain = 0.3 / window;
            window = Math.min(2 * window, duration);
            frequency = highest(window, frequency - uncertain, frequency + uncertain);
        }
        return power(window, frequency)[1] > STANDS_OUT ? OptionalDouble.of(frequency) : OptionalDouble.empty();
    }

    /** The frequency of the highest power: on a grid, then on the parabola through three points about it. */
    private double highest(double window, double from, double to) {
        double step = 0.1 / window;
        int count = (int) Math.ceil((to - from) / step);
        int best = 0;
        double most = -1;
        for (int k = 0; k <= count; k++) {
            double power = power(window, from + k * step)[0];
            best = power > most ? k : best;
            most = Math.max(most, power);
        }
        double middle = from + best * step;
        double left = power(window, middle - step)[0];
        double right = power(window, middle + step)[0];
        double bend = left - 2 * most + right;
        return bend < 0 ? middle + Math.max(-1, Math.min(1, 0.5 * (left - right) / bend)) * step : middle;
    }

    /** Power at a frequency, and how many times the mean power that white noise of the same RMS value would have. */
    private double[] power(double window, double frequency) {
        double centre = 0.5 * (capture.startTime() + capture.endTime());
        double from = centre - 0.5 * window;
        double mean = capture.mean(from, from + window);
        double real = 0;
        double imaginary = 0;
        double noise = 0;
        for (int i = capture.before(from); i < capture.size() && capture.time(i) <= from + window; i++) {
            double time = capture.time(i) - from;
            double weight = time < 0 ? 0 : 0.5 - 0.5 * StrictMath.cos(2 * Math.PI * time / window);
            double value = weight * (capture.value(i) - mean);
            double angle = 2 * Math.PI * frequency * time;
            real += value * StrictMath.cos(angle);
            imaginary += value * StrictMath.sin(angle);
            noise += value * value;
        }
        double power = real * real + imaginary * imaginary;
        return new double[] {power, noise > 0 ? power / noise : 0};
    }
}
