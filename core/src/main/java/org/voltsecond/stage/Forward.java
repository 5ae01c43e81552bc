package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.voltsecond.stage.Roles.Reading;

/**
 * Isolates and steps down or up: while the transistor is closed the secondary feeds the inductor; then a third winding brings the
 * magnetizing current back to the input, which takes until the core is reset.
 *
 * <p>Sources: see {@link ForwardFamily}; reset: D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 7.5, eq. 7-29 f. (numbers from
 * memory): the input voltage over the turns of the reset winding resets what it built up over those of the primary.
 *
 * @param ratio turns of the secondary for each of the primary; not a number where they are not known
 * @param reset turns of the reset winding for each of the primary; not a number where they are not known
 */
record Forward(double ratio, double reset) implements ForwardFamily {
    @Override
    public String toString() {
        return "forward";
    }

    @Override
    public Set<Class<? extends StagePart>> options() {
        return Set.of(Clamp.class);
    }

    @Override
    public List<String> faults(StageParts parts) {
        boolean missing = parts.get(Transformer.class)
                .filter(given -> Double.isNaN(given.turns().reset()))
                .isPresent();
        return missing
                ? List.of(
                        "transformer: turns of the reset winding are missing; a forward stage needs one, usually with "
                                + "as many turns as the primary")
                : List.of();
    }

    @Override
    public Topology with(StageParts parts) {
        return parts.get(Transformer.class)
                .<Topology>map(given -> new Forward(
                        1 / given.turns().ratio(),
                        given.turns().reset() / given.turns().primary()))
                .orElse(this);
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .transistor("sw", GROUND)
                .transformer(
                        Transformer.Coil.primary("in", "sw"),
                        Transformer.Coil.secondary("secondary", GROUND),
                        Transformer.Coil.reset("reset", "in"))
                .returning(GROUND, "reset")
                .clamp("sw");
        ForwardFamily.rectified(wiring)
                .inductor("rectified", "out")
                .output("out")
                .switchNode("sw")
                .tell(Reading.current("magnetizing current", StageWiring.MAGNETIZING));
    }

    @Override
    public Optional<Transformer.Turns> proposedTurns(double lowestInput, double output) {
        return ForwardFamily.super
                .proposedTurns(lowestInput, output)
                .map(turns -> new Transformer.Turns(turns.primary(), turns.secondary(), turns.primary()));
    }

    @Override
    public double longestDutyCycle() {
        return 1 / (1 + reset);
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return input * (1 + 1 / reset);
    }

    /** The first one blocks the reset, the second one the pulse. */
    @Override
    public double rectifierVoltage(double input, double output) {
        return ratio * input * Math.max(1, 1 / reset);
    }
}
