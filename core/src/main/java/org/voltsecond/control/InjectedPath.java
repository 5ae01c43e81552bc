package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.Controller.Channel;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;

/**
 * A path into whose end a voltage is injected, in series, by a state of its own after those of the path.
 *
 * @param path where the control voltage comes from
 */
record InjectedPath(ControlPath path) implements ControlPath {
    @Override
    public List<String> faults() {
        return path.faults();
    }

    @Override
    public State start() {
        return path.start();
    }

    @Override
    public State resume(State other) {
        return path.resume(other);
    }

    @Override
    public ControlPath afterStart() {
        return new InjectedPath(path.afterStart());
    }

    @Override
    public List<OwnState> states(double clockPeriod) {
        List<OwnState> states = new ArrayList<>(path.states(clockPeriod));
        states.add(new OwnState(Controller.INJECTION, 1, 0));
        return states;
    }

    @Override
    public List<Double> statesAfterStart(double clockPeriod) {
        List<Double> values = new ArrayList<>(path.statesAfterStart(clockPeriod));
        values.add(0.0);
        return values;
    }

    @Override
    public List<Channel> channels() {
        return path.channels();
    }

    @Override
    public Present in(State state, Sensing sensing, Plant plant) {
        Present inner = path.in(state, sensing, plant);
        AffineForm injected = sensing.own(inner.rates().size());
        List<AffineForm> rates = new ArrayList<>(inner.rates());
        rates.add(sensing.constant(0));
        return new Present(rates, inner.rules(), inner.control().plus(1, injected), inner.others());
    }
}
