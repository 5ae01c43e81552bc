package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

/**
 * Steps up or down without inverting, with an inductor at the output: the first inductor charges the coupling capacitor, whose mean
 * voltage is that of the output and which stands on top of the input in the on interval.
 */
final class Zeta extends TwoInductors {
    Zeta() {}

    private Zeta(StageParts parts) {
        super(parts);
    }

    @Override
    public String toString() {
        return "zeta";
    }

    @Override
    Topology of(StageParts parts) {
        return new Zeta(parts);
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .transistor("in", "sw")
                .inductors("sw", GROUND, "middle", "out")
                .couplingCapacitor("middle", "sw")
                .rectifier(GROUND, "middle")
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
        return at.outputVoltage();
    }
}
