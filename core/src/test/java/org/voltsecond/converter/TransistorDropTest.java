package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;

/** A bipolar transistor: volt-second balance of parts without resistance, D (V - V_S) - (1 - D) V_F for a buck stage. */
class TransistorDropTest {
    private static final double DUTY = 0.45;

    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22))
                .outputCapacitor(micro(47))
                .transistor(0, 1)
                .rectifier(0.4, 0)
                .load(Load.resistor(2.5));
    }

    @Test
    void theDropIsTakenOffTheInput() {
        Converter converter = stage().drive(Drive.fixedDuty(DUTY, kilo(300)));
        ConverterSteadyState steady = converter.steadyState();
        double mean = steady.of(converter.outputVoltage()).mean();
        assertThat(mean).isCloseTo(DUTY * 11 - (1 - DUTY) * 0.4, within(1e-11));
        double transistor = steady.losses().transistor();
        assertThat(transistor)
                .isCloseTo(1.0 * steady.of(converter.transistorCurrent()).mean(), within(1e-12));
        assertThat(steady.audit().residual()).isLessThan(1e-12);
        assertThat(steady.periodic()
                        .sensitivities()
                        .to(Parameter.forwardDrop("Q1"))
                        .mean(converter.outputVoltage()))
                .isCloseTo(-DUTY, within(1e-9));
    }

    @Test
    void theDropStaysWhereTheCurrentFlowsBack() {
        Converter converter =
                stage().load(Load.current(0.05)).synchronousRectifier(0).drive(Drive.fixedDuty(DUTY, kilo(300)));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.of(converter.inductorCurrent()).minimum()).isNegative();
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(DUTY * 11, within(1e-11));
        assertThat(steady.of(converter.transistorVoltage()).minimum()).isCloseTo(1, within(1e-12));
        assertThat(steady.audit().residual()).isLessThan(1e-12);
    }

    @Test
    void itIsAValueOfThePart() {
        Converter converter = stage().drive(Drive.fixedDuty(DUTY, kilo(300)));
        assertThat(PartValue.of(converter.circuit(), "Q1.forward_drop").value()).isEqualTo(1);
        Converter other = converter.with("Q1.forward_drop", 0.5).withTransistor(milli(80));
        assertThat(PartValue.of(other.circuit(), "Q1.forward_drop").value()).isEqualTo(0.5);
        assertThat(PartValue.of(other.circuit(), "Q1.on_resistance").value()).isEqualTo(0.08);
    }
}
