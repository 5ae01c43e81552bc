package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.Optional;
import java.util.Set;

/**
 * Inverts: the transistor stands between input and switch node, the inductor between switch node and ground, the rectifier
 * between output and switch node. The output voltage is negative.
 *
 * <p>Sources: ratios in continuous conduction, boundary inductance: any textbook, for example D. W. Hart, Power Electronics,
 * McGraw-Hill 2011, ch. 6; discontinuous: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer
 * 2020, table 5.2, p. 153; zero: the same, ch. 8; drops: S. Franco, Design with Operational Amplifiers and Analog Integrated
 * Circuits, 3rd ed., ex. 11.17 to 11.19, for the buck stage, the others from the same balance.
 */
final class InvertingBuckBoost implements Topology {
    @Override
    public String toString() {
        return "inverting buck-boost";
    }

    @Override
    public Set<Class<? extends StagePart>> options() {
        return Set.of(Phases.class);
    }

    @Override
    public Topology with(StageParts parts) {
        return Phases.Interleaved.of(this, parts, false);
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .phases(sw -> wiring.transistor("in", sw).rectifier("out", sw).inductor(sw, GROUND))
                .output("out");
    }

    @Override
    public boolean isInverting() {
        return true;
    }

    @Override
    public double continuousRatio(double dutyCycle) {
        return -dutyCycle / (1 - dutyCycle);
    }

    @Override
    public double discontinuousRatio(double dutyCycle, double k) {
        return -dutyCycle / Math.sqrt(k);
    }

    @Override
    public double criticalK(double dutyCycle) {
        return (1 - dutyCycle) * (1 - dutyCycle);
    }

    @Override
    public double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return (output + rectifierDrop) / (input - transistorDrop + (output + rectifierDrop));
    }

    @Override
    public double discontinuousDutyCycleSquared(double input, double output, double rectifierDrop, double twiceFlux) {
        return twiceFlux * (output + rectifierDrop) / (input * input);
    }

    @Override
    public Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return output < 0 ? Optional.empty() : Optional.of("its output is below 0 V");
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
        return input + output;
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
