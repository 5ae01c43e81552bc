package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.CircuitSignals;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Signal;

/**
 * Signals of one circuit asked of a run of another. They were read by the number of their channel: the inductor current of a
 * stage, asked of the same stage with a body diode more, was the current of another part.
 */
class ForeignSignalsTest {
    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .inductor(22e-6, 0.03)
            .outputCapacitor(47e-6, 5e-3)
            .transistor(0.08)
            .rectifier(0.4, 0.02)
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, 300e3));

    @Test
    void aSignalIsFoundByItsPartInAStageWithAPartMore() {
        Converter other = RAIL.withBodyDiode(0.7, 0.02);
        ConverterSteadyState steady = other.steadyState();
        double own = steady.of(other.inductorCurrent()).mean();
        assertThat(steady.of(RAIL.inductorCurrent()).mean()).isEqualTo(own);
        assertThat(own).isCloseTo(RAIL.steadyState().of(RAIL.inductorCurrent()).mean(), within(1e-9));
        assertThat(steady.of(RAIL.outputVoltage()).maximum())
                .isEqualTo(steady.of(other.outputVoltage()).maximum());
        Signal drop = RAIL.switchNode().minus(other.outputVoltage());
        assertThat(steady.of(drop).mean())
                .isEqualTo(steady.of(other.switchNode().minus(RAIL.outputVoltage()))
                        .mean());
    }

    @Test
    void whatHasNoSuchPartRefuses() {
        Circuit plain = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "a", 0.1)
                .resistor("R7", "a", "ground", 3)
                .capacitor("C7", "a", "ground", 1e-6, 0.1)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(plain)
                .gate("Q1", Drive.fixedDuty(0.5, 1e5))
                .build();
        SteadyState steady = SteadyState.of(driven);
        assertThatThrownBy(() -> steady.of(RAIL.inductorCurrent()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("has no current of L1")
                .hasMessageContaining("current of R7")
                .hasMessageContaining("ask the circuit or converter that was run");
        assertThatThrownBy(() -> RAIL.steadyState().of(CircuitSignals.of(plain).current("R7")))
                .hasMessageContaining("has no current of R7");
    }

    /** A fixed drive has no control voltage; its last channel is not taken for one. */
    @Test
    void aControlVoltageIsNoneOfAStageWithoutRegulator() {
        Converter regulated = RAIL.withRegulator(VoltageMode.of(300e3, 1, 0.2, Compensator.type2(20e3, 5e3, 100e3))
                .withRamp(0, 1));
        Signal control = regulated.controlVoltage();
        ConverterSteadyState steady = RAIL.withBodyDiode(0.7, 0.02).steadyState();
        assertThatThrownBy(() -> steady.of(control)).hasMessageContaining("the circuit that was run has no");
    }
}
