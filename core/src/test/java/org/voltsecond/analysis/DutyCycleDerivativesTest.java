package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.DrivenCircuitBuilder;
import org.voltsecond.numeric.Complex;
import org.voltsecond.waveform.Signal;

/**
 * Derivatives by a duty cycle, held against steady states at a little more and a little less of it. A delayed pulse was told to
 * have none, of several switches only some edges moved, and where two edges fell together they were taken for one.
 */
class DutyCycleDerivativesTest {
    private static final double FREQUENCY = 100e3;
    private static final double STEP = 1e-6;

    /** Bucks in parallel, each phase with a second switch in place of its diode. */
    private record Stage(int phases, double duty, double deadTime, double shift) {
        DrivenCircuit with(int changed, double change) {
            Circuit.Builder parts = Circuit.builder()
                    .voltageSource("V1", "in", "ground", 12)
                    .capacitor("C1", "out", "ground", 47e-6, 5e-3)
                    .resistor("R1", "out", "ground", 0.7);
            for (int k = 1; k <= phases; k++) {
                parts.switchPart("QH" + k, "in", "sw" + k, 0.08)
                        .switchPart("QL" + k, "sw" + k, "ground", 0.05)
                        .rectifier("D" + k, "ground", "sw" + k, 0.7, 0.02)
                        .rectifier("DU" + k, "sw" + k, "in", 0.7, 0.02)
                        .inductor("L" + k, "sw" + k, "out", 22e-6, 0.03);
            }
            DrivenCircuitBuilder driven = DrivenCircuit.builder(parts.build());
            for (int k = 0; k < phases; k++) {
                double share = (shift + (double) k / phases) % 1;
                double own = changed == 0 || changed == k + 1 ? duty + change : duty;
                Drive high = Drive.fixedDuty(own, FREQUENCY).delayedBy(share);
                driven.gate("QH" + (k + 1), high).gate("QL" + (k + 1), high.complement(deadTime));
            }
            return driven.build();
        }

        double mean(int changed, double change, String what) {
            DrivenCircuit circuit = with(changed, change);
            return SteadyState.of(circuit).of(signal(circuit, what)).mean();
        }

        double centralDifference(int changed, String what) {
            return (mean(changed, STEP, what) - mean(changed, -STEP, what)) / (2 * STEP);
        }
    }

    private static Signal signal(DrivenCircuit circuit, String what) {
        return what.startsWith("L") ? circuit.current(what) : circuit.nodeVoltage(what);
    }

    @ParameterizedTest
    @CsvSource({
        "1, 0.4, 0, 0, out",
        "1, 0.4, 0, 0.3, out",
        "1, 0.4, 0, 0.8, sw1",
        "1, 0.4, 0, 0.6, sw1",
        "1, 0.4, 0.02, 0, out",
        "1, 0.4, 0.02, 0.3, sw1",
        "2, 0.3, 0, 0, out",
        "2, 0.3, 0, 0, L2",
        "2, 0.7, 0, 0, sw2",
        "2, 0.5, 0, 0, out",
        "2, 0.5, 0, 0, L1",
        "2, 0.5, 0, 0.25, sw1",
        "2, 0.4, 0.03, 0, out",
        "4, 0.25, 0, 0, out",
        "4, 0.5, 0, 0, L3",
        "4, 0.3, 0.02, 0, out",
    })
    void derivativesAreTheSlopesOfTheFigures(int phases, double duty, double deadTime, double shift, String what) {
        Stage stage = new Stage(phases, duty, deadTime, shift);
        DrivenCircuit circuit = stage.with(0, 0);
        Sensitivities derivatives = SteadyState.of(circuit).sensitivities();
        for (int changed = 0; changed <= Math.min(phases, 2); changed++) {
            Parameter parameter = changed == 0 ? Parameter.dutyCycle() : Parameter.dutyCycle("QH" + changed);
            double slope = stage.centralDifference(changed, what);
            assertThat(derivatives.to(parameter).mean(signal(circuit, what)))
                    .as("%s at %s", parameter, stage)
                    .isCloseTo(slope, within(2e-6 * Math.max(1, Math.abs(slope))));
            assertThat(derivatives.downwards(parameter).mean(signal(circuit, what)))
                    .as("%s downwards at %s", parameter, stage)
                    .isCloseTo(slope, within(2e-6 * Math.max(1, Math.abs(slope))));
        }
    }

    /** Far below every resonance a disturbed duty cycle does what a changed one does. */
    @ParameterizedTest
    @CsvSource({"1, 0.4, 0, 0.3", "2, 0.5, 0, 0", "2, 0.3, 0.02, 0", "4, 0.25, 0, 0"})
    void slowDisturbancesFollowTheSlope(int phases, double duty, double deadTime, double shift) {
        Stage stage = new Stage(phases, duty, deadTime, shift);
        DrivenCircuit circuit = stage.with(0, 0);
        SmallSignal small = SmallSignal.of(SteadyState.of(circuit));
        for (int changed = 0; changed <= Math.min(phases, 2); changed++) {
            Complex response = small.response(
                            Perturbation.dutyCycle(changed == 0 ? "" : "QH" + changed),
                            circuit.nodeVoltage("out"),
                            0.01)
                    .value(0);
            double slope = stage.centralDifference(changed, "out");
            assertThat(response.real()).as("switch %s", changed).isCloseTo(slope, within(1e-5 * slope));
        }
    }

    /**
     * Two switches in series, whose pulses touch: the second closes just as the first opens. A longer first pulse lets current
     * through for as long as both are closed, a shorter one does nothing: the derivative has two sides, and each is told.
     */
    @Test
    void aKinkHasTwoDerivatives() {
        double duty = 0.5;
        DrivenCircuit circuit = inSeries(duty);
        Signal current = circuit.current("R1");
        Sensitivities derivatives = SteadyState.of(circuit).sensitivities();
        double up = (SteadyState.of(inSeries(duty + STEP)).of(current).mean()
                        - SteadyState.of(circuit).of(current).mean())
                / STEP;
        assertThat(up).isCloseTo(12 / 3.0, within(1e-3));
        assertThat(derivatives.to(Parameter.dutyCycle("Q1")).mean(current)).isCloseTo(up, within(1e-3));
        assertThat(derivatives.downwards(Parameter.dutyCycle("Q1")).mean(current))
                .isCloseTo(0, within(1e-12));
    }

    private static DrivenCircuit inSeries(double duty) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "a", 0)
                .resistor("R2", "a", "ground", 1e3)
                .switchPart("Q2", "a", "b", 0)
                .resistor("R1", "b", "ground", 3)
                .capacitor("C1", "in", "ground", 1e-6, 1)
                .build();
        return DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(duty, FREQUENCY))
                .gate("Q2", Drive.fixedDuty(0.3, FREQUENCY).delayedBy(0.5))
                .build();
    }

    @Test
    void aSwitchWithoutADriveIsRefused() {
        Sensitivities derivatives =
                SteadyState.of(new Stage(1, 0.4, 0, 0).with(0, 0)).sensitivities();
        assertThatThrownBy(() -> derivatives.to(Parameter.dutyCycle("Q9")))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("QH1")
                .hasMessageContaining("Q9");
    }
}
