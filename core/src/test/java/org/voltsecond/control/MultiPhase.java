package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.SwitchPattern.Timing;
import org.voltsecond.waveform.Signal;

/** Buck stages of several phases side by side, for tests. */
final class MultiPhase {
    static final double FREQUENCY = 200e3;

    private MultiPhase() {}

    /**
     * Phases with inductors of 4 µH, from 12 V.
     *
     * @param unlike by what share each phase has more inductance and resistance than the one before it
     */
    static Circuit buck(int phases, double load, double unlike) {
        Circuit.Builder builder = Circuit.builder().voltageSource("V1", "in", "ground", 12);
        for (int k = 1; k <= phases; k++) {
            String node = "sw" + k;
            double more = 1 + unlike * (k - 1);
            builder.switchPart("Q" + k, "in", node, 10e-3)
                    .switchPart("S" + k, "ground", node, 10e-3)
                    .rectifier("B" + k, node, "in", 0.5, 10e-3)
                    .rectifier("D" + k, "ground", node, 0.5, 10e-3)
                    .inductor("L" + k, node, "out", 4e-6 * more, 10e-3 * more);
        }
        return builder.capacitor("C1", "out", "ground", 200e-6, 2e-3)
                .resistor("R1", "out", "ground", load)
                .build();
    }

    static SwitchPattern pattern(int phases) {
        return SwitchPattern.of(Timing.INTERLEAVED, names("Q", phases), names("S", phases));
    }

    private static List<String> names(String letter, int phases) {
        List<String> names = new ArrayList<>();
        for (int k = 1; k <= phases; k++) {
            names.add(letter + k);
        }
        return names;
    }

    static Plant plant(Circuit circuit, int phases) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        List<Signal> currents =
                names("L", phases).stream().map(signals::current).toList();
        return new Plant(pattern(phases), signals.nodeVoltage("out"), currents, signals.nodeVoltage("in"));
    }

    static DrivenCircuit regulated(Circuit circuit, Regulator regulator, int phases) {
        return DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(plant(circuit, phases)))
                .build();
    }
}
