package org.voltsecond.bench;

import org.voltsecond.waveform.Waveform;

/** One period of a signal at equally spaced phases; of a capture the average of all its whole periods. Immutable. */
final class CapturePeriod {
    private static final int PHASES = 720;

    private final double[] values;

    private CapturePeriod(double[] values) {
        this.values = values;
    }

    static CapturePeriod of(Waveform period) {
        double[] values = new double[PHASES];
        double length = period.endTime() - period.startTime();
        for (int i = 0; i < PHASES; i++) {
            values[i] = period.at(period.startTime() + length * i / PHASES);
        }
        return new CapturePeriod(values);
    }

    /**
     * Averages a capture.
     *
     * @param origin a time at which a period begins, within the capture or not
     */
    static CapturePeriod of(Capture capture, double origin, double length) {
        double start = origin + Math.ceil((capture.startTime() - origin) / length) * length;
        int periods = (int) Math.floor((capture.endTime() - start) / length);
        double[] sums = new double[PHASES];
        int index = 0;
        for (int k = 0; k < periods; k++) {
            for (int i = 0; i < PHASES; i++) {
                double time = start + (k + (double) i / PHASES) * length;
                while (index + 2 < capture.size() && capture.time(index + 1) <= time) {
                    index++;
                }
                sums[i] += capture.at(time, index) / periods;
            }
        }
        return new CapturePeriod(sums);
    }

    double ripple() {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double value : values) {
            low = Math.min(low, value);
            high = Math.max(high, value);
        }
        return high - low;
    }

    private double mean() {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / PHASES;
    }

    /** Correlation coefficient with another period that begins a number of phases later; NaN if either is flat. */
    double correlation(CapturePeriod later, int phases) {
        double mine = mean();
        double theirs = later.mean();
        double product = 0;
        double square = 0;
        double otherSquare = 0;
        for (int i = 0; i < PHASES; i++) {
            double a = values[i] - mine;
            double b = later.values[(i + phases) % PHASES] - theirs;
            product += a * b;
            square += a * a;
            otherSquare += b * b;
        }
        return product / Math.sqrt(square * otherSquare);
    }

    /** By which share of a period the other is best begun later; 0 if either is flat. */
    double bestShare(CapturePeriod other) {
        int best = 0;
        double most = -2;
        for (int k = 0; k < PHASES; k++) {
            double correlation = correlation(other, k);
            best = correlation > most ? k : best;
            most = correlation > most ? correlation : most;
        }
        double left = correlation(other, (best + PHASES - 1) % PHASES);
        double right = correlation(other, (best + 1) % PHASES);
        double bend = left - 2 * most + right;
        double between = bend < 0 ? Math.max(-1, Math.min(1, 0.5 * (left - right) / bend)) : 0;
        return (best + between) / PHASES;
    }

    double rmsDifference(CapturePeriod other) {
        double sum = 0;
        for (int i = 0; i < PHASES; i++) {
            sum += (values[i] - other.values[i]) * (values[i] - other.values[i]);
        }
        return Math.sqrt(sum / PHASES);
    }
}
