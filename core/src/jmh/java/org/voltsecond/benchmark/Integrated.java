package org.voltsecond.benchmark;

import java.util.List;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BracketedUnivariateSolver;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.ode.AbstractIntegrator;
import org.hipparchus.ode.ODEIntegrator;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.events.Action;
import org.hipparchus.ode.events.AdaptableInterval;
import org.hipparchus.ode.events.ODEEventDetector;
import org.hipparchus.ode.events.ODEEventHandler;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Entry;
import org.voltsecond.engine.Guard;
import org.voltsecond.engine.Phase;

/** The configurations of a driven circuit, gone through by a general-purpose integrator with event detection. */
final class Integrated {
    /** An integrator with its bounds on the step in seconds, and its tolerance, absolute and relative alike. */
    interface Method {
        ODEIntegrator with(double shortestStep, double longestStep, double tolerance);
    }

    private final DrivenCircuit driven;
    private final double period;
    private final Method method;
    private final double tolerance;

    Integrated(DrivenCircuit driven, Method method, double tolerance) {
        this.driven = driven;
        this.period = driven.clockPeriod();
        this.method = method;
        this.tolerance = tolerance;
    }

    /** Runge-Kutta of order 8, to ten digits. */
    static Integrated precise(DrivenCircuit driven) {
        return new Integrated(driven, (low, high, t) -> new DormandPrince853Integrator(low, high, t, t), 1e-10);
    }

    double[] finalState(double[] start, int periods) {
        double[] x = start.clone();
        Entry entry = driven.law().first(x);
        double t = 0;
        int tick = 0;
        while (true) {
            AffineMap jump = entry.jump();
            x = jump == null ? x : jump.apply(x);
            Phase phase = entry.phase();
            double begin = tick * period;
            double until = begin + Math.min(period, phase.endSinceTick());
            Cause cause = Cause.END;
            if (until > t) {
                ODEStateAndDerivative reached = integrate(phase.configuration(), x, t, until, begin);
                x = reached.getPrimaryState();
                t = reached.getTime();
                if (t < until) {
                    cause = Cause.guard(lowest(phase.configuration(), x, t - begin));
                }
            }
            double since = t - begin;
            if (cause.equals(Cause.END) && phase.endSinceTick() >= period) {
                tick++;
                t = tick * period;
                since = 0;
                if (tick == periods) {
                    return x;
                }
            }
            entry = driven.law().next(phase, cause, x, since);
        }
    }

    private static int lowest(Configuration configuration, double[] x, double sinceTick) {
        int lowest = 0;
        List<Guard> guards = configuration.guards();
        for (int g = 1; g < guards.size(); g++) {
            if (guards.get(g).form().valueAt(x, sinceTick)
                    < guards.get(lowest).form().valueAt(x, sinceTick)) {
                lowest = g;
            }
        }
        return lowest;
    }

    private ODEStateAndDerivative integrate(
            Configuration configuration, double[] x, double from, double until, double tick) {
        ODEIntegrator integrator = method.with(1e-12 * period, period, tolerance);
        for (Guard guard : configuration.guards()) {
            ((AbstractIntegrator) integrator).addEventDetector(new Detector(guard, tick, period));
        }
        return integrator.integrate(new Rates(configuration), new ODEState(from, x), until);
    }

    private record Rates(Configuration configuration) implements OrdinaryDifferentialEquation {
        @Override
        public int getDimension() {
            return configuration.dimension();
        }

        @Override
        public double[] computeDerivatives(double t, double[] x) {
            return configuration.rate(x);
        }
    }

    /** Stops where a guard falls through zero. */
    private record Detector(Guard guard, double tick, double period) implements ODEEventDetector {
        @Override
        public AdaptableInterval getMaxCheckInterval() {
            return AdaptableInterval.of(0.1 * period);
        }

        @Override
        public int getMaxIterationCount() {
            return 100;
        }

        @Override
        public BracketedUnivariateSolver<UnivariateFunction> getSolver() {
            return new BracketingNthOrderBrentSolver(0, 1e-12 * period, 0, 5);
        }

        @Override
        public ODEEventHandler getHandler() {
            return (state, detector, increasing) -> increasing ? Action.CONTINUE : Action.STOP;
        }

        @Override
        public double g(ODEStateAndDerivative state) {
            return guard.form().valueAt(state.getPrimaryState(), state.getTime() - tick);
        }
    }
}
