package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.List;
import org.voltsecond.circuit.Part;

/**
 * Isolates and steps down or up: two transistors in a row take turns to put the primary, whose other end lies at half the input,
 * at the one end of the input and at the other. The midpoint is ideal, as that of two large capacitors is: two equal ideal windings
 * in a row hold it there, so that its current comes half from the one end and half from the other. The secondary is centre-tapped.
 *
 * <p>Sources: see {@link ForwardFamily}.
 *
 * @param ratio voltage of a pulse of the secondary for each volt of the input: half the turns of each half of the secondary for
 *     each of the primary; not a number where they are not known
 */
record HalfBridge(double ratio) implements ForwardFamily {
    private static final double SHARE = 0.5;

    @Override
    public String toString() {
        return "half bridge";
    }

    @Override
    public Topology with(StageParts parts) {
        double turns = ForwardFamily.secondaryTurns(parts).orElse(ratio / SHARE);
        return new HalfBridge(SHARE * turns);
    }

    @Override
    public double share() {
        return SHARE;
    }

    @Override
    public int pulses() {
        return 2;
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.circuit()
                .idealTransformer(
                        "T2",
                        List.of(Part.Winding.of("upper", "in", "middle"), Part.Winding.of("lower", "middle", GROUND)),
                        1,
                        1);
        wiring.source("in")
                .returningTransistor("in", "sw")
                .returningTransistor("sw", GROUND)
                .transformer(
                        Transformer.Coil.primary("sw", "middle"),
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
