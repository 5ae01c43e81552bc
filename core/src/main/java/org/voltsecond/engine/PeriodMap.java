package org.voltsecond.engine;

import java.util.Arrays;
import org.voltsecond.engine.PhaseRun.Step;

/**
 * The map from the state on a clock edge to the state some clock periods later, with its exact derivative. The
 * derivative counts the shift of event times: at a guard's crossing a change of the state is multiplied by the saltation
 * matrix (M. di Bernardo, C. Budd, A. Champneys, P. Kowalczyk, Piecewise-smooth Dynamical Systems, Springer 2008,
 * sec. 2.5, from memory). Keeps scratch space: not for use by several threads.
 */
public final class PeriodMap implements IntervalListener {
    private final Run run;
    private final ClockTime end;
    private final int n;
    private final boolean differentiate;
    private final double[] rateBefore;
    private final double[] rateAfter;
    private double[] derivative;
    private final double[] timeShift;
    private boolean first;
    private boolean applied;

    private PeriodMap(SwitchingLaw law, int periods, boolean differentiate) {
        if (periods < 1) {
            throw new IllegalArgumentException("a map must span at least 1 clock period but was to span " + periods);
        }
        run = new Run(law, differentiate ? this : null, true);
        end = new ClockTime(periods, 0);
        n = run.scaling().dimension();
        this.differentiate = differentiate;
        rateBefore = new double[n];
        rateAfter = new double[n];
        derivative = new double[n * n];
        timeShift = new double[n];
    }

    /**
     * Returns the map with its derivative. The system must have no scheduled changes within the time.
     *
     * @param law the system
     * @param periods number of clock periods, at least 1
     * @return the map
     */
    public static PeriodMap withDerivative(SwitchingLaw law, int periods) {
        return new PeriodMap(law, periods, true);
    }

    /**
     * Returns the map without its derivative, which is quicker.
     *
     * @param law the system
     * @param periods number of clock periods, at least 1
     * @return the map
     */
    public static PeriodMap of(SwitchingLaw law, int periods) {
        return new PeriodMap(law, periods, false);
    }

    /**
     * Applies the map.
     *
     * @param state the state on a clock edge, SI units
     * @return the state at the end, SI units, just before anything that happens at that very instant
     */
    public double[] apply(double[] state) {
        first = true;
        run.start(state);
        run.until(end);
        applied = true;
        double[] result = new double[n];
        run.copyStartState(result);
        return result;
    }

    /**
     * Returns the derivative at the state to which the map was last applied.
     *
     * @return entry (i, j): change of state i at the end for a change of state j at the start, SI units
     * @throws IllegalStateException if the map was made without its derivative, or not applied yet
     */
    public double[][] derivative() {
        if (!differentiate || !applied) {
            throw new IllegalStateException("the derivative is known after apply() on a map made by withDerivative()");
        }
        double[][] result = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                result[i][j] = derivative[i * n + j]
                        / run.scaling().factor(i)
                        * run.scaling().factor(j);
            }
        }
        return result;
    }

    @Override
    public void onInterval(IntervalView interval) {
        Step step = run.present();
        Flow flow = step.next.flow;
        if (first) {
            begin(step);
        } else {
            derivative = step.applyLinear(derivative, n);
            shiftInto(step, flow);
        }
        if (interval.duration() > 0) {
            derivative = Matrices.multiply(Walk.derivativeAfter(flow, interval.duration()), derivative, n);
        }
        flow.rate(run.scaledEnd(), rateBefore);
        findTimeShift(interval, step.next);
        first = false;
    }

    private void begin(Step step) {
        derivative = new double[n * n];
        for (int i = 0; i < n; i++) {
            derivative[i * n + i] = 1;
            timeShift[i] = 0;
        }
        derivative = step.applyLinear(derivative, n);
    }

    /** Adds (R f- - f+) times the shift of the instant. */
    private void shiftInto(Step step, Flow flow) {
        double[] before = step.applyLinear(rateBefore, 1);
        flow.rate(run.scaledState(), rateAfter);
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                derivative[i * n + j] += (before[i] - rateAfter[i]) * timeShift[j];
            }
        }
    }

    /** By how much the end of the interval moves when a state at the start of the map moves. */
    private void findTimeShift(IntervalView interval, PhaseRun phase) {
        Cause cause = interval.cause();
        if (cause != null && cause.kind() == Cause.Kind.GUARD) {
            GuardRows guard = phase.flow.guards[cause.index()];
            double slope = guard.slope;
            for (int i = 0; i < n; i++) {
                slope += guard.form[i] * rateBefore[i];
            }
            for (int j = 0; j < n; j++) {
                double change = 0;
                for (int i = 0; i < n; i++) {
                    change += guard.form[i] * derivative[i * n + j];
                }
                timeShift[j] = slope == 0 ? 0 : -change / slope;
            }
        } else if (endsByClock(interval, phase)) {
            Arrays.fill(timeShift, 0);
        }
    }

    /** Whether the clock ends the interval; if a fixed duration does, its end shifts as its start did. */
    private static boolean endsByClock(IntervalView interval, PhaseRun phase) {
        double clockEnd = phase.endSinceTick - interval.sinceTick();
        return clockEnd >= 0 && phase.maximumDuration >= clockEnd;
    }
}
