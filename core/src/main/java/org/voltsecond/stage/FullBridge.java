package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

/**
 * Isolates and steps down or up: four transistors, of which two that lie across from each other close at once, take turns to put
 * the input to the primary one way and the other. Between the pulses all are open, and the primary floats. The secondary is
 * centre-tapped.
 *
 * <p>Sources: see {@link ForwardFamily}.
 *
 * @param ratio turns of each half of the secondary for each of the primary; not a number where they are not known
 */
record FullBridge(double ratio) implements ForwardFamily {
    @Override
    public String toString() {
        return "full bridge";
    }

    @Override
    public Topology with(StageParts parts) {
        return new FullBridge(ForwardFamily.secondaryTurns(parts).orElse(ratio));
    }

    @Override
    public int pulses() {
        return 2;
    }

    /** The first two transistors are the one diagonal, the last two the other. */
    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .returningTransistor("in", "sw")
                .returningTransistor("other", GROUND)
                .returningTransistor("in", "other")
                .returningTransistor("sw", GROUND)
                .transformer(
                        Transformer.Coil.primary("sw", "other"),
                        Transformer.Coil.secondary("up", GROUND),
                        Transformer.Coil.secondary(GROUND, "down"));
        ForwardFamily.centreTapped(wiring);
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return input;
    }

    @Override
    public double rectifierVoltage(double input, double output) {
        return 2 * ratio * input;
    }
}
