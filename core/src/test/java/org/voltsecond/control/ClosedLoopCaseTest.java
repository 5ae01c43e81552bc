package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.engine.Simulation;

/**
 * A lossy buck of 12 V, 300 kHz under voltage mode: reference 1 V, divider 0.2, ramp 0 V to 1 V, at most 0.95, integrator
 * 1500/s, control voltage y + 0.05 x with y' = 1500 e and x' = (e - x) 2 pi 100 kHz; load 2.5 Ω, 25 Ω from 5 ms, 2.5 Ω
 * from 10 ms. The states were computed with 40 digits by another program: series of the exact flows, event times by
 * Newton's method.
 */
class ClosedLoopCaseTest {
    private static final double FREQUENCY = 300e3;

    private static final Circuit BUCK = Stages.buck(new Values(12, 22e-6, 47e-6, 2.5, 0.08, 0.4, 0.02, 0.03, 0.005));

    private static DrivenCircuit regulated() {
        double pole = 2 * Math.PI * 100e3;
        // y + 0.05 x is K/s (1 + s/wz)/(1 + s/wp) where 1/wz = 0.05/K + 1/wp
        double zero = 1 / (0.05 / 1500 + 1 / pole);
        Regulator regulator = VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(1500, zero / (2 * Math.PI), 100e3))
                .withMaximumDutyCycle(0.95);
        return DrivenCircuit.builder(BUCK)
                .controlledBy(regulator.on(Stages.plant(BUCK)))
                .change(5e-3, BUCK.withResistance("R1", 25))
                .change(10e-3, BUCK)
                .build();
    }

    @ParameterizedTest
    @CsvSource({
        "300, 1.7241114501175701, 4.8098460294962369",
        "3000, 0, 4.9993438738512866",
        "3010, 0.4851310071870634, 3.9872415204486908",
        "4500, 1.7698645295713536, 4.9997033550151915"
    })
    void statesOfFortyDigits(int period, double current, double voltage) {
        DrivenCircuit driven = regulated();
        double[] state = Simulation.of(driven.law()).finalState(driven.restState(), period / FREQUENCY);
        assertThat(state[0]).isCloseTo(current, within(1e-12 * current));
        assertThat(state[1]).isCloseTo(voltage, within(1e-13 * voltage));
    }

    @Test
    void theEnergyOfTheWholeTransientIsAccountedFor() {
        DrivenCircuit driven = regulated();
        assertThat(Transient.fromRest(driven, 15e-3).audit().residual()).isLessThan(1e-12);
    }

    @Test
    void settlesOnAStableOrbitThatTheIntegratorHoldsAtTheReference() {
        DrivenCircuit driven = regulated().running();
        SteadyState steady = SteadyState.of(driven);
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.isStable()).isTrue();
        // over a period the integrator comes back to where it was: the mean error is zero
        assertThat(steady.of(driven.control("error voltage")).mean()).isCloseTo(0, within(1e-14));
        assertThat(steady.of(driven.nodeVoltage("out")).mean()).isCloseTo(5, within(1e-12));
        assertThat(steady.audit().residual()).isLessThan(1e-12);
    }
}
