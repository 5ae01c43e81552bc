package org.voltsecond.converter;

import java.util.List;
import org.voltsecond.engine.Interval;
import org.voltsecond.waveform.Signal;

/**
 * How far a steady state is from the boundary between continuous and discontinuous conduction: a number that passes through
 * zero exactly where the rectifier current just reaches zero as its interval ends.
 *
 * <pre>{@code
 * double full = ConductionMargin.of(rail.steadyState()); // 0.794 of the peak current is left
 * double light = ConductionMargin.of(rail.withLoad(Load.resistor(100)).steadyState()); // -0.355 of the period is idle
 * }</pre>
 */
public final class ConductionMargin {
    /** A current that is less than zero by so small a part of its peak is zero. */
    private static final double ROUND_OFF = 1e-9;

    private ConductionMargin() {}

    /**
     * Returns the margin.
     *
     * @param steady a steady state
     * @return in continuous conduction the rectifier current as it ends, over its peak; in discontinuous conduction the idle
     *     part of the period, negative. Not a number if the rectifier never conducts, or carries current backwards, as a
     *     synchronous one does that knows no idle interval
     */
    public static double of(ConverterSteadyState steady) {
        double idle = steady.idleTime();
        if (idle > 0) {
            return -idle / steady.period();
        }
        Signal current = steady.converter().rectifierCurrent();
        double last = lastCurrent(steady, current);
        double peak = steady.of(current).maximum();
        return last >= -ROUND_OFF * peak ? last / peak : Double.NaN;
    }

    /** The smallest current with which the rectifier is relieved by another device. */
    private static double lastCurrent(ConverterSteadyState steady, Signal current) {
        List<Interval> intervals = steady.periodic().trajectory().intervals();
        double last = Double.NaN;
        for (int k = 0; k < intervals.size(); k++) {
            Interval interval = intervals.get(k);
            Interval next = intervals.get((k + 1) % intervals.size());
            if (rectifies(steady, interval) && !rectifies(steady, next)) {
                double value = interval.valueAt(current.in(interval.configuration()), interval.duration());
                last = Double.isNaN(last) ? value : Math.min(last, value);
            }
        }
        return last;
    }

    private static boolean rectifies(ConverterSteadyState steady, Interval interval) {
        return steady.converter().rectifies(interval.phase());
    }
}
