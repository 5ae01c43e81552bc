package outside;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.StageWiring;
import org.voltsecond.stage.Topology;

/**
 * A stage that this library has not, written with what a stranger can use: a boost stage whose input is the output of another
 * one, both with one transistor, so that the output is the input over (1 - D)<sup>2</sup>. The transistor draws the first
 * inductor's current through a diode, and the first capacitor feeds the second inductor. Source: D. Maksimovic, S. Cuk,
 * Switching converters with wide DC conversion range, IEEE Trans. Power Electronics 6 (1991) no. 1, from memory; the ratio
 * follows from the volt-second balance of both inductors.
 */
public final class QuadraticBoost implements Topology {
    /** The inductor and the capacitor of the first of the two steps up. */
    public record FirstStep(double inductance, double resistance, double capacitance) implements StagePart {
        @Override
        public List<String> faults() {
            return inductance > 0 && resistance >= 0 && capacitance > 0
                    ? List.of()
                    : List.of("first step: inductance and capacitance must be more than 0, the resistance 0 or more");
        }
    }

    @Override
    public String toString() {
        return "quadratic boost";
    }

    @Override
    public Set<Class<? extends StagePart>> needs() {
        return Set.of(FirstStep.class);
    }

    @Override
    public void wire(StageWiring wiring) {
        FirstStep first = wiring.parts().required(FirstStep.class);
        StageParts.Rectifier diode = wiring.parts().rectifier();
        wiring.source("in");
        wiring.circuit()
                .inductor("L2", "in", "first", first.inductance(), first.resistance())
                .rectifier("D4", "first", "middle", diode.forwardDrop(), diode.resistance())
                .rectifier("D5", "first", "sw", diode.forwardDrop(), diode.resistance())
                .capacitor("C2", "middle", GROUND, first.capacitance(), 0);
        wiring.transistor("sw", GROUND)
                .rectifier("sw", "out")
                .inductor("middle", "sw")
                .output("out")
                .switchNode("sw");
    }

    @Override
    public double continuousRatio(double dutyCycle) {
        return 1 / ((1 - dutyCycle) * (1 - dutyCycle));
    }

    @Override
    public double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return 1 - Math.sqrt((input - transistorDrop) / (output + rectifierDrop));
    }

    @Override
    public Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return output > highestInput ? Optional.empty() : Optional.of("its output is above the highest input");
    }

    @Override
    public double outputShare(double dutyCycle) {
        return 1 - dutyCycle;
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return output;
    }
}
