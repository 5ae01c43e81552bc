package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.Set;

/**
 * Isolates and steps down or up: two transistors at ground take turns to magnetize the core one way and the other, each by its half
 * of a centre-tapped primary; the secondary is centre-tapped too.
 *
 * <p>Sources: see {@link ForwardFamily}.
 *
 * @param ratio turns of each half of the secondary for each of a half of the primary; not a number where they are not known
 */
record PushPull(double ratio) implements ForwardFamily {
    @Override
    public String toString() {
        return "push-pull";
    }

    @Override
    public Set<Class<? extends StagePart>> options() {
        return Set.of(Clamp.class);
    }

    @Override
    public Topology with(StageParts parts) {
        return new PushPull(ForwardFamily.secondaryTurns(parts).orElse(ratio));
    }

    @Override
    public int pulses() {
        return 2;
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .returningTransistor("sw", GROUND)
                .returningTransistor("second", GROUND)
                .transformer(
                        Transformer.Coil.primary("in", "sw"),
                        Transformer.Coil.primary("second", "in"),
                        Transformer.Coil.secondary("up", GROUND),
                        Transformer.Coil.secondary(GROUND, "down"))
                .clamp("sw", "second");
        ForwardFamily.centreTapped(wiring);
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return 2 * input;
    }

    @Override
    public double rectifierVoltage(double input, double output) {
        return 2 * ratio * input;
    }
}
