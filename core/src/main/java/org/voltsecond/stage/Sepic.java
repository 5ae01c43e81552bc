package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

/**
 * Steps up or down without inverting: the inductor charges from the input while the second one charges from the coupling
 * capacitor, whose mean voltage is that of the input.
 */
final class Sepic extends TwoInductors {
    Sepic() {}

    private Sepic(StageParts parts) {
        super(parts);
    }

    @Override
    public String toString() {
        return "SEPIC";
    }

    @Override
    Topology of(StageParts parts) {
        return new Sepic(parts);
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .transistor("sw", GROUND)
                .inductors("in", "sw", GROUND, "middle")
                .couplingCapacitor("sw", "middle")
                .rectifier("middle", "out")
                .output("out")
                .switchNode("sw");
    }

    @Override
    public double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
        return loadCurrent * dutyCycle;
    }

    @Override
    public double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
        return rectifierPeak(loadCurrent, dutyCycle, inductorRipple);
    }

    @Override
    double couplingVoltage(Rating at) {
        return at.inputVoltage();
    }
}
