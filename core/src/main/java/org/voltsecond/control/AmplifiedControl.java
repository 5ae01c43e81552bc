package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/** A control voltage that an error amplifier of the circuit makes; the plant tells where it is. */
record AmplifiedControl() implements CircuitControl {
    @Override
    public List<Controller.Channel> channels() {
        return List.of(new Controller.Channel("error voltage", Unit.VOLT));
    }

    @Override
    public Present in(State state, Sensing sensing, Plant plant) {
        Signal control = required(plant.controlVoltage());
        Signal error = required(plant.errorVoltage());
        return new Present(List.of(), List.of(), sensing.of(control), List.of(sensing.of(error)));
    }

    static void requireIn(Plant plant) {
        required(plant.controlVoltage());
        required(plant.errorVoltage());
    }

    private static Signal required(@Nullable Signal signal) {
        if (signal == null) {
            throw new IllegalArgumentException(
                    "this regulator takes its control voltage from an error amplifier of the circuit, but there is none: "
                            + "give the stage one, or the regulator a compensator");
        }
        return signal;
    }
}
