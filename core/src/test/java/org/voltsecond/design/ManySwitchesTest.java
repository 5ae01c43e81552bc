package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.design.Refused.faults;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.control.Limiter;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figures;
import org.voltsecond.waveform.Waveform;

/** A drive that reaches several switches of a custom circuit, as a file has it. */
class ManySwitchesTest {
    /** Push-pull: 28 V, three turns to one, the inductor at the output as in D. W. Hart, Power Electronics, 2011, ex. 7-5. */
    private static final String PUSH_PULL = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "28 V" },
                { name = "T1", kind = "ideal-transformer", windings = [
                    { between = ["in", "d1"], turns = 3 }, { between = ["d2", "in"], turns = 3 },
                    { between = ["s1", "ground"], turns = 1 }, { between = ["ground", "s2"], turns = 1 } ] },
                { name = "L2", kind = "inductor", between = ["in", "d1"], inductance = "200 µH" },
                { name = "Q1", kind = "switch", between = ["d1", "ground"], body_diode = { forward_drop = "0.7 V" } },
                { name = "Q2", kind = "switch", between = ["d2", "ground"], body_diode = { forward_drop = "0.7 V" } },
                { name = "D1", kind = "rectifier", between = ["s1", "x"] },
                { name = "D2", kind = "rectifier", between = ["s2", "x"] },
                { name = "L1", kind = "inductor", between = ["x", "out"], inductance = "100 µH" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "100 µF" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "2 Ω" },
            ]
            output = { between = ["out", "ground"] }
            roles = { rectifiers = ["D1", "D2"] }
            """;

    private static final String FOUR_SWITCH = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "Q1", kind = "switch", between = ["in", "a"] },
                { name = "Q2", kind = "switch", between = ["a", "ground"], body_diode = { forward_drop = "0.7 V" } },
                { name = "L1", kind = "inductor", between = ["a", "b"], inductance = "22 µH" },
                { name = "Q3", kind = "switch", between = ["b", "ground"] },
                { name = "Q4", kind = "switch", between = ["out", "b"], body_diode = { forward_drop = "0.7 V" } },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "100 µF", resistance = "5 mΩ" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "4 Ω" },
            ]
            output = { between = ["out", "ground"] }
            """;

    private static Converter converter(String text) throws DesignException {
        return DesignFile.parse("own.toml", "own", text).converter();
    }

    private static Waveform output(ConverterSteadyState steady) {
        return steady.of(steady.converter().outputVoltage());
    }

    private static Waveform current(ConverterSteadyState steady, String part) {
        return steady.of(steady.converter().driven().current(part));
    }

    private static String drive(String keys) {
        return "[drive]\nswitching_frequency = \"100 kHz\"\n" + keys;
    }

    @Test
    void aFixedDutyCycleReachesBothHalvesOfAPushPull() throws DesignException {
        String fixed = PUSH_PULL
                + drive(
                        "kind = \"fixed-duty\"\nduty_cycle = 0.35\nswitches = [\"Q1\", \"Q2\"]\npattern = \"alternating\"\n");
        ConverterSteadyState steady = converter(fixed).steadyState();
        assertThat(output(steady).mean()).isCloseTo(2 * 0.35 * 28 / 3, within(1e-9));
        assertThat(current(steady, "L1").peakToPeak())
                .isCloseTo((28 / 3.0 - 2 * 0.35 * 28 / 3) * 0.35 / 100e3 / 100e-6, within(2e-4));
        assertThat(current(steady, "L2").peakToPeak()).isCloseTo(28 * 0.35 / 100e3 / 200e-6, within(1e-6));
        assertThat(faults(fixed.replace("0.35\n", "0.6\n")))
                .singleElement()
                .asString()
                .contains("from 0 to 0.5");
    }

    /** What a half loses more than the other shifts the flux in each period; only comparators of the currents bring it back. */
    @Test
    void currentModeBalancesTheFluxOfUnlikeHalves() throws DesignException {
        String unlike = PUSH_PULL.replace("[\"d2\", \"ground\"],", "[\"d2\", \"ground\"], forward_drop = \"0.3 V\",");
        String halves = """
                switches = ["Q1", "Q2"]
                pattern = "alternating"
                reference = "6 V"
                divider = 1
                compensator = { kind = "type-2", integrator_gain = 300, zero = "500 Hz", pole = "50 kHz" }
                """;
        ConverterSteadyState steady = converter(unlike
                        + drive("kind = \"peak-current-mode\"\nsense = \"1 V/A\"\nslope_compensation = \"30 mA/µs\"\n"
                                + "current = [\"Q1\", \"Q2\"]\n" + halves))
                .steadyState();
        assertThat(output(steady).mean()).isCloseTo(6, within(1e-9));
        assertThat(steady.periodic().isStable()).isTrue();
        Waveform flux = steady.of(steady.converter().driven().voltageAcross("L2"));
        assertThat(flux.mean()).isCloseTo(0, within(1e-9));
        assertThat(current(steady, "L2").mean()).isNotZero().isCloseTo(0, within(0.01));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        // without it the flux walks until the magnetizing current is as large as what the load lends to it
        ConverterSteadyState walked =
                converter(unlike + drive("kind = \"voltage-mode\"\n" + halves)).steadyState();
        assertThat(Math.abs(current(walked, "L2").mean())).isGreaterThan(0.5);
    }

    /** Down, up, and through the middle, where neither leg has to do anything. */
    @ParameterizedTest
    @CsvSource({"5, 12", "11.9, 12", "12, 12", "12.1, 12", "20, 12"})
    void aFourSwitchStageGoesDownAndUp(double wanted, double input) throws DesignException {
        ConverterSteadyState steady = converter(
                        FOUR_SWITCH
                                + drive(
                                        "kind = \"voltage-mode\"\nswitches = [\"Q1\", \"Q3\"]\ncomplementary = [\"Q2\", \"Q4\"]\n"
                                                + "pattern = \"four-switch\"\ndivider = 0.2\nreference = " + wanted / 5
                                                + "\n"
                                                + "compensator = { kind = \"type-2\", integrator_gain = 100, zero = \"1 kHz\", pole = \"50 kHz\" }\n"))
                .steadyState();
        assertThat(output(steady).mean()).isCloseTo(wanted, within(1e-9));
        double first = steady.periodic().timeConducting("Q1") / steady.period();
        double second = steady.periodic().timeConducting("Q3") / steady.period();
        assertThat(first / (1 - second)).isCloseTo(wanted / input, within(2e-3));
        assertThat(first < 1 && second > 0).isFalse();
        assertThat(steady.regulation().orElseThrow().inRegulation()).isTrue();
    }

    @Test
    void aFixedDutyCycleDrivesBothLegsAtOnce() throws DesignException {
        ConverterSteadyState steady = converter(FOUR_SWITCH + drive("""
                                kind = "fixed-duty"
                                duty_cycle = 0.4
                                switches = ["Q1", "Q3"]
                                complementary = ["Q2", "Q4"]
                                pattern = "four-switch"
                                """)).steadyState();
        assertThat(output(steady).mean()).isCloseTo(12 * 0.4 / 0.6, within(0.05));
    }

    @Test
    void gatesOfDifferentFrequenciesRepeatAfterTheirCommonPeriod() throws DesignException {
        String two = """
                part = [
                    { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                    { name = "Q1", kind = "switch", between = ["in", "a"] },
                    { name = "D1", kind = "rectifier", between = ["ground", "a"] },
                    { name = "L1", kind = "inductor", between = ["a", "out"], inductance = "22 µH", resistance = "0.1 mΩ" },
                    { name = "Q2", kind = "switch", between = ["in", "b"] },
                    { name = "D2", kind = "rectifier", between = ["ground", "b"] },
                    { name = "L2", kind = "inductor", between = ["b", "out"], inductance = "22 µH", resistance = "0.1 mΩ" },
                    { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = 1 },
                    { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "1 Ω" },
                ]
                output = { between = ["out", "ground"] }
                gate = [
                    { switch = "Q1", duty_cycle = 0.4, switching_frequency = "200 kHz" },
                    { switch = "Q2", duty_cycle = 0.4, switching_frequency = "300 kHz", delay = 0.25 },
                ]
                """;
        ConverterSteadyState steady = converter(two).steadyState();
        assertThat(steady.period()).isCloseTo(10e-6, within(1e-18));
        assertThat(Figures.PERIODS.of(steady).get()).isEqualTo(3);
        assertThat(current(steady, "L1").peakToPeak())
                .isCloseTo((12 - output(steady).mean()) * 0.4 / 200e3 / 22e-6, within(1e-4));
        assertThat(current(steady, "L2").peakToPeak())
                .isCloseTo((12 - output(steady).mean()) * 0.4 / 300e3 / 22e-6, within(1e-4));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        assertThat(faults(two.replace("300 kHz", "314159.26535 Hz")))
                .singleElement()
                .asString()
                .contains("no common period");
    }

    /** A regulated buck beside a load that a clock of a third of its frequency switches on and off. */
    @Test
    void aRegulatorAndAGateShareACircuit() throws DesignException {
        String text = """
                part = [
                    { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                    { name = "Q1", kind = "switch", between = ["in", "sw"], on_resistance = "20 mΩ" },
                    { name = "D1", kind = "rectifier", between = ["ground", "sw"] },
                    { name = "L1", kind = "inductor", between = ["sw", "out"], inductance = "22 µH", resistance = "10 mΩ" },
                    { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "100 µF", resistance = "5 mΩ" },
                    { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "5 Ω" },
                    { name = "R2", kind = "resistor", between = ["out", "low"], resistance = "10 Ω" },
                    { name = "Q2", kind = "switch", between = ["low", "ground"] },
                ]
                output = { between = ["out", "ground"] }
                roles = { rectifiers = ["D1"] }
                gate = [ { switch = "Q2", duty_cycle = 0.5, switching_frequency = "100 kHz" } ]
                [drive]
                kind = "voltage-mode"
                switching_frequency = "300 kHz"
                reference = "1 V"
                divider = 0.2
                compensator = { kind = "type-2", integrator_gain = 1500, zero = "4557 Hz", pole = "100 kHz" }
                switches = ["Q1"]
                """;
        ConverterSteadyState steady = converter(text).steadyState();
        assertThat(output(steady).mean()).isCloseTo(5, within(1e-9));
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(current(steady, "Q2").mean()).isCloseTo(0.25, within(1e-3));
        assertThat(steady.period()).isCloseTo(10e-6, within(1e-15));
        assertThat(Figures.PERIODS.of(steady).get()).isEqualTo(3);
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    @Test
    void averageCurrentModeHoldsTheMeanOfTheCurrent() throws DesignException {
        String commanded = FOUR_SWITCH + drive("""
                        kind = "average-current-mode"
                        switches = ["Q1", "Q3"]
                        complementary = ["Q2", "Q4"]
                        current = "L1"
                        current_command = "2 A"
                        current_compensator = { kind = "type-2", integrator_gain = 4000, zero = "3 kHz", pole = "50 kHz" }
                        """);
        ConverterSteadyState steady = converter(commanded).steadyState();
        assertThat(current(steady, "L1").mean()).isCloseTo(2, within(1e-9));
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(faults(commanded.replace(
                        "current_command = \"2 A\"\n", "current_command = \"2 A\"\npattern = \"four-switch\"\n")))
                .singleElement()
                .asString()
                .contains("voltage mode only");
    }

    @Test
    void whatDoesNotFitIsTold() {
        String halves = PUSH_PULL + drive("kind = \"fixed-duty\"\nduty_cycle = 0.3\nswitches = [\"Q1\", \"Q2\"]\n");
        assertThat(faults(halves.replace("[\"Q1\", \"Q2\"]", "[\"Q1\"]")
                        + "pattern = \"alternating\"\ncomplementary = [\"Q2\"]\n"))
                .singleElement()
                .asString()
                .contains("2 legs in equal numbers");
        assertThat(faults(halves + "pattern = \"alternately\"\n"))
                .singleElement()
                .asString()
                .contains("nearest: alternating");
        assertThat(faults(halves + "pattern = \"alternating\"\ncurrent = [\"Q1\", \"Q2\", \"L1\"]\n"))
                .singleElement()
                .asString()
                .contains("one for each of 2 legs");
        assertThat(faults(halves + "current = \"L9\"\n"))
                .singleElement()
                .asString()
                .contains("\"L9\" is not a part, or a winding, of the circuit");
    }

    /** Stages of two halves sense the transistor of each; at the longest pulse one half goes over into the other on the clock edge. */
    @ParameterizedTest
    @CsvSource({"push-pull, 28, true", "full-bridge, 28, true", "half-bridge, 56, true", "half-bridge, 26, false"})
    void aReadyMadeStageOfHalvesIsRegulated(String topology, double input, boolean reached) throws DesignException {
        ConverterSteadyState steady =
                converter("""
                        [stage]
                        topology = "%s"
                        [input]
                        voltage = %s
                        [transformer]
                        turns = { primary = 3, secondary = 1 }
                        magnetizing_inductance = "500 µH"
                        [inductor]
                        inductance = "50 µH"
                        [output_capacitor]
                        capacitance = "100 µF"
                        resistance = "10 mΩ"
                        [transistor]
                        on_resistance = "50 mΩ"
                        [rectifier]
                        forward_drop = "0.5 V"
                        [load]
                        resistance = "2 Ω"
                        """.formatted(topology, input) + drive("""
                                        kind = "peak-current-mode"
                                        reference = "1 V"
                                        divider = 0.2
                                        sense = "0.1 V/A"
                                        slope_compensation = "50 mA/µs"
                                        compensator = { kind = "type-2", integrator_gain = 300, zero = "1 kHz", pole = "50 kHz" }
                                        """)).steadyState();
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.regulation().orElseThrow().inRegulation()).isEqualTo(reached);
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        if (!reached) {
            assertThat(steady.regulation().orElseThrow().heldBy()).contains(Limiter.MAXIMUM_DUTY_CYCLE);
            assertThat(steady.periodic().timeConducting("Q1")).isCloseTo(5e-6, within(1e-15));
        }
    }
}
