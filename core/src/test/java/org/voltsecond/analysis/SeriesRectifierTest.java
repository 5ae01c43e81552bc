package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;

/**
 * A buck stage with a rectifier in series with its switch. That rectifier conducts nothing while the switch is open, which
 * is neither conduction nor a current that has come down to zero; and no inductor current can flow back, so that a trial
 * state of Newton's method may be one from which nothing can run.
 */
class SeriesRectifierTest {

    private static SteadyState steady(double loadOhm) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 12)
                .switchPart("Q1", "in", "emitter", 0.01)
                .rectifier("D2", "emitter", "sw", 0.5, 0.01)
                .rectifier("D1", Circuit.GROUND, "sw", 0.7, 0.01)
                .inductor("L1", "sw", "out", 1e-4)
                .capacitor("C1", "out", Circuit.GROUND, 1e-5, 0.01)
                .resistor("R1", "out", Circuit.GROUND, loadOhm)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.467, 1e5))
                .build();
        return SteadyState.of(driven);
    }

    @Test
    void cutOffRectifierIsNotTheBoundary() {
        assertThat(steady(5).conduction()).isEqualTo(Conduction.CONTINUOUS);
    }

    @Test
    void lightLoadIsFoundAndIdles() {
        SteadyState steady = steady(500);
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        double on = 0.467 * steady.period();
        assertThat(on + steady.timeConducting("D1") + steady.idleTime())
                .isCloseTo(steady.period(), within(1e-14 * steady.period()));
        assertThat(steady.idleTime()).isGreaterThan(0.4 * steady.period());
    }
}
