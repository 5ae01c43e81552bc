package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;

/** Circuits without an inductor or a capacitor: all that they do follows from Ohm's law at every instant. */
class NothingStoredTest {
    @Test
    void aChopperOfAResistorHasTheMeanOfItsDutyCycle() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 12)
                .switchPart("Q1", "in", "out", 0.1)
                .resistor("R1", "out", Circuit.GROUND, 2.3)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.25, 1e5))
                .build();
        double mean = 0.25 * 12 * 2.3 / 2.4;

        Transient run = Transient.fromRest(driven, 1e-4);
        SteadyState steady = SteadyState.of(driven);

        assertThat(run.of(driven.nodeVoltage("out")).mean()).isCloseTo(mean, within(1e-14));
        assertThat(steady.of(driven.nodeVoltage("out")).mean()).isCloseTo(mean, within(1e-14));
        assertThat(steady.audit().totalDelivered()).isCloseTo(0.25 * 144 / 2.4 * 1e-5, within(1e-18));
        assertThat(steady.audit().residual()).isLessThan(1e-15);
        assertThat(steady.multipliers()).isEmpty();
        assertThat(steady.isStable()).isTrue();
    }

    /** The mean of a sine's positive half waves is its amplitude over pi. */
    @Test
    void aRectifierPassesTheHalfWavesOfASine() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, Profile.constant(0).withSine(10, 1000, 0))
                .rectifier("D1", "in", "out", 0, 0)
                .resistor("R1", "out", Circuit.GROUND, 50)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(1e-3).build();

        double mean =
                Transient.fromRest(driven, 1e-2).of(driven.nodeVoltage("out")).mean();

        assertThat(mean).isCloseTo(10 / Math.PI, within(1e-12));
    }
}
