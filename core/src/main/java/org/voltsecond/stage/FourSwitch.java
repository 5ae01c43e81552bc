package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.Optional;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.stage.Roles.Reading;

/**
 * Steps up or down without inverting, with one inductor between two legs: the input leg joins it to the input, else to ground, the
 * output leg to ground, else to the output. Ratios and rules are those of both legs driven at once, as of an inverting stage; driven
 * apart the output is the input times D<sub>1</sub> / (1 - D<sub>2</sub>).
 *
 * <p>Sources: the cascade of a buck and a boost stage: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed.,
 * Springer 2020, ch. 6, from memory; the rest from the same balances as of an inverting stage, where two devices conduct in turn
 * with two others.
 */
final class FourSwitch implements Topology {
    @Override
    public String toString() {
        return "four-switch buck-boost";
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .transistor("in", "sw")
                .rectifier(GROUND, "sw")
                .inductor("sw", "sw2")
                .transistor("sw2", GROUND)
                .rectifier("sw2", "out")
                .output("out")
                .switchNode("sw");
        String second = wiring.roles().switches().get(1);
        wiring.tell(Reading.voltage("second switch node voltage", second))
                .roles(told -> told.timing(SwitchPattern.Timing.FOUR_SWITCH));
    }

    @Override
    public double continuousRatio(double dutyCycle) {
        return dutyCycle / (1 - dutyCycle);
    }

    @Override
    public double discontinuousRatio(double dutyCycle, double k) {
        return dutyCycle / Math.sqrt(k);
    }

    @Override
    public double criticalK(double dutyCycle) {
        return (1 - dutyCycle) * (1 - dutyCycle);
    }

    @Override
    public double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        double off = output + 2 * rectifierDrop;
        return off / (input - 2 * transistorDrop + off);
    }

    @Override
    public double discontinuousDutyCycleSquared(double input, double output, double rectifierDrop, double twiceFlux) {
        return twiceFlux * (output + 2 * rectifierDrop) / (input * input);
    }

    @Override
    public Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return output > 0 ? Optional.empty() : Optional.of("its output is above 0 V");
    }

    @Override
    public double outputShare(double dutyCycle) {
        return 1 - dutyCycle;
    }

    @Override
    public double onVoltage(double input, double output) {
        return input;
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return Math.max(input, output);
    }

    @Override
    public double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
        return loadCurrent * dutyCycle;
    }

    @Override
    public double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
        return loadCurrent / (1 - dutyCycle) + inductorRipple / 2;
    }

    @Override
    public double rightHalfPlaneZero(double dutyCycle, double loadResistance, double inductance) {
        return loadResistance * (1 - dutyCycle) * (1 - dutyCycle) / (2 * Math.PI * inductance) / dutyCycle;
    }
}
