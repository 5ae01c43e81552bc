package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Protection.Rectification;

/** One regulator for phases whose pulses are spread over the period. */
class InterleavedTest {
    private static CurrentMode peak(double reference) {
        return CurrentMode.peak(MultiPhase.FREQUENCY, reference, 1, Compensator.type2(10000, 4000, 200e3), 0.02)
                .withSlopeCompensation(reference / 4e-6);
    }

    private static VoltageMode voltageMode(double reference) {
        return VoltageMode.of(MultiPhase.FREQUENCY, reference, 1, Compensator.type2(1000, 4000, 100e3))
                .withRamp(0, 2)
                .withProtection(Protection.none().withSynchronousRectification(Rectification.FORCED, 50e-9));
    }

    /** Duty cycles below and above those with which a phase is on when the clock ticks. */
    @ParameterizedTest
    @CsvSource({"2, 1", "2, 5", "2, 7", "3, 1", "3, 5", "4, 1", "4, 5", "4, 10"})
    void aRunEndsAtTheSteadyState(int phases, double reference) {
        Circuit circuit = MultiPhase.buck(phases, 0.15 * reference, 0.1);
        for (Regulator regulator : new Regulator[] {peak(reference), voltageMode(reference)}) {
            DrivenCircuit driven = MultiPhase.regulated(circuit, regulator, phases);
            SteadyState steady = SteadyState.of(driven);
            assertThat(steady.of(driven.nodeVoltage("out")).mean()).isCloseTo(reference, within(1e-9));
            assertThat(steady.audit().residual()).isLessThan(1e-10);
            assertThat(steady.isStable()).isTrue();
            Transient run = Transient.of(driven, steady.state(), 200 * steady.period());
            for (int k = 1; k <= phases; k++) {
                assertThat(run.of(driven.current("L" + k)).at(run.finalTime()))
                        .isCloseTo(steady.of(driven.current("L" + k)).at(0), within(1e-8));
            }
        }
    }

    @Test
    void aStartFromRestComesToTheSteadyState() {
        DrivenCircuit driven = MultiPhase.regulated(MultiPhase.buck(3, 0.75, 0.1), voltageMode(5), 3);
        SteadyState steady = SteadyState.of(driven);
        Transient run = Transient.fromRest(driven, 1200 * steady.period());
        assertThat(run.of(driven.nodeVoltage("out")).at(run.finalTime()))
                .isCloseTo(steady.of(driven.nodeVoltage("out")).at(0), within(1e-6));
    }

    /** Each comparator holds the peak of its own phase: resistances that differ shift voltages, not currents. */
    @Test
    void peakCurrentModeSharesTheCurrentAndVoltageModeDoesNot() {
        Circuit circuit = MultiPhase.buck(2, 0.1, 0).withResistance("L2", 60e-3);
        assertThat(largestShare(circuit, peak(1))).isBetween(0.5, 0.52);
        assertThat(largestShare(circuit, voltageMode(1))).isGreaterThan(0.7);
    }

    private static double largestShare(Circuit circuit, Regulator regulator) {
        DrivenCircuit driven = MultiPhase.regulated(circuit, regulator, 2);
        SteadyState steady = SteadyState.of(driven);
        double first = steady.of(driven.current("L1")).mean();
        double second = steady.of(driven.current("L2")).mean();
        return Math.max(first, second) / (first + second);
    }

    /** Equal phases share equally, each a third of a period after the other, in voltage mode as well. */
    @ParameterizedTest
    @ValueSource(doubles = {2, 6, 10})
    void equalPhasesDoTheSame(double reference) {
        DrivenCircuit driven = MultiPhase.regulated(MultiPhase.buck(3, 0.15 * reference, 0), voltageMode(reference), 3);
        SteadyState steady = SteadyState.of(driven);
        double first = steady.of(driven.current("L1")).mean();
        for (int k = 2; k <= 3; k++) {
            assertThat(steady.of(driven.current("L" + k)).mean()).isCloseTo(first, within(1e-9));
            double later = (k - 1) * steady.period() / 3;
            assertThat(steady.of(driven.current("L" + k)).at(later))
                    .isCloseTo(steady.of(driven.current("L1")).at(0), within(1e-9));
        }
    }
}
