package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import org.voltsecond.control.SwitchPattern;
import org.voltsecond.stage.Roles.Reading;

/**
 * A forward stage whose primary lies between two transistors that close at once: two rectifiers bring the magnetizing current back
 * to the input, so that no transistor blocks more than that, and the core is reset in as long as it was magnetized.
 *
 * <p>Sources: see {@link ForwardFamily}.
 *
 * @param ratio turns of the secondary for each of the primary; not a number where they are not known
 */
record TwoSwitchForward(double ratio) implements ForwardFamily {
    @Override
    public String toString() {
        return "two-switch forward";
    }

    @Override
    public Topology with(StageParts parts) {
        return new TwoSwitchForward(ForwardFamily.secondaryTurns(parts).orElse(ratio));
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .transistor("in", "sw")
                .transistor("return", GROUND)
                .transformer(Transformer.Coil.primary("sw", "return"), Transformer.Coil.secondary("secondary", GROUND))
                .returning(GROUND, "sw")
                .returning("return", "in");
        ForwardFamily.rectified(wiring)
                .inductor("rectified", "out")
                .output("out")
                .switchNode("sw")
                .tell(Reading.current("magnetizing current", StageWiring.MAGNETIZING))
                .roles(roles -> roles.timing(SwitchPattern.Timing.TOGETHER));
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return input;
    }

    @Override
    public double rectifierVoltage(double input, double output) {
        return ratio * input;
    }
}
