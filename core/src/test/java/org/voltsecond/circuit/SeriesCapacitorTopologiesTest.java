package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.reference.Printed.assertPrinted;
import static org.voltsecond.reference.Printed.assertPublished;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.waveform.Waveform;

/**
 * Published stages with a capacitor in the path of the energy, and the four-switch stage, as custom circuits. What
 * the letters mean stands in {@code Printed}.
 */
class SeriesCapacitorTopologiesTest {

    private static DrivenCircuit driven(Circuit circuit, double dutyCycle, double hertz) {
        return DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(dutyCycle, hertz))
                .build();
    }

    /**
     * REF-CUK-2: D. W. Hart, Power Electronics, McGraw-Hill 2011, ex. 6-7: 12 V to -18 V, 40 W. Published M (from memory of
     * the literature); exact C (computed for this project, not published).
     */
    @Test
    void cuk2HartExample6x7() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .inductor("L1", "in", "a", micro(432))
                .switchPart("Q1", "a", GROUND, 0)
                .capacitor("C1", "a", "b", micro(17.8))
                .rectifier("D1", "b", GROUND)
                .inductor("L2", "out", "b", micro(648))
                .capacitor("C2", "out", GROUND, micro(3.09))
                .resistor("R1", "out", GROUND, 8.1)
                .build();
        DrivenCircuit driven = driven(circuit, 0.6, kilo(50));
        SteadyState steady = SteadyState.of(driven);
        Waveform output = steady.of(driven.nodeVoltage("out"));
        Waveform first = steady.of(driven.current("L1"));
        Waveform second = steady.of(driven.current("L2"));
        double seriesRipple = steady.of(driven.voltageAcross("C1")).peakToPeak();

        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertPrinted("output", output.mean(), "-18.0000");
        assertPrinted("output ripple", output.peakToPeak(), "0.1797");
        assertPrinted("ripple of L1", first.peakToPeak(), "0.33333");
        assertPrinted("ripple of L2", second.peakToPeak(), "0.2231");
        assertPrinted("ripple of C1", seriesRipple, "1.4988");

        assertPublished("output", output.mean(), "-18", -18, -18);
        assertPublished("mean of L1", first.mean(), "3.33", 10 / 3.0, 10 / 3.0);
        assertPublished("mean of L2", second.mean(), "2.22", 20 / 9.0, 20 / 9.0);
        // sized for ripples of 10 % of 3.33 A, 10 % of 2.22 A, 5 % of 30 V and 1 % of 18 V
        assertPublished("ripple of L1", first.peakToPeak(), "0.333", 1 / 3.0, 0.33333);
        assertPublished("ripple of L2", second.peakToPeak(), "0.222", 2 / 9.0, 0.2231);
        assertPublished("ripple of C1", seriesRipple, "1.50", 1.5, 1.4988);
        assertPublished("output ripple", output.peakToPeak(), "0.18", 0.18, 0.1797);
    }

    /**
     * REF-SEPIC-1: D. W. Hart, Power Electronics, ex. 6-8: 9 V to 6 V, 3 A. Published M (from memory of the literature);
     * exact C (computed for this project, not published).
     */
    @Test
    void sepic1HartExample6x8() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 9)
                .inductor("L1", "in", "a", micro(90))
                .switchPart("Q1", "a", GROUND, 0)
                .capacitor("C1", "a", "b", micro(80))
                .inductor("L2", GROUND, "b", micro(90))
                .rectifier("D1", "b", "out")
                .capacitor("C2", "out", GROUND, micro(80))
                .resistor("R1", "out", GROUND, 2)
                .build();
        DrivenCircuit driven = driven(circuit, 0.4, kilo(100));
        SteadyState steady = SteadyState.of(driven);
        Waveform output = steady.of(driven.nodeVoltage("out"));
        Waveform first = steady.of(driven.current("L1"));
        Waveform second = steady.of(driven.current("L2"));

        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertPrinted("output", output.mean(), "5.99735");
        assertPrinted("ripple of L1", first.peakToPeak(), "0.40000");
        assertPrinted("output ripple", output.peakToPeak(), "0.14985");
        assertPrinted("switch peak", steady.of(driven.current("Q1")).maximum(), "5.395");

        double exact = 5.99735 / 6;
        assertPublished("output", output.mean(), "6", 6, 5.99735);
        assertPublished("mean of L1", first.mean(), "2", 2, 2 * exact);
        assertPublished("maximum of L1", first.maximum(), "2.2", 2.2, 2 * exact + 0.2);
        assertPublished("minimum of L1", first.minimum(), "1.8", 1.8, 2 * exact - 0.2);
        assertPublished("mean of L2", second.mean(), "3", 3, 3 * exact);
        assertPublished("maximum of L2", second.maximum(), "3.2", 3.2, 3 * exact + 0.2);
        assertPublished("minimum of L2", second.minimum(), "2.8", 2.8, 3 * exact - 0.2);
        assertPublished("output ripple", output.peakToPeak(), "0.15", 0.15, 0.14985);
        assertPublished("ripple of C1", steady.of(driven.voltageAcross("C1")).peakToPeak(), "0.15", 0.15, 0.14985);
    }

    /**
     * REF-ZETA-1: formulas and exact values C (computed for this project; no published numeric example was seen), with the
     * parts of REF-SEPIC-1.
     */
    @Test
    void zeta1WithThePartsOfSepic1() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 9)
                .switchPart("Q1", "in", "a", 0)
                .inductor("L1", "a", GROUND, micro(90))
                .capacitor("C1", "b", "a", micro(80))
                .rectifier("D1", GROUND, "b")
                .inductor("L2", "b", "out", micro(90))
                .capacitor("C2", "out", GROUND, micro(80))
                .resistor("R1", "out", GROUND, 2)
                .build();
        DrivenCircuit driven = driven(circuit, 0.4, kilo(100));
        SteadyState steady = SteadyState.of(driven);
        Waveform output = steady.of(driven.nodeVoltage("out"));
        Waveform series = steady.of(driven.voltageAcross("C1"));

        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertPrinted("output", output.mean(), "5.99967");
        assertPrinted("ripple of L1", steady.of(driven.current("L1")).peakToPeak(), "0.40000");
        assertPrinted("ripple of L2", steady.of(driven.current("L2")).peakToPeak(), "0.40009");
        assertPrinted("ripple of C1", series.peakToPeak(), "0.15001");
        assertPrinted("output ripple, mV", 1e3 * output.peakToPeak(), "6.25");
        assertThat(series.mean()).as("voltage of C1 is the output's").isCloseTo(output.mean(), within(1e-10));
    }

    /**
     * REF-4SW-1: formulas C (computed for this project; report TI SLVA535 carries them, M, not seen): the non-inverting
     * four-switch stage gives D1/(1-D2): D as buck, 1/D' as boost, D/D' with both. Output free of ripple.
     */
    @ParameterizedTest
    @CsvSource({"0.4, 0, 0.4", "1, 0.3, 1.428571", "0.6, 0.6, 1.5", "0.8, 0.2, 1.0"})
    void fourSwitch1(double buckDuty, double boostDuty, double ratio) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 1)
                .switchPart("Q1", "in", "a", 0)
                .rectifier("D1", GROUND, "a")
                .inductor("L1", "a", "b", micro(100))
                .switchPart("Q2", "b", GROUND, 0)
                .rectifier("D2", "b", "out")
                .capacitor("C1", "out", GROUND, 1)
                .resistor("R1", "out", GROUND, 0.2)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(buckDuty, kilo(100)))
                .gate("Q2", Drive.fixedDuty(boostDuty, kilo(100)))
                .build();
        SteadyState steady = SteadyState.of(driven);
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.of(driven.nodeVoltage("out")).mean()).isCloseTo(ratio, within(1e-6));
    }
}
