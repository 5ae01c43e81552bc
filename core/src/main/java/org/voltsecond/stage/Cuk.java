package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

/**
 * Inverts, and steps up or down, with an inductor at either side: the coupling capacitor, whose mean voltage is that of input and
 * output together, charges from the first and discharges into the second.
 */
final class Cuk extends TwoInductors {
    Cuk() {}

    private Cuk(StageParts parts) {
        super(parts);
    }

    @Override
    public String toString() {
        return "Ćuk";
    }

    @Override
    public String key() {
        return "cuk";
    }

    @Override
    public boolean isInverting() {
        return true;
    }

    @Override
    Topology of(StageParts parts) {
        return new Cuk(parts);
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .transistor("sw", GROUND)
                .inductors("in", "sw", "out", "middle")
                .couplingCapacitor("sw", "middle")
                .rectifier("middle", GROUND)
                .output("out")
                .switchNode("sw");
    }

    @Override
    public double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
        return secondRipple() * inductorRipple / 8;
    }

    @Override
    public double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
        return secondRipple() * inductorRipple;
    }

    @Override
    double couplingVoltage(Rating at) {
        return at.inputVoltage() + at.outputVoltage();
    }
}
