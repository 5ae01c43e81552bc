package org.voltsecond.bench;

import org.voltsecond.waveform.Waveform;

/**
 * The integral of a run from its start on, at equal distances and straight between them; before its start and after its
 * end the run rests at its mean over the first and the last of these distances. Immutable.
 */
final class RunIntegral {
    private final double start;
    private final double step;
    private final double[] sums;

    private RunIntegral(double start, double step, double[] sums) {
        this.start = start;
        this.step = step;
        this.sums = sums;
    }

    static RunIntegral of(Waveform run, int steps) {
        double start = run.startTime();
        double step = (run.endTime() - start) / steps;
        double[] sums = new double[steps + 1];
        double from = start;
        for (int i = 1; i <= steps; i++) {
            double to = i == steps ? run.endTime() : start + i * step;
            sums[i] = sums[i - 1] + run.between(from, to).integral();
            from = to;
        }
        return new RunIntegral(start, step, sums);
    }

    double at(double time) {
        double place = (time - start) / step;
        int index = (int) Math.max(0, Math.min(sums.length - 2.0, Math.floor(place)));
        return sums[index] + (place - index) * (sums[index + 1] - sums[index]);
    }
}
