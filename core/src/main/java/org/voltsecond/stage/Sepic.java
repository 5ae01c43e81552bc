package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.Optional;
import java.util.Set;

/**
 * Steps up or down without inverting: the inductor charges from the input while the second one charges from the coupling
 * capacitor, whose mean voltage is that of the input.
 *
 * <p>Sources: ratio: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, ch. 6; D. W. Hart,
 * Power Electronics, McGraw-Hill 2011, ch. 6. In discontinuous conduction and at its boundary both inductors act side by side: the
 * same balance as of an inverting stage with L = L1 L2 / (L1 + L2).
 */
final class Sepic implements Topology {
    @Override
    public String toString() {
        return "SEPIC";
    }

    @Override
    public Set<Class<? extends StagePart>> needs() {
        return Set.of(SecondInductor.class, CouplingCapacitor.class);
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
    public double continuousRatio(double dutyCycle) {
        return dutyCycle / (1 - dutyCycle);
    }

    @Override
    public double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return (output + rectifierDrop) / (input - transistorDrop + output + rectifierDrop);
    }

    @Override
    public Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return output > 0 ? Optional.empty() : Optional.of("it gives a positive output");
    }

    @Override
    public double outputShare(double dutyCycle) {
        return 1 - dutyCycle;
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return input + output;
    }
}
