package org.voltsecond.control;

import java.util.List;
import org.voltsecond.waveform.Signal;

/**
 * A control voltage that is a signal of the circuit.
 *
 * @param control the control voltage
 */
record SensedControl(Signal control) implements CircuitControl {
    @Override
    public List<Controller.Channel> channels() {
        return List.of();
    }

    @Override
    public Present in(State state, Sensing sensing, Plant plant) {
        return new Present(List.of(), List.of(), sensing.of(control), List.of());
    }
}
