package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.design.Refused.faults;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.waveform.Waveform;

/** A custom circuit is read from a design file, part by part. */
class OwnCircuitTest {
    /** A SEPIC whose windings share a core. */
    static final String SEPIC = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "9 V" },
                { name = "T1", kind = "coupled-inductors", coupling = 0.97, windings = [
                    { between = ["in", "drain"], inductance = "90 µH" },
                    { between = ["ground", "middle"], inductance = "90 µH" } ] },
                { name = "Q1", kind = "switch", between = ["drain", "ground"] },
                { name = "C1", kind = "capacitor", between = ["drain", "middle"], capacitance = "80 µF" },
                { name = "D1", kind = "rectifier", between = ["middle", "out"] },
                { name = "C2", kind = "capacitor", between = ["out", "ground"], capacitance = "80 µF" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "2 Ω" },
            ]
            gate = [ { switch = "Q1", duty_cycle = 0.4, switching_frequency = "100 kHz" } ]
            output = { between = ["out", "ground"] }
            """;

    /** The flyback of Hart, "Power Electronics", example 7-1, with its windings perfectly coupled. */
    private static final String FLYBACK = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "24 V" },
                { name = "T1", kind = "coupled-inductors", coupling = 1, windings = [
                    { between = ["in", "drain"], inductance = "500 µH" },
                    { between = ["ground", "anode"], inductance = 55.555555555555556e-6 } ] },
                { name = "Q1", kind = "switch", between = ["drain", "ground"] },
                { name = "D1", kind = "rectifier", between = ["anode", "out"] },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "200 µF" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "5 Ω" },
            ]
            gate = [ { switch = "Q1", duty_cycle = 0.384615384615384615, switching_frequency = "40 kHz" } ]
            output = { between = ["out", "ground"] }
            """;

    private static final String BUCK = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "Q1", kind = "switch", between = ["in", "sw"] },
                { name = "Q2", kind = "switch", between = ["sw", "ground"], body_diode = { forward_drop = "0.8 V" } },
                { name = "L1", kind = "inductor", between = ["sw", "out"], inductance = "22 µH" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "2.5 Ω" },
            ]
            output = { between = ["out", "ground"] }
            """;

    private static ConverterSteadyState steadyState(String text) throws DesignException {
        return DesignFile.parse("own.toml", "own", text).converter().steadyState();
    }

    private static Waveform output(ConverterSteadyState steady) {
        return steady.of(steady.converter().outputVoltage());
    }

    private static Waveform current(ConverterSteadyState steady, String part) {
        return steady.of(steady.converter().driven().current(part));
    }

    /** M = D / (1 - D) and the currents that follow hold without ripple of the capacitors, which goes as 1 / C. */
    @Test
    void aSepicOfPartsHasItsIdealRatio() throws DesignException {
        ConverterSteadyState steady = steadyState(SEPIC.replace("\"80 µF\"", "0.8"));
        assertThat(output(steady).mean()).isCloseTo(6, within(1e-6));
        assertThat(current(steady, "T1.1").mean()).isCloseTo(2, within(1e-6));
        assertThat(current(steady, "T1.2").mean()).isCloseTo(3, within(1e-6)); // from ground to the output
        // both windings see the same voltage: each has the ripple of (1 + k) L
        double ripple = 9 * 0.4 / 100e3 / (90e-6 * 1.97);
        assertThat(current(steady, "T1.1").peakToPeak()).isCloseTo(ripple, within(1e-6));
    }

    /** Published to a few digits; those here are of an exact solution of the published circuit, to their last digit. */
    @Test
    void aFlybackOfCoupledWindingsIsThePublishedOne() throws DesignException {
        ConverterSteadyState steady = steadyState(FLYBACK);
        assertThat(output(steady).mean()).isCloseTo(4.99655, within(5e-6));
        assertThat(output(steady).peakToPeak()).isCloseTo(48.14e-3, within(5e-6));
        assertThat(current(steady, "T1.1").maximum()).isCloseTo(0.77169, within(5e-6));
        assertThat(steady.converter().inductorCurrent()).isNotNull();
    }

    /** Two phases half a period apart: the ripple of the sum over that of one is N/(D D') (D - m/N)((m+1)/N - D). */
    @Test
    void twoPhasesCancelRipple() throws DesignException {
        String second = """
                { name = "Q3", kind = "switch", between = ["in", "sw2"] },
                { name = "D2", kind = "rectifier", between = ["ground", "sw2"] },
                { name = "D1", kind = "rectifier", between = ["ground", "sw"] },
                { name = "L2", kind = "inductor", between = ["sw2", "out"], inductance = "22 µH" },
            ]
            gate = [ { switch = "Q1", duty_cycle = 0.3, switching_frequency = "300 kHz" },
                { switch = "Q3", duty_cycle = 0.3, switching_frequency = "300 kHz", delay = 0.5 } ]
            """;
        String buck = BUCK.replaceAll("(?s) *\\{ name = \"Q2\".*?\\} \\},\n", "");
        ConverterSteadyState steady = steadyState(buck.replace("\"47 µF\"", "1.0")
                .replace("\"2.5 Ω\"", "1.0")
                .replace("]\noutput", second + "output")
                // without it nothing shares the current between the phases
                .replace("\"22 µH\"", "\"22 µH\", resistance = \"0.1 µΩ\""));
        double one = current(steady, "L1").peakToPeak();
        assertThat(one).isCloseTo((12 - 3.6) * 0.3 / 300e3 / 22e-6, within(1e-6));
        assertThat(current(steady, "L2").peakToPeak()).isCloseTo(one, within(1e-9));
        assertThat(current(steady, "C1").peakToPeak() / one)
                .isCloseTo(2 / (0.3 * 0.7) * 0.3 * (0.5 - 0.3), within(1e-6));
        assertThat(output(steady).mean()).isCloseTo(3.6, within(1e-6));
    }

    @Test
    void aDriveMovesNamedSwitchesWithADeadTime() throws DesignException {
        ConverterSteadyState ideal = steadyState(BUCK + """
                [drive]
                kind = "fixed-duty"
                duty_cycle = 0.5
                switching_frequency = "300 kHz"
                switches = ["Q1"]
                complementary = ["Q2"]
                """);
        assertThat(output(ideal).mean()).isCloseTo(6, within(1e-9));
        ConverterSteadyState dead = steadyState(BUCK + """
                [drive]
                kind = "fixed-duty"
                duty_cycle = 0.5
                switching_frequency = "300 kHz"
                switches = ["Q1"]
                complementary = ["Q2"]
                dead_time = "50 ns"
                """);
        // twice in a period the body diode has its drop in place of nothing
        assertThat(output(dead).mean()).isCloseTo(6 - 2 * 0.8 * 50e-9 * 300e3, within(1e-9));
    }

    @Test
    void aRegulatorHoldsTheOutputOfNamedSwitches() throws DesignException {
        Design design = DesignFile.parse("own.toml", "own", BUCK + """
                [drive]
                kind = "voltage-mode"
                switching_frequency = "300 kHz"
                reference = "1 V"
                divider = 0.2
                compensator = { kind = "type-2", integrator_gain = 1500, zero = "4557 Hz", pole = "100 kHz" }
                switches = ["Q1"]
                complementary = ["Q2"]
                dead_time = "20 ns"
                current = "L1"
                [transient]
                duration = "1 ms"
                start = "steady-state"
                [[transient.change]]
                time = "0.5 ms"
                load = { resistance = "5 Ω" }
                """);
        Converter converter = design.converter();
        assertThat(output(converter.steadyState()).mean()).isCloseTo(5, within(1e-6));
        assertThat(converter.isSynchronous()).isTrue();
        assertThat(design.transientPlan()).isNotNull();
    }

    @Test
    void aMapGoesOverTheValueOfAPart() throws DesignException {
        String map = """
                [map]
                across = { quantity = "R1.resistance", from = "1 Ω", to = "4 Ω", points = 3 }
                up = { quantity = "V1.voltage", from = "6 V", to = "12 V", points = 2 }
                """;
        Design design = DesignFile.parse("own.toml", "own", SEPIC.replace("\"80 µF\"", "0.8") + map);
        MapPlan plan = java.util.Objects.requireNonNull(design.studies().map());
        assertThat(plan.across().values()).containsExactly(1.0, 2.5, 4.0);
        Converter changed = plan.up().set(plan.across().set(design.converter(), 4), 12);
        assertThat(output(changed.steadyState()).mean()).isCloseTo(8, within(1e-6));
        assertThat(faults(SEPIC + map.replace("R1.resistance", "R1.resistence")))
                .singleElement()
                .asString()
                .startsWith("rail.toml:15: map.across.quantity: the circuit has no value 'R1.resistence'");
        assertThat(
                        faults(
                                SEPIC
                                        + map.replace("\"R1.resistance\"", "\"inductance\"")
                                                .replace("Ω", "H")
                                        + "figures = [\"output_voltage\"]\n[tolerance]\nvalues = { inductance = 0.1, \"T1.1.inductance\" = 0.1 }\n"))
                .singleElement()
                .asString()
                .contains("is the inductance that is given as well; valid: one of the two");
    }

    /** A second load behind a resistor of its own draws more from then on; the ideal buck holds its voltage all the same. */
    @Test
    void aPartChangesOnTheWay() throws DesignException {
        String text = BUCK.replace("]\noutput", """
                    { name = "R2", kind = "resistor", between = ["out", "tap"], resistance = "5 Ω" },
                    { name = "R3", kind = "resistor", between = ["tap", "ground"], resistance = "5 Ω" },
                ]
                output""") + """
                [drive]
                kind = "fixed-duty"
                duty_cycle = 0.5
                switching_frequency = "300 kHz"
                switches = ["Q1"]
                complementary = ["Q2"]
                [transient]
                duration = "3 ms"
                start = "steady-state"
                [[transient.change]]
                time = "1 ms"
                "R2.resistance" = "1 Ω"
                """;
        Design design = DesignFile.parse("own.toml", "own", text);
        Converter converter = design.converter();
        TransientPlan plan = java.util.Objects.requireNonNull(design.transientPlan());
        var run = converter.transientFrom(converter.steadyState(), plan.duration(), plan.changes());
        Waveform tapped = run.of(converter.driven().current("R3"));
        assertThat(tapped.at(0.9e-3)).isCloseTo(6.0 / 10, within(0.01));
        assertThat(tapped.at(2.99e-3)).isCloseTo(6.0 / 6, within(0.01));
        assertThat(run.audit().residual()).isLessThan(1e-9);
        assertThat(faults(text.replace("\"R2.resistance\" = \"1 Ω\"", "\"R2.resistence\" = 1")))
                .singleElement()
                .asString()
                .contains(
                        "transient.change[1].R2.resistence: the circuit has no value 'R2.resistence'; values of R2 are");
        assertThat(faults(text.replace("\"R2.resistance\" = \"1 Ω\"", "\"L1.inductance\" = 1e-6")))
                .singleElement()
                .asString()
                .contains("L1.inductance is a value of energy storage");
    }

    /** A full bridge with a centre tap: twice the duty cycle of the input over the turns. */
    @Test
    void rectifiersOfATransformerAreFoundToo() throws DesignException {
        ConverterSteadyState steady = steadyState("""
                part = [
                    { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "48 V" },
                    { name = "Q1", kind = "switch", between = ["in", "a"] },
                    { name = "Q2", kind = "switch", between = ["a", "ground"] },
                    { name = "Q3", kind = "switch", between = ["in", "b"] },
                    { name = "Q4", kind = "switch", between = ["b", "ground"] },
                    { name = "T1", kind = "ideal-transformer", windings = [
                        { between = ["a", "b"], turns = 4, resistance = "10 mΩ" },
                        { between = ["s1", "ground"], turns = 1 }, { between = ["ground", "s2"], turns = 1 } ] },
                    { name = "D1", kind = "rectifier", between = ["s1", "x"] },
                    { name = "D2", kind = "rectifier", between = ["s2", "x"] },
                    { name = "L1", kind = "inductor", between = ["x", "out"], inductance = "10 µH" },
                    { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "100 µF" },
                    { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "1 Ω" },
                ]
                output = { between = ["out", "ground"] }
                gate = [ { switch = "Q1", duty_cycle = 0.4, switching_frequency = "100 kHz" },
                    { switch = "Q4", duty_cycle = 0.4, switching_frequency = "100 kHz" },
                    { switch = "Q2", duty_cycle = 0.4, switching_frequency = "100 kHz", delay = 0.5 },
                    { switch = "Q3", duty_cycle = 0.4, switching_frequency = "100 kHz", delay = 0.5 } ]
                """);
        assertThat(steady.converter().roles().rectifiers()).containsExactly("D1", "D2");
        // the primary's 10 mΩ count as a sixteenth at the secondary, in the pulses alone
        assertThat(output(steady).mean()).isCloseTo(2 * 0.4 * 48 / 4 / (1 + 0.8 * 0.01 / 16), within(1e-3));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "output = { between = [\"out\", \"ground\"] }\\n | output = { between = [\"outt\", \"ground\"] }\\n | 13: output: \"outt\" is not a node of the output",
                "0.97 | 1.2 | 3: part[2].coupling: out of range: 1.2; valid: from 0 to 1",
                "coupling = 0.97 | couplings = [[1, 0.9], [0.8, 1]] | 3: part[2].couplings: is not symmetric: 0.8 and 0.9",
                "coupling = 0.97 | couplings = [[1, 0.9]] | 3: part[2].couplings: is not a square matrix for 2 windings",
                "coupling = 0.97 | couplings = [[2, 0.9], [0.9, 1]] | 3: part[2].couplings: has 2 in row 1, column 1",
                "\"90 µH\" } ] | \"90 mF\" } ] | 5: part[2].windings[2].inductance: \"90 mF\" is a capacitance",
                "name = \"C2\" | name = \"C1\" | 9: part[6].name: two parts have the name C1",
                "name = \"C2\" | name = \"C.2\" | 9: part[6].name: is not a valid name of a part: \"C.2\"",
                "\"rectifier\" | \"diode\" | 8: part[5].kind: must be one of a few words but is \"diode\"",
                "switch = \"Q1\" | switch = \"Q2\" | 12: gate: \"Q2\" is not a switch of the circuit; nearest: Q1",
                "[\"middle\", \"out\"] | [\"middle\"] | 8: part[5].between: must be an array of names",
                "output = | [stage]\\noutput = | 13: stage: unknown key",
            })
    void aFaultIsToldWithItsLineAndField(String good, String bad, String start) {
        String wrong = SEPIC.replace(good.replace("\\n", "\n"), bad == null ? "" : bad.replace("\\n", "\n"));
        assertThat(wrong).isNotEqualTo(SEPIC);
        assertThat(faults(wrong)).anySatisfy(fault -> assertThat(fault).startsWith("rail.toml:" + start));
    }

    @Test
    void whatIsMissingIsToldAtItsPart() {
        assertThat(faults(SEPIC.replaceAll("(?s)^part = \\[.*?\\n]\\n", "") + """
                [[part]]
                name = "T1"
                kind = "coupled-inductors"
                windings = [ { between = ["in", "drain"], inductance = 1e-6 } ]
                [[part]]
                name = "R1"
                kind = "resistor"
                between = ["out", "ground"]
                """))
                .satisfiesExactly(
                        fault -> assertThat(fault)
                                .startsWith("rail.toml:3: part[1]: neither coupling nor couplings is given"),
                        fault -> assertThat(fault)
                                .startsWith("rail.toml:6: part[1].windings: must be two or more but are 1"),
                        fault -> assertThat(fault)
                                .startsWith("rail.toml:7: part[2].resistance: missing; valid: 0 or more Ω"));
    }

    @Test
    void aSwitchWithoutADriveIsTold() {
        assertThat(faults(BUCK + "gate = [ { switch = \"Q1\", duty_cycle = 0.5, switching_frequency = 1e5 } ]\n"))
                .singleElement()
                .asString()
                .contains("gate: the switch Q2 has no drive");
        assertThat(faults(BUCK)).singleElement().asString().contains("neither [[gate]] nor [drive] is given");
    }
}
