package org.voltsecond.analysis;

import java.util.function.Predicate;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Trajectory;

/** Shares of each clock period of a run in which a condition holds. */
final class DutyCycles {
    private final double clockPeriod;
    private final double[] times;

    private DutyCycles(double clockPeriod, int periods) {
        this.clockPeriod = clockPeriod;
        times = new double[periods];
    }

    /** One share for each whole period. */
    static double[] of(Trajectory run, double clockPeriod, Predicate<Phase> condition) {
        int periods = (int) Math.floor((run.end() - run.start()) / clockPeriod * (1 + 0x1p-50));
        DutyCycles series = new DutyCycles(clockPeriod, periods);
        for (Interval interval : run.intervals()) {
            if (condition.test(interval.phase())) {
                series.add(interval.startTime().tick(), interval.sinceTick(), interval.duration());
            }
        }
        for (int k = 0; k < periods; k++) {
            series.times[k] /= clockPeriod;
        }
        return series.times;
    }

    private void add(long tick, double sinceTick, double duration) {
        long period = tick;
        double from = sinceTick;
        double left = duration;
        while (left > 0 && period < times.length) {
            double here = Math.min(left, Math.max(0, clockPeriod - from));
            times[(int) period] += here;
            left -= here;
            from = 0;
            period++;
        }
    }
}
