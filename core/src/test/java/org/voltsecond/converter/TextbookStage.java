package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
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
import org.voltsecond.stage.Topology;

/**
 * The three stages once more, written down from the textbook: for each interval the voltage across the inductor and the
 * current into the output node by inspection of the circuit (N. Mohan, T. Undeland, W. Robbins, Power Electronics, Wiley,
 * ch. 7, with the drops of the devices added), and integrated by an adaptive Runge-Kutta method of order 8(5,3) with event
 * detection. Shares no code with the library.
 *
 * <p>Time runs in periods, so that neither the check interval nor the threshold of the events is a matter of seconds.
 */
final class TextbookStage implements OrdinaryDifferentialEquation {
    /** Which devices conduct; BOTH occurs in a boost stage whose output is below the drop of the closed transistor. */
    private enum Mode {
        ON,
        OFF,
        IDLE,
        BOTH
    }

    /** What a run found: the state {i, v} at the end of each period, and when in it the rectifier's current ended. */
    record Run(List<double[]> ends, List<Double> rectifierEnds, boolean interrupted) {}

    private static final double EVENT_THRESHOLD = 1e-15;
    private static final double CHECK_INTERVAL = 1 / 64.0;

    private final StageSpec stage;
    private final double tolerance;
    /** The output voltage is share * v + sourceOhm * current into the output - dropOfLoad. */
    private final double share;

    private final double sourceOhm;
    private final double dropOfLoad;
    private final double loadCurrent;
    private Mode mode = Mode.ON;

    TextbookStage(StageSpec stage, double tolerance) {
        this.stage = stage;
        this.tolerance = tolerance;
        boolean current = stage.constantCurrent();
        loadCurrent = (stage.topology() == Topology.INVERTING_BUCK_BOOST ? -1 : 1) * stage.load();
        share = current ? 1 : stage.load() / (stage.load() + stage.seriesOhm());
        sourceOhm = current ? stage.seriesOhm() : share * stage.seriesOhm();
        dropOfLoad = current ? stage.seriesOhm() * loadCurrent : 0;
    }

    Run run(int periods) {
        List<double[]> ends = new ArrayList<>();
        List<Double> rectifierEnds = new ArrayList<>();
        double[] state = {0, 0};
        for (int k = 0; k < periods; k++) {
            mode = stage.synchronous() || condition(Mode.ON, state) > 0 ? Mode.ON : Mode.BOTH;
            state = through(0, stage.dutyCycle(), state, rectifierEnds);
            if (!stage.synchronous() && state[0] < 0) {
                return new Run(ends, rectifierEnds, true);
            }
            mode = Mode.OFF;
            state = through(stage.dutyCycle(), 1, state, rectifierEnds);
            ends.add(state);
        }
        return new Run(ends, rectifierEnds, false);
    }

    /** From one edge of the gate to the next, with all that the rectifier does on the way. */
    private double[] through(double from, double to, double[] start, List<Double> rectifierEnds) {
        double time = from;
        double[] state = start;
        while (time < to) {
            Falling falling = new Falling();
            DormandPrince853Integrator integrator = new DormandPrince853Integrator(1e-12, 1, absolute(), relative());
            if (!stage.synchronous()) {
                integrator.addEventDetector(falling);
            }
            ODEStateAndDerivative reached = integrator.integrate(this, new ODEState(time, state), to);
            time = falling.happened ? reached.getTime() : to;
            state = reached.getPrimaryState();
            if (falling.happened) {
                if (mode == Mode.OFF) {
                    rectifierEnds.add(time);
                    state[0] = 0;
                }
                mode = next();
            }
        }
        return state;
    }

    private Mode next() {
        return switch (mode) {
            case ON -> Mode.BOTH;
            case BOTH -> Mode.ON;
            case OFF -> Mode.IDLE;
            case IDLE -> Mode.OFF;
        };
    }

    private double[] absolute() {
        double volts = stage.input();
        double amperes = volts * Math.max(stage.period() / stage.inductance(), 0);
        return new double[] {tolerance * amperes, tolerance * volts};
    }

    private double[] relative() {
        return new double[] {tolerance, tolerance};
    }

    /** Positive as long as the rectifier stays as it is. */
    private double condition(Mode present, double[] state) {
        double drop = stage.forwardDrop();
        double idleOutput = output(state[1], 0);
        return switch (present) {
            case ON -> stage.topology() == Topology.BOOST ? drop + idleOutput - stage.onOhm() * state[0] : 1;
            case BOTH -> sharedCurrent(state);
            case OFF -> state[0];
            case IDLE ->
                switch (stage.topology().key()) {
                    case "buck" -> drop + idleOutput;
                    case "boost" -> drop + idleOutput - stage.input();
                    default -> drop - idleOutput;
                };
        };
    }

    /** Current of a boost stage's rectifier while its transistor conducts too: the two share the inductor current. */
    private double sharedCurrent(double[] state) {
        double drive = stage.onOhm() * state[0] - output(state[1], 0) - stage.forwardDrop();
        return drive / (stage.onOhm() + stage.slopeOhm() + sourceOhm);
    }

    private double output(double v, double into) {
        return share * v + sourceOhm * into - dropOfLoad;
    }

    @Override
    public int getDimension() {
        return 2;
    }

    @Override
    public double[] computeDerivatives(double time, double[] state) {
        double into = currentIntoOutput(state);
        double inductorVoltage = mode == Mode.IDLE ? 0 : inductorVoltage(state, output(state[1], into));
        double load = stage.constantCurrent() ? loadCurrent : output(state[1], into) / stage.load();
        return new double[] {
            inductorVoltage / stage.inductance() * stage.period(), (into - load) / stage.capacitance() * stage.period()
        };
    }

    private double currentIntoOutput(double[] state) {
        boolean on = mode == Mode.ON;
        return switch (stage.topology().key()) {
            case "buck" -> mode == Mode.IDLE ? 0 : state[0];
            case "boost" -> mode == Mode.OFF ? state[0] : mode == Mode.BOTH ? sharedCurrent(state) : 0;
            default -> on || mode == Mode.IDLE ? 0 : -state[0];
        };
    }

    private double inductorVoltage(double[] state, double output) {
        double i = state[0];
        double on = (stage.coilOhm() + stage.onOhm()) * i;
        double off = (stage.coilOhm() + stage.slopeOhm()) * i + (stage.synchronous() ? 0 : stage.forwardDrop());
        return switch (stage.topology().key()) {
            case "buck" -> mode == Mode.ON ? stage.input() - on - output : -off - output;
            case "boost" ->
                switch (mode) {
                    case ON -> stage.input() - on;
                    case BOTH -> stage.input() - on + stage.onOhm() * sharedCurrent(state);
                    default -> stage.input() - off - output;
                };
            default -> mode == Mode.ON ? stage.input() - on : output - off;
        };
    }

    /** Stops where the condition of the present mode falls through zero. */
    private final class Falling implements ODEEventDetector {
        private boolean happened;

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
                happened |= !increasing;
                return increasing ? Action.CONTINUE : Action.STOP;
            };
        }

        @Override
        public double g(ODEStateAndDerivative state) {
            return condition(mode, state.getPrimaryState());
        }
    }
}
