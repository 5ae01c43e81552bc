package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.circuit.Circuit.GROUND;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Transient;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.waveform.Waveform;

/** Circuits with so many rectifiers that their positions cannot be gone through one by one. */
class ManyRectifiersTest {
    private static final double PERIOD = 10e-6;

    /** Buck phases side by side behind one switch, each with its own rectifier and choke. */
    private static DrivenCircuit phases(int count, double impedance) {
        Circuit.Builder builder = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "common", 5e-3)
                .capacitor("C1", "out", GROUND, 100e-6)
                .resistor("R1", "out", GROUND, 0.5);
        for (int k = 1; k <= count; k++) {
            builder.resistor("R1" + k, "common", "node" + k, 0.1 * impedance)
                    .rectifier("D" + k, GROUND, "node" + k, 0.4, 0.01 * impedance)
                    .inductor("L" + k, "node" + k, "out", 22e-6 * impedance, 0.02 * impedance);
        }
        return DrivenCircuit.builder(builder.build())
                .gate("Q1", Drive.fixedDuty(0.4, 1 / PERIOD))
                .build();
    }

    /** Equal phases side by side are one phase with the reciprocal of their number as impedance. */
    @Test
    void sixtyFourEqualPhasesAreOne() {
        DrivenCircuit many = phases(64, 64);
        DrivenCircuit one = phases(1, 1);
        Waveform expected = Transient.fromRest(one, 3 * PERIOD).of(one.nodeVoltage("out"));
        Waveform found = Transient.fromRest(many, 3 * PERIOD).of(many.nodeVoltage("out"));
        for (int k = 1; k <= 30; k++) {
            double time = k * PERIOD / 10;
            assertThat(found.at(time)).as("at %s s", time).isCloseTo(expected.at(time), Offset.offset(1e-12));
        }
    }

    /**
     * Capacitors and rectifiers in a ladder multiply the crest of a sine by their number while next to nothing is drawn (J. D.
     * Cockcroft, E. T. S. Walton, Proc. R. Soc. A 136:619-630, 1932, from memory).
     */
    @Test
    void aLadderOfTwelveRectifiersMultipliesTheCrest() {
        int stages = 12;
        Circuit.Builder builder = Circuit.builder()
                .voltageSource("V1", "source", GROUND, Profile.constant(0).withSine(10, 1000, 0))
                .resistor("R1", "source", "node0", 1)
                .resistor("R2", "node" + stages, GROUND, 1e9);
        for (int k = 1; k <= stages; k++) {
            String below = k == 1 ? "node0" : k == 2 ? GROUND : "node" + (k - 2);
            builder.rectifier("D" + k, k == 1 ? GROUND : "node" + (k - 1), "node" + k, 0, 0.1)
                    .capacitor("C" + k, below, "node" + k, 1e-6, 0.01);
        }
        DrivenCircuit ladder =
                DrivenCircuit.builder(builder.build()).clockPeriod(1e-3).build();
        Transient run = Transient.fromRest(ladder, 0.4);
        double output =
                run.of(ladder.nodeVoltage("node" + stages)).between(0.399, 0.4).mean();
        assertThat(output).isBetween(0.98 * 10 * stages, 10.0 * stages);
    }
}
