package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.Controller.Channel;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;

/**
 * A control loop to whose reference a voltage is added, by a state of its own after those of the loop.
 *
 * @param loop the loop
 */
record InjectedReference(ControlLoop loop) implements ControlPath {
    @Override
    public List<String> faults() {
        return loop.faults();
    }

    @Override
    public State start() {
        return loop.start();
    }

    @Override
    public State resume(State other) {
        return loop.resume(other);
    }

    @Override
    public ControlPath afterStart() {
        return new InjectedReference(loop.withSoftStart(0));
    }

    @Override
    public List<OwnState> states(double clockPeriod) {
        List<OwnState> states = new ArrayList<>(loop.states(clockPeriod));
        states.add(new OwnState(Controller.REFERENCE_INJECTION, 1, 0));
        return states;
    }

    @Override
    public List<Double> statesAfterStart(double clockPeriod) {
        List<Double> values = new ArrayList<>(loop.statesAfterStart(clockPeriod));
        values.add(0.0);
        return values;
    }

    @Override
    public List<Channel> channels() {
        return loop.channels();
    }

    @Override
    public Present in(State state, Sensing sensing, Plant plant) {
        int own = loop.in(state, sensing, plant).rates().size();
        Present inner = loop.in(state, sensing, plant, sensing.own(own));
        List<AffineForm> rates = new ArrayList<>(inner.rates());
        rates.add(sensing.constant(0));
        return new Present(rates, inner.rules(), inner.control(), inner.others());
    }
}
