package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BracketedUnivariateSolver;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.events.Action;
import org.hipparchus.ode.events.AdaptableInterval;
import org.hipparchus.ode.events.ODEEventDetector;
import org.hipparchus.ode.events.ODEEventHandler;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.stage.Topology;

/**
 * Buck, boost and inverting stage with a synchronous rectifier, an inductor that saturates, a capacitor that fades and any load,
 * by inspection of the circuit, integrated by an adaptive Runge-Kutta method of order 8(5,3) from bend to bend. Shares no code
 * with the library. Time runs in periods; the output counts as a magnitude.
 *
 * @param output output voltage over what it would be without load, for a source of the resistance of the capacitor
 */
record BentStage(
        Topology topology,
        double input,
        double inductance,
        List<Bend> saturation,
        double coilOhm,
        double capacitance,
        List<Bend> bias,
        double seriesOhm,
        double onOhm,
        double dutyCycle,
        double period,
        DoubleUnaryOperator output) {
    private static final double TOLERANCE = 1e-13;
    private static final double EVENT_THRESHOLD = 1e-15;
    private static final double CHECK_INTERVAL = 1 / 256.0;

    /** The state {i, v} after a number of periods; v of the capacitance, as a magnitude. */
    double[] after(int periods, double[] start) {
        double[] state = start;
        for (int k = 0; k < periods; k++) {
            state = through(0, dutyCycle, state, true);
            state = through(dutyCycle, 1, state, false);
        }
        return state;
    }

    private double[] through(double from, double to, double[] start, boolean on) {
        double time = from;
        double[] state = start;
        // which side of each bend the state is on: at a bend its own rate tells
        while (time < to) {
            Equation equation = new Equation(
                    on, value(inductance, saturation, state, 0, on), value(capacitance, bias, state, 1, on));
            DormandPrince853Integrator integrator = new DormandPrince853Integrator(
                    1e-13, 1, new double[] {TOLERANCE * amperes(), TOLERANCE * input}, new double[] {
                        TOLERANCE, TOLERANCE
                    });
            List<Knee> knees = new ArrayList<>();
            saturation.forEach(bend -> knees.add(new Knee(0, bend.above())));
            bias.forEach(bend -> knees.add(new Knee(1, bend.above())));
            for (Knee knee : knees) {
                integrator.addEventDetector(knee);
            }
            ODEStateAndDerivative reached = integrator.integrate(equation, new ODEState(time, state), to);
            state = reached.getPrimaryState();
            boolean stopped = false;
            for (Knee knee : knees) {
                if (knee.happened) {
                    stopped = true;
                    state[knee.index] = Math.copySign(knee.above, state[knee.index]);
                }
            }
            time = stopped ? reached.getTime() : to;
        }
        return state;
    }

    private double amperes() {
        return input * period / inductance;
    }

    private double value(double first, List<Bend> bends, double[] state, int index, boolean on) {
        double[] rates = new Equation(on, inductance, capacitance).computeDerivatives(0, state);
        double value = first;
        for (Bend bend : bends) {
            double x = Math.abs(state[index]);
            boolean grows = rates[index] * Math.signum(state[index]) > 0;
            if (x > bend.above() || (x == bend.above() && grows)) {
                value = bend.value();
            }
        }
        return value;
    }

    /** The rates in one position of the switches, on one segment of each part. */
    private final class Equation implements OrdinaryDifferentialEquation {
        private final boolean on;
        private final double henry;
        private final double farad;

        Equation(boolean on, double henry, double farad) {
            this.on = on;
            this.henry = henry;
            this.farad = farad;
        }

        @Override
        public int getDimension() {
            return 2;
        }

        @Override
        public double[] computeDerivatives(double time, double[] state) {
            double i = state[0];
            boolean direct = topology == Topology.BUCK || !on;
            double into = direct ? i : 0;
            double volt = output.applyAsDouble(state[1] + seriesOhm * into);
            // the capacitor's current by its series resistance, or by what the load leaves
            double charge = (volt - state[1]) / seriesOhm;
            double driving = topology == Topology.BUCK
                    ? (on ? input : 0) - volt
                    : on ? input : (topology == Topology.BOOST ? input : 0) - volt;
            double rate = driving - (onOhm + coilOhm) * i;
            return new double[] {rate / henry * period, charge / farad * period};
        }
    }

    /** Stops where a state comes to a bend. */
    private static final class Knee implements ODEEventDetector {
        private final int index;
        private final double above;
        private boolean happened;

        Knee(int index, double above) {
            this.index = index;
            this.above = above;
        }

        @Override
        public AdaptableInterval getMaxCheckInterval() {
            return AdaptableInterval.of(CHECK_INTERVAL);
        }

        @Override
        public int getMaxIterationCount() {
            return 200;
        }

        @Override
        public BracketedUnivariateSolver<UnivariateFunction> getSolver() {
            return new BracketingNthOrderBrentSolver(0, EVENT_THRESHOLD, 0, 5);
        }

        @Override
        public ODEEventHandler getHandler() {
            return (state, detector, increasing) -> {
                happened = true;
                return Action.STOP;
            };
        }

        @Override
        public double g(ODEStateAndDerivative state) {
            return Math.abs(state.getPrimaryState()[index]) - above;
        }
    }
}
