package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.Optional;
import java.util.Set;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Steps down: the transistor stands between input and switch node, the rectifier between ground and switch node, the inductor
 * between switch node and output.
 *
 * <p>Sources: ratios in continuous conduction, boundary inductance: any textbook, for example D. W. Hart, Power Electronics,
 * McGraw-Hill 2011, ch. 6; discontinuous: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer
 * 2020, table 5.2, p. 153; zero: the same, ch. 8; drops: S. Franco, Design with Operational Amplifiers and Analog Integrated
 * Circuits, 3rd ed., ex. 11.17 to 11.19, for the buck stage, the others from the same balance.
 */
final class Buck implements Topology {
    @Override
    public String toString() {
        return "buck";
    }

    @Override
    public Set<Class<? extends StagePart>> options() {
        return Set.of(Phases.class);
    }

    @Override
    public Topology with(StageParts parts) {
        return Phases.Interleaved.of(this, parts, true);
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .phases(sw -> wiring.transistor("in", sw).rectifier(GROUND, sw).inductor(sw, "out"))
                .output("out");
    }

    @Override
    public double continuousRatio(double dutyCycle) {
        return dutyCycle;
    }

    @Override
    public double discontinuousRatio(double dutyCycle, double k) {
        return dutyCycle == 0 ? 0 : 2 / (1 + Math.sqrt(1 + 4 * k / (dutyCycle * dutyCycle)));
    }

    @Override
    public double criticalK(double dutyCycle) {
        return 1 - dutyCycle;
    }

    @Override
    public double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return (output + rectifierDrop) / (input - transistorDrop + rectifierDrop);
    }

    @Override
    public double discontinuousDutyCycleSquared(double input, double output, double rectifierDrop, double twiceFlux) {
        return twiceFlux * (output + rectifierDrop) / ((input - output) * (input - output + (output + rectifierDrop)));
    }

    @Override
    public Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return output > 0 && output < lowestInput
                ? Optional.empty()
                : Optional.of("its output is above 0 V and below the lowest input of "
                        + Quantity.format(lowestInput, Unit.VOLT));
    }

    @Override
    public double outputShare(double dutyCycle) {
        return 1;
    }

    @Override
    public double onVoltage(double input, double output) {
        return input - output;
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return input;
    }

    @Override
    public double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
        return inductorRipple / 8;
    }

    @Override
    public double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
        return inductorRipple;
    }

    @Override
    public double rightHalfPlaneZero(double dutyCycle, double loadResistance, double inductance) {
        return Double.POSITIVE_INFINITY;
    }
}
