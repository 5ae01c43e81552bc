package org.voltsecond.control;

import java.util.List;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * A control voltage that the circuit itself makes, with an amplifier and its network as parts.
 *
 * @param control the control voltage; null for that of the plant's error amplifier
 */
record CircuitControl(@Nullable Signal control) implements ControlPath {
    /** There is no discrete part: limits are the amplifier's own. */
    private enum Always implements State {
        PRESENT;

        @Override
        public boolean rising() {
            return false;
        }
    }

    /** A control voltage of which the plant tells where it is. */
    static CircuitControl byAmplifier() {
        return new CircuitControl(null);
    }

    @Override
    public List<String> faults() {
        return List.of();
    }

    @Override
    public OptionalDouble target() {
        return OptionalDouble.empty();
    }

    @Override
    public ControlLimits limits(ControlLimits usable) {
        return ControlLimits.none(ControlLimits.Origin.AMPLIFIER);
    }

    @Override
    public ControlPath within(ControlLimits limits) {
        return this;
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
        return control == null ? List.of(new Controller.Channel("error voltage", Unit.VOLT)) : List.of();
    }

    @Override
    public Present in(State state, Sensing sensing, Plant plant) {
        return control == null
                ? new Present(
                        List.of(),
                        List.of(),
                        sensing.of(required(plant.controlVoltage())),
                        List.of(sensing.of(required(plant.errorVoltage()))))
                : new Present(List.of(), List.of(), sensing.of(control), List.of());
    }

    @Override
    public void requireIn(Plant plant) {
        if (control == null) {
            required(plant.controlVoltage());
            required(plant.errorVoltage());
        }
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
