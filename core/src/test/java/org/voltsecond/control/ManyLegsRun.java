package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.ODEStateAndDerivative;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.events.Action;
import org.hipparchus.ode.events.AdaptableInterval;
import org.hipparchus.ode.events.ODEEventDetector;
import org.hipparchus.ode.events.ODEEventHandler;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;

/**
 * Integrates a stage with several legs under one regulator by Runge-Kutta steps of order 8 with located events: an oracle that
 * shares no line with the engine. States: the inductor currents, the capacitor voltage, y and x of the voltage loop
 * ({@code y' = K e, x' = wp (e - x)}, control voltage {@code y + K (1/wz - 1/wp) x}), then y and x of each leg's current loop.
 */
final class ManyLegsRun implements OrdinaryDifferentialEquation {
    /** What a leg compares. */
    enum Method {
        VOLTAGE,
        PEAK,
        VALLEY,
        AVERAGE
    }

    /** The power stage, by which legs are on. */
    interface Stage {
        int inductors();

        double output(boolean[] on, double[] s);

        void rates(boolean[] on, double[] s, double[] rates);

        /** The current that a leg senses. */
        double current(int leg, double[] s);

        /** Whether the current of an inductor ends here, since only a diode carries it. */
        boolean byDiode(int inductor, boolean[] on);
    }

    /** From an error to a control voltage: gain 1/s, zero and pole 1/s. */
    record Loop(double gain, double zero, double pole) {
        double output(double y, double x) {
            return y + gain * (1 / zero - 1 / pole) * x;
        }
    }

    /**
     * What regulates.
     *
     * @param delays of the legs, in periods
     * @param raises of the ramps of the legs, V
     * @param longest pulse of each leg, in periods
     */
    record Control(
            Method method,
            double period,
            double reference,
            double divider,
            Loop outer,
            Loop inner,
            double sense,
            double slope,
            double[] delays,
            double[] raises,
            double[] longest) {
        int legs() {
            return delays.length;
        }
    }

    private final Stage stage;
    private final Control control;
    private final boolean[] on;
    /** Whether the comparator of a leg is listened to. */
    private final boolean[] listens;
    /** When the present period of each leg began, and when its next stretch begins, in periods. */
    private final double[] begun;

    private final double[] next;
    private final boolean[] edgeIsNext;
    private final boolean[] blocked;
    /** Whether the output of a current loop has left the ramp, where a real one stops. */
    private boolean leavesRamp;

    ManyLegsRun(Stage stage, Control control) {
        this.stage = stage;
        this.control = control;
        int n = control.legs();
        on = new boolean[n];
        listens = new boolean[n];
        begun = new double[n];
        next = control.delays().clone();
        edgeIsNext = new boolean[n];
        Arrays.fill(edgeIsNext, true);
        blocked = new boolean[stage.inductors()];
    }

    boolean leavesRamp() {
        return leavesRamp;
    }

    @Override
    public int getDimension() {
        return stage.inductors() + 3 + 2 * control.legs();
    }

    @Override
    public double[] computeDerivatives(double t, double[] s) {
        double[] rates = new double[getDimension()];
        stage.rates(on, s, rates);
        for (int k = 0; k < stage.inductors(); k++) {
            rates[k] = blocked[k] ? 0 : rates[k];
        }
        int y = stage.inductors() + 1;
        double error = control.reference() - control.divider() * stage.output(on, s);
        rates[y] = control.outer().gain() * error;
        rates[y + 1] = control.outer().pole() * (error - s[y + 1]);
        for (int leg = 0; leg < control.legs(); leg++) {
            double missing = voltage(s) - control.sense() * stage.current(leg, s);
            int own = y + 2 + 2 * leg;
            double compared = control.inner().output(s[own], s[own + 1]);
            leavesRamp |= compared < 0 || compared > 1;
            rates[own] = control.inner().gain() * missing;
            rates[own + 1] = control.inner().pole() * (missing - s[own + 1]);
        }
        return rates;
    }

    private double voltage(double[] s) {
        int y = stage.inductors() + 1;
        return control.outer().output(s[y], s[y + 1]);
    }

    /** Above zero until the comparator of a leg acts. */
    private double margin(int leg, double t, double[] s) {
        if (!listens[leg]) {
            return 1;
        }
        double since = t - begun[leg] * control.period();
        double ramp = control.raises()[leg] + since / control.period();
        double current = stage.current(leg, s);
        int own = stage.inductors() + 3 + 2 * leg;
        return switch (control.method()) {
            case VOLTAGE -> voltage(s) - ramp;
            case PEAK -> voltage(s) - control.sense() * (current + control.slope() * since);
            case VALLEY -> control.sense() * (current - control.slope() * since) - voltage(s);
            case AVERAGE -> control.inner().output(s[own], s[own + 1]) - ramp;
        };
    }

    private boolean endsPulses() {
        return control.method() != Method.VALLEY;
    }

    private void crossed(int leg) {
        on[leg] = !endsPulses();
        listens[leg] = false;
        edgeIsNext[leg] = true;
        next[leg] = begun[leg] + 1;
    }

    /** The clock of a leg, or the end of its longest pulse; in valley current mode the longest pulse begins as late as that. */
    private void timed(int leg) {
        double longest = control.longest()[leg];
        if (edgeIsNext[leg]) {
            begun[leg] = next[leg];
            on[leg] = endsPulses();
            listens[leg] = endsPulses() || longest >= 1;
            edgeIsNext[leg] = longest >= 1;
            next[leg] = begun[leg] + (longest >= 1 ? 1 : endsPulses() ? longest : 1 - longest);
        } else if (endsPulses()) {
            crossed(leg);
        } else {
            listens[leg] = true;
            edgeIsNext[leg] = true;
            next[leg] = begun[leg] + 1;
        }
    }

    double[] finalState(double[] start, double duration) {
        double[] state = start.clone();
        double time = 0;
        usePaths(state);
        while (time < duration) {
            int acting = acting(time, state);
            if (acting >= 0) {
                crossed(acting);
                usePaths(state);
                continue;
            }
            double until = duration;
            for (double each : next) {
                until = Math.min(until, each * control.period());
            }
            if (until - time > 2e3 * Math.ulp(until)) {
                ODEStateAndDerivative end = integrate(time, state, until);
                time = end.getTime();
                state = end.getPrimaryState();
            } else {
                time = until;
            }
            boolean ended = false;
            for (int k = 0; k < stage.inductors(); k++) {
                if (stage.byDiode(k, on) && !blocked[k] && state[k] <= 1e-12) {
                    state[k] = 0;
                    blocked[k] = true;
                    ended = true;
                }
            }
            if (ended) {
                continue;
            }
            if (time >= until && until < duration) {
                for (int leg = 0; leg < control.legs(); leg++) {
                    if (next[leg] * control.period() <= until * (1 + 1e-13)) {
                        timed(leg);
                    }
                }
                usePaths(state);
            } else if (time < until) {
                crossed(nearest(time, state));
                usePaths(state);
            }
        }
        return state;
    }

    private int acting(double time, double[] state) {
        for (int leg = 0; leg < control.legs(); leg++) {
            if (listens[leg] && margin(leg, time, state) <= 0) {
                return leg;
            }
        }
        return -1;
    }

    private int nearest(double time, double[] state) {
        int best = -1;
        for (int leg = 0; leg < control.legs(); leg++) {
            if (listens[leg] && (best < 0 || margin(leg, time, state) < margin(best, time, state))) {
                best = leg;
            }
        }
        return best;
    }

    private void usePaths(double[] state) {
        for (int k = 0; k < stage.inductors(); k++) {
            blocked[k] = stage.byDiode(k, on) && state[k] <= 0;
        }
    }

    private ODEStateAndDerivative integrate(double time, double[] state, double until) {
        double scale = control.period();
        DormandPrince853Integrator integrator = new DormandPrince853Integrator(1e-9 * scale, 0.1 * scale, 1e-13, 1e-13);
        integrator.setInitialStepSize(Math.min(0.01 * scale, 0.5 * (until - time)));
        List<Margin> margins = new ArrayList<>();
        for (int k = 0; k < stage.inductors(); k++) {
            int inductor = k;
            margins.add((t, s) -> stage.byDiode(inductor, on) && !blocked[inductor] ? s[inductor] : 1);
        }
        for (int k = 0; k < control.legs(); k++) {
            int leg = k;
            margins.add((t, s) -> margin(leg, t, s));
        }
        margins.forEach(margin -> integrator.addEventDetector(new Falling(margin)));
        return integrator.integrate(this, new ODEState(time, state), until);
    }

    @Override
    public String toString() {
        return control.method() + " " + Arrays.toString(on);
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
            return (state, forward) -> 0.01 * control.period();
        }

        @Override
        public int getMaxIterationCount() {
            return 200;
        }

        @Override
        public BracketingNthOrderBrentSolver getSolver() {
            return new BracketingNthOrderBrentSolver(0, 1e-15 * control.period(), 0, 5);
        }

        @Override
        public ODEEventHandler getHandler() {
            return (state, detector, increasing) -> increasing ? Action.CONTINUE : Action.STOP;
        }
    }
}
