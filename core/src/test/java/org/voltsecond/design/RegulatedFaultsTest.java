package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.design.Refused.faults;
import static org.voltsecond.design.Refused.only;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Faults of regulated designs: each on a line of its own, with the line of the file. */
class RegulatedFaultsTest {
    private static final String GOOD = RegulatedDesigns.VOLTAGE_MODE;
    private static final String STAGE = RegulatedDesigns.STAGE;

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "reference         | referense   | 20: drive.reference: missing; valid: more than 0 V",
                "0.2               | 1.5         | 24: drive.divider: out of range: 1.5; valid: more than 0, at most 1",
                "0.95              | 0           | 26: drive.maximum_duty_cycle: out of range: 0; valid: more than 0, at",
                "\"0 V\", peak     | nan, peak   | 25: drive.ramp.valley: out of range: NaN; valid: any finite number of V",
                "1500              | \"1500 Hz\" | 29: drive.compensator.integrator_gain: ",
                "\"100 kHz\"       | 0           | 31: drive.compensator.pole: out of range: 0; valid: more than 0 Hz",
                "divider           | dividre     | 24: drive.dividre: unknown key; nearest known key: divider",
                "zero              | zeros       | 30: drive.compensator.zeros: unknown key; nearest known key: zero",
                "\"type-2\"        | \"type-4\"  | 28: drive.compensator.kind: must be one of a few words but is",
                "\"type-2\"        | \"parts\"   | 29: drive.compensator.integrator_gain: unknown key; nearest known key: gain; it is for type-1",
                "0.95              | 0.95\\nlatch = 1 | 27: drive.latch: must be true or false but is 1",
                "0.95              | 0.95\\nmodulation = \"edge\" | 27: drive.modulation: must be one of a few words",
                "peak = \"1 V\"    | peak = -1   | 25: drive.ramp.peak: -1 V is not above the valley; valid: more than 0 V",
            })
    void aWrongValueIsToldWithItsLine(String good, String bad, String start) {
        String text = GOOD.replace(good.replace("\\n", "\n"), bad.replace("\\n", "\n"));
        assertThat(text).isNotEqualTo(GOOD);
        assertThat(faults(text)).anyMatch(fault -> fault.startsWith("rail.toml:" + start));
    }

    /** One fault where a band is missing, not those of the loop as well that a current band would need. */
    @Test
    void aHystereticDriveWithoutABandIsAskedForOneAlone() {
        List<String> faults = faults(STAGE + """
                [drive]
                kind = "hysteretic"
                reference = "5 V"
                divider = 1
                hysteresis = "20 mV"
                """);
        assertThat(faults).hasSize(3);
        assertThat(faults).anyMatch(fault -> fault.contains("drive.hysteresis: unknown key"));
        assertThat(faults).anyMatch(fault -> fault.contains("neither voltage_band nor current_band"));
        assertThat(faults)
                .anyMatch(fault -> fault.contains("drive.typical_frequency: missing; approximate")
                        && fault.contains("for example \"300 kHz\""));
    }

    @Test
    void allFaultsAreToldAtOnce() {
        List<String> faults = faults(GOOD.replace("0.2", "2").replace("1500", "-1") + """
                [protection]
                current_limit = "-1 A"
                hiccup = { pulses = 0.5, pause = "1 ms" }
                undervoltage_lockuot = 1
                """);
        assertThat(faults).hasSize(5);
        assertThat(faults.get(2)).startsWith("rail.toml:33: protection.current_limit: out of range");
        assertThat(faults.get(3))
                .startsWith("rail.toml:34: protection.hiccup.pulses: must be a whole number but is 0.5");
        assertThat(faults.get(4))
                .startsWith("rail.toml:35: protection.undervoltage_lockuot: unknown key; nearest known key: "
                        + "undervoltage_lockout");
    }

    @Test
    void whatContradictsItselfIsRefused() {
        assertThat(only(GOOD + "[protection]\nundervoltage_lockout = { stop = 9, start = 8 }\n"))
                .contains("stop voltage of the lock-out must be below its start voltage of 8 V but was 9 V");
        assertThat(only(GOOD + "[protection]\nminimum_on_time = \"1 ms\"\n"))
                .contains("minimum on-time must be below the switching period");
        assertThat(only(GOOD + "[protection]\nhiccup = { pulses = 3, pause = 1e-3 }\n"))
                .startsWith("rail.toml:33: protection.hiccup: is given without a current limit");
        assertThat(only(GOOD + "[protection]\ndead_time = \"50 ns\"\n"))
                .startsWith("rail.toml:32: protection: dead_time and rectification are for a synchronous rectifier");
        String synchronous = GOOD.replace("\"diode\"", "\"synchronous\"").replace("forward_drop = \"0.4 V\"\n", "");
        assertThat(only(synchronous + "[protection]\ndead_time = \"50 ns\"\n"))
                .startsWith("rail.toml:14: rectifier: both transistors are open at times");
        assertThat(only(DesignFileTest.LOGIC_RAIL + "[protection]\ncurrent_limit = 4\n"))
                .startsWith("rail.toml:24: protection: is for a regulator");
    }

    @Test
    void frequenciesMustRunUpwards() {
        String table = GOOD + "[frequency_response]\n";
        assertThat(only(table + "from = \"100 Hz\"\n"))
                .startsWith("rail.toml:32: frequency_response.to: missing; valid: more than 0 Hz");
        assertThat(only(table + "from = \"1 kHz\"\nto = \"100 Hz\"\n"))
                .startsWith("rail.toml:34: frequency_response.to: must be above from = 1 kHz but is 100 Hz");
        assertThat(only(table + "from = 0\nto = \"100 Hz\"\n"))
                .startsWith("rail.toml:33: frequency_response.from: out of range: 0; valid: more than 0 Hz");
        assertThat(only(table + "from = 1\nto = 1e5\npoints_per_decade = 0\n"))
                .startsWith("rail.toml:35: frequency_response.points_per_decade: out of range: 0; valid: 1 or more");
        assertThat(only(table + "from = 1\nto = 1e5\npoints_per_decade = 10000\n"))
                .startsWith("rail.toml:35: frequency_response.points_per_decade: asks for more than 20000 points");
        assertThat(only(table + "from = 1\nto = 1e5\npoints_per_decad = 50\n"))
                .startsWith(
                        "rail.toml:35: frequency_response.points_per_decad: unknown key; nearest known key: points_per_decade");
    }

    @Test
    void changesMustFitTheDrive() {
        String change = "[transient]\nduration = 1e-3\n[[transient.change]]\ntime = 0\n";
        assertThat(only(GOOD + change + "duty_cycle = 0.3\n"))
                .startsWith("rail.toml:36: transient.change[1].duty_cycle: does not apply to this drive; valid: "
                        + "reference");
        assertThat(only(DesignFileTest.LOGIC_RAIL + change + "reference = 1\n"))
                .startsWith("rail.toml:28: transient.change[1].reference: does not apply to this drive; valid: "
                        + "duty_cycle");
        assertThat(only(GOOD + change + "load = { current = 1, slew_rate = \"1 A/µs\" }\n"))
                .startsWith(
                        "rail.toml:36: transient.change[1].load: slew_rate needs a load of constant current before");
        assertThat(only(GOOD + change + "load = { resistance = 1, slew_rate = \"1 A/µs\" }\n"))
                .startsWith("rail.toml:36: transient.change[1].load.slew_rate: is given for a load without constant");
        assertThat(only(GOOD + change + "short_circuit = \"10 mΩ\"\nload = { resistance = 1 }\n"))
                .startsWith("rail.toml:36: transient.change[1].short_circuit: both load and short_circuit");
    }

    private static final String PARTS = GOOD.substring(0, GOOD.indexOf("kind = \"type-2\"")) + """
            kind = "parts"
            gain = 1e5
            bandwidth = "10 MHz"
            output_limits = { low = "0 V", high = "3 V" }
            input_resistor = "20 kΩ"
            feedback_resistor = "1 kΩ"
            feedback_capacitor = "33 nF"
            bypass_capacitor = "1.6 nF"
            lead_resistor = "4.7 kΩ"
            lead_capacitor = "330 pF"
            """;

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "gain = 1e5      | gain = nan       | 29: drive.compensator.gain: out of range: NaN; valid: more than 0",
                "bandwidth       | bandwith         | 30: drive.compensator.bandwith: unknown key; nearest known key: bandw",
                "\"10 MHz\"      | \"10 MΩ\"        | 30: drive.compensator.bandwidth: ",
                "\"0 V\", high    | \"4 V\", high     | 31: drive.compensator.output_limits.low: must be below high",
                "\"20 kΩ\"       | \"20 kF\"        | 32: drive.compensator.input_resistor: ",
                "\"33 nF\"       | 0                | 34: drive.compensator.feedback_capacitor: out of range: 0; valid",
                "lead_resistor   | lead_resistance  | 27: drive.compensator.lead_resistor: missing; valid: more than 0 Ω",
                "0.95            | 0.95\\ncontrol_limits = { low = 0, high = 1 } | 27: drive.control_limits: is not for a compe",
                "0.95            | 0.95\\nsoft_start = -1e-3 | 27: drive.soft_start: out of range: ",
            })
    void aWrongPartOfAnAmplifierIsToldWithItsLine(String good, String bad, String start) {
        String text = PARTS.replace(good.replace("\\n", "\n"), bad.replace("\\n", "\n"));
        assertThat(text).isNotEqualTo(PARTS);
        assertThat(faults(text)).anyMatch(fault -> fault.startsWith("rail.toml:" + start));
    }

    @Test
    void theStartOfTheRectifierNeedsTheSoftStartOfARegulator() {
        String text = PARTS.replace("[rectifier]", "[rectifier]\nkind = \"synchronous\"\nbody_diode_drop = \"0.8 V\"");
        assertThat(text).isNotEqualTo(PARTS);
        String protection = "[protection]\nrectification = \"diode-emulation-at-start\"\n";
        assertThat(faults(text + protection))
                .anyMatch(fault -> fault.contains("protection.rectification: diode-emulation-at-start ends with")
                        && fault.endsWith("valid: forced, diode-emulation"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"peak-current-mode", "valley-current-mode"})
    void inCurrentModeToo(String kind) {
        String text = PARTS.replace("voltage-mode", kind)
                .replace("ramp = { valley = \"0 V\", peak = \"1 V\" }", "sense = \"0.5 V/A\"");
        assertThat(only(text.replace("sense =", "control_limits = { low = 0, high = 1 }\nsense =")))
                .contains("drive.control_limits: is not for a compensator of parts");
        assertThat(only(text.replace("sense = \"0.5 V/A\"", ""))).contains("drive.sense: missing");
        assertThat(only(text.replace("gain = 1e5", "gain = nan"))).contains("compensator.gain: out of range: NaN");
        assertThat(only(text.replace("\"33 nF\"", "0"))).contains("feedback_capacitor: out of range: 0");
    }

    @Test
    void aRippleIsCheckedLikeEverythingElse() {
        String ripple = "ripple = { amplitude = \"0.5 V\", frequency = \"100 Hz\" }\n";
        String text = GOOD.replace("voltage = \"12 V\"\n", "voltage = \"12 V\"\n" + ripple);
        assertThat(text).contains(ripple);
        assertThat(only(text.replace("\"0.5 V\"", "\"0.5 A\""))).startsWith("rail.toml:6: input.ripple.amplitude: ");
        assertThat(only(text.replace("\"0.5 V\"", "nan")))
                .startsWith("rail.toml:6: input.ripple.amplitude: out of range: NaN; valid: 0 or more V");
        assertThat(only(text.replace("\"100 Hz\"", "0")))
                .startsWith("rail.toml:6: input.ripple.frequency: out of range: 0; valid: more than 0 Hz");
        assertThat(only(text.replace("\"0.5 V\"", "\"12 V\""))).startsWith("rail.toml:6: input.ripple: its amplitude");
        assertThat(faults(text.replace("amplitude =", "amplitud =")))
                .anyMatch(fault -> fault.contains("input.ripple.amplitud: unknown key; nearest known key: amplitude"));
        String change = "[transient]\nduration = 1e-3\n[[transient.change]]\ntime = 0\n";
        assertThat(only(text + change + "input = { voltage = 0.4 }\n"))
                .startsWith("rail.toml:37: transient.change[1].input.ripple: its amplitude of 500 mV takes the input");
    }

    @Test
    void aLoopOrACommandIsAskedFor() {
        assertThat(only(STAGE + "[drive]\nkind = \"peak-current-mode\"\nswitching_frequency = 1e5\n"
                        + "current_command = 1\nreference = 1\n"))
                .startsWith("rail.toml:20: drive: both current_command and reference are given; valid: one of the two");
        assertThat(faults(STAGE + "[drive]\nkind = \"hysteretic\"\ntypical_frequency = 1e5\n"))
                .anyMatch(fault -> fault.startsWith("rail.toml:20: drive: neither voltage_band nor current_band"));
        assertThat(only(STAGE + "[drive]\nkind = \"sampled\"\nswitching_frequency = 1e5\nreference = 1\n"
                        + "divider = 0.2\nnumerator = []\n"))
                .startsWith(
                        "rail.toml:25: drive.numerator: must be an array of another size or kind but is an array of 0");
    }
}
