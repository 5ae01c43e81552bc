package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;

/** A converter that stores no current: a voltage doubler of four switches without resistance. */
class ChargePumpTest {
    private static final double FREQUENCY = 1e5;
    private static final double FLYING = 1e-6;

    private static Converter doubler(double outputCapacitance) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 5)
                .switchPart("Q1", "in", "p", 0)
                .switchPart("Q2", "n", Circuit.GROUND, 0)
                .switchPart("Q3", "in", "n", 0)
                .switchPart("Q4", "p", "out", 0)
                .capacitor("C1", "p", "n", FLYING)
                .capacitor("C2", "out", Circuit.GROUND, outputCapacitance)
                .resistor("R1", "out", Circuit.GROUND, 50)
                .build();
        Drive charging = Drive.fixedDuty(0.5, FREQUENCY);
        Drive pumping = charging.complement();
        return Converter.of(circuit)
                .input("V1")
                .output("out", Circuit.GROUND)
                .drive(Map.of("Q1", charging, "Q2", charging, "Q3", pumping, "Q4", pumping));
    }

    /** Beside a large output capacitor its output resistance is 1 / (f C) (slow-switching limit, common practice, from memory). */
    @Test
    void itsOutputDropsByTheChargeThatItCarries() {
        ConverterSteadyState steady = doubler(10e-3).steadyState();
        double expected = 10 / (1 + 1 / (FREQUENCY * FLYING) / 50);
        assertThat(FigureSheet.of(steady).get(Figures.OUTPUT_VOLTAGE).get())
                .isCloseTo(expected, within(1e-5 * expected));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    @Test
    void whatItHasNotIsNotAmongItsFigures() {
        Converter converter = doubler(4.7e-6);
        assertThat(converter.steadyState().conduction()).isEqualTo(Conduction.UNDEFINED);
        assertThat(NamedSignals.of(converter)).doesNotContainKeys("inductor_current", "switch_node_voltage");
        double more = converter
                .with("C1.capacitance", 2 * FLYING)
                .steadyState()
                .of(converter.outputVoltage())
                .mean();
        assertThat(more)
                .isGreaterThan(
                        converter.steadyState().of(converter.outputVoltage()).mean());
    }
}
