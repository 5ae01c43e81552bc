package org.voltsecond.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.voltsecond.waveform.Crossing;
import org.voltsecond.waveform.Waveform;

/**
 * Finds where a capture passes through the middle between its two levels. A passage counts once the signal has come from
 * the lower to the upper third between the levels, or back, so that noise below a third of the step makes none of its own.
 * The levels are the medians of the samples below and above the middle of the extremes: spikes do not move them.
 */
final class CaptureEdges {
    /** How far a period may be from the median one. */
    private static final double IRREGULAR = 0.25;

    private final double[] rising;
    private final double[] falling;

    private CaptureEdges(List<Double> rising, List<Double> falling) {
        this.rising = rising.stream().mapToDouble(Double::doubleValue).toArray();
        this.falling = falling.stream().mapToDouble(Double::doubleValue).toArray();
    }

    static CaptureEdges of(Capture capture) {
        double middle = 0.5 * (capture.minimum() + capture.maximum());
        double low = median(capture, middle, false);
        double high = median(capture, middle, true);
        List<Double> rising = new ArrayList<>();
        List<Double> falling = new ArrayList<>();
        double level = 0.5 * (low + high);
        double third = (high - low) / 6;
        int state = 0;
        double passage = Double.NaN;
        for (int i = 0; i < capture.size(); i++) {
            double value = capture.value(i);
            if (i > 0 && (capture.value(i - 1) < level) != (value < level)) {
                passage = passage(capture, i, level);
            }
            int next = value > level + third ? 1 : value < level - third ? -1 : state;
            if (next != state && state != 0) {
                (next > 0 ? rising : falling).add(passage);
            }
            state = next;
        }
        return new CaptureEdges(rising, falling);
    }

    /** Of a waveform, where it passes through the middle between its extremes. */
    static CaptureEdges of(Waveform waveform) {
        double middle = 0.5 * (waveform.minimum() + waveform.maximum());
        List<Double> rising = new ArrayList<>();
        List<Double> falling = new ArrayList<>();
        for (Crossing crossing : waveform.crossings(middle)) {
            (crossing.rising() ? rising : falling).add(crossing.time());
        }
        return new CaptureEdges(rising, falling);
    }

    /** Those from one time to another. */
    CaptureEdges within(double from, double to) {
        return new CaptureEdges(within(rising, from, to), within(falling, from, to));
    }

    private static List<Double> within(double[] times, double from, double to) {
        return Arrays.stream(times)
                .filter(time -> time >= from && time <= to)
                .boxed()
                .toList();
    }

    double[] rising() {
        return rising.clone();
    }

    double[] falling() {
        return falling.clone();
    }

    private static double passage(Capture capture, int i, double level) {
        double before = capture.value(i - 1);
        double share = (level - before) / (capture.value(i) - before);
        return capture.time(i - 1) + share * (capture.time(i) - capture.time(i - 1));
    }

    private static double median(Capture capture, double middle, boolean upper) {
        double[] part = new double[capture.size()];
        int count = 0;
        for (int i = 0; i < part.length; i++) {
            if ((capture.value(i) >= middle) == upper) {
                part[count++] = capture.value(i);
            }
        }
        Arrays.sort(part, 0, count);
        return count == 0 ? middle : part[count / 2];
    }

    /** Whether there are at least two periods and they are alike. */
    boolean regular() {
        if (rising.length < 3) {
            return false;
        }
        double[] periods = new double[rising.length - 1];
        Arrays.setAll(periods, i -> rising[i + 1] - rising[i]);
        double[] sorted = periods.clone();
        Arrays.sort(sorted);
        double median = sorted[sorted.length / 2];
        return sorted[0] > (1 - IRREGULAR) * median && sorted[sorted.length - 1] < (1 + IRREGULAR) * median;
    }

    /** Period and time of an edge near the middle, of the straight line that fits the rising edges best. */
    double[] fit() {
        double middle = 0.5 * (rising.length - 1);
        double sum = 0;
        double moment = 0;
        double spread = 0;
        for (int i = 0; i < rising.length; i++) {
            sum += rising[i];
            moment += (i - middle) * rising[i];
            spread += (i - middle) * (i - middle);
        }
        double period = moment / spread;
        int edge = rising.length / 2;
        return new double[] {period, sum / rising.length + (edge - middle) * period};
    }

    /** The share of the time above the middle, over whole periods. */
    double dutyFactor() {
        double high = 0;
        int k = 0;
        for (int i = 0; i + 1 < rising.length; i++) {
            while (falling[k] < rising[i]) {
                k++;
            }
            high += falling[k] - rising[i];
        }
        return high / (rising[rising.length - 1] - rising[0]);
    }
}
