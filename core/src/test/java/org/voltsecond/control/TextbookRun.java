package org.voltsecond.control;

import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.events.Action;
import org.hipparchus.ode.events.AdaptableInterval;
import org.hipparchus.ode.events.ODEEventDetector;
import org.hipparchus.ode.events.ODEEventHandler;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.voltsecond.control.TextbookControl.Seen;
import org.voltsecond.control.TextbookStage.Path;

/**
 * Integrates a textbook stage under a textbook control by Runge-Kutta steps of order 8 with located events: an oracle
 * that shares no line with the engine. States: inductor current, capacitor voltage, and the two of the compensator
 * {@code y' = K e, x' = wp (e - x)}, whose control voltage is {@code y + K (1/wz - 1/wp) x}.
 */
final class TextbookRun implements OrdinaryDifferentialEquation {
    private final TextbookStage stage;
    private final TextbookControl control;
    private final double scaleOfTime;
    private final double reference;
    private final double divider;
    private final double gain;
    private final double zero;
    private final double pole;
    private Path path = Path.NOTHING;

    /** Reference V, divider, integrator gain 1/s, zero and pole in 1/s. */
    record Loop(double reference, double divider, double gain, double zero, double pole) {}

    TextbookRun(TextbookStage stage, TextbookControl control, Loop loop, double scaleOfTime) {
        this.stage = stage;
        this.control = control;
        this.scaleOfTime = scaleOfTime;
        reference = loop.reference();
        divider = loop.divider();
        gain = loop.gain();
        zero = loop.zero();
        pole = loop.pole();
    }

    @Override
    public int getDimension() {
        return 4;
    }

    @Override
    public double[] computeDerivatives(double t, double[] s) {
        double error = error(s);
        return new double[] {
            stage.currentRate(path, s[0], s[1]),
            stage.voltageRate(path, s[0], s[1]),
            gain * error,
            pole * (error - s[3])
        };
    }

    private double error(double[] s) {
        return reference - divider * stage.outputVoltage(path, s[0], s[1]);
    }

    private Seen seen(double time, double[] s) {
        return new Seen(time, s[0], error(s), s[2] + gain * (1 / zero - 1 / pole) * s[3]);
    }

    double[] finalState(double[] start, double duration) {
        double[] state = start.clone();
        double time = 0;
        usePath(state);
        while (time < duration) {
            if (control.margin(seen(time, state)) <= 0) {
                control.onCrossing(seen(time, state));
                usePath(state);
                continue;
            }
            double until = Math.min(control.timed(), duration);
            if (until - time > 2e3 * Math.ulp(until)) {
                ODEStateAndDerivative end = integrate(time, state, until);
                time = end.getTime();
                state = end.getPrimaryState();
            } else {
                time = until;
            }
            if (path == Path.RECTIFIER && state[0] <= 1e-12) {
                state[0] = 0;
                path = Path.NOTHING;
            } else if (time >= until && until < duration) {
                control.onTime(seen(time, state));
                usePath(state);
            } else if (time < until) {
                control.onCrossing(seen(time, state));
                usePath(state);
            }
        }
        return state;
    }

    private void usePath(double[] state) {
        path = control.on() ? Path.TRANSISTOR : state[0] > 0 ? Path.RECTIFIER : Path.NOTHING;
    }

    private ODEStateAndDerivative integrate(double time, double[] state, double until) {
        DormandPrince853Integrator integrator =
                new DormandPrince853Integrator(1e-9 * scaleOfTime, 0.1 * scaleOfTime, 1e-13, 1e-13);
        integrator.setInitialStepSize(Math.min(0.01 * scaleOfTime, 0.5 * (until - time)));
        integrator.addEventDetector(new Falling((t, s) -> path == Path.RECTIFIER ? s[0] : 1));
        integrator.addEventDetector(new Falling((t, s) -> {
            double margin = control.margin(seen(t, s));
            return Double.isInfinite(margin) ? 1 : margin;
        }));
        return integrator.integrate(this, new ODEState(time, state), until);
    }

    @FunctionalInterface
    private interface Margin {
        double of(double time, double[] state);
    }

    /** Stops where a margin falls through zero. Check interval and threshold follow from the switching. */
    private final class Falling implements ODEEventDetector {
        private final Margin margin;

        Falling(Margin margin) {
            this.margin = margin;
        }

        @Override
        public double g(ODEStateAndDerivative state) {
            return margin.of(state.getTime(), state.getPrimaryState());
        }

        @Override
        public AdaptableInterval getMaxCheckInterval() {
            return (state, forward) -> 0.01 * scaleOfTime;
        }

        @Override
        public int getMaxIterationCount() {
            return 200;
        }

        @Override
        public BracketingNthOrderBrentSolver getSolver() {
            return new BracketingNthOrderBrentSolver(0, 1e-15 * scaleOfTime, 0, 5);
        }

        @Override
        public ODEEventHandler getHandler() {
            return (state, detector, increasing) -> increasing ? Action.CONTINUE : Action.STOP;
        }
    }
}
