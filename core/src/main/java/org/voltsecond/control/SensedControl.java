package org.voltsecond.control;

import java.util.List;
import org.voltsecond.waveform.Signal;

/**
 * A control voltage that the circuit itself makes, with an amplifier and its network as parts.
 *
 * @param control the control voltage
 */
record SensedControl(Signal control) implements ControlPath {
    /** There is no discrete part: limits are the amplifier's own. */
    private enum Always implements State {
        PRESENT;

        @Override
        public boolean rising() {
            return false;
        }
    }

    @Override
    public List<String> faults() {
        return List.of();
    }

    @Override
    public State start() {
        return Always.PRESENT;
    }

    @Override
    public ControlPath afterStart() {
        return this;
    }

    @Override
    public List<Controller.OwnState> states(double clockPeriod) {
        return List.of();
    }

    @Override
    public List<Controller.Channel> channels() {
        return List.of();
    }

    @Override
    public Present in(State state, Sensing sensing, Plant plant) {
        return new Present(List.of(), List.of(), sensing.of(control), List.of());
    }
}
