package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.voltsecond.design.Refused.faults;
import static org.voltsecond.design.Refused.only;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Every fault of a design file is told, each on a line of its own, with the line of the file. */
class DesignFaultsTest {
    private static final String GOOD = DesignFileTest.LOGIC_RAIL;

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "\"12 V\"    | \"-12 V\"  | 5: input.voltage: out of range: \"-12 V\"; valid: more than 0 V",
                "\"12 V\"    | 0          | 5: input.voltage: out of range: 0; valid: more than 0 V",
                "\"22 µH\"   | nan        | 7: inductor.inductance: out of range: NaN; valid: more than 0 H",
                "\"22 µH\"   | inf        | 7: inductor.inductance: out of range: Infinity; valid: more than 0 H",
                "\"22 µH\"   | -inf       | 7: inductor.inductance: out of range: -Infinity; valid: more than 0 H",
                "\"22 µH\"   | \"22 mF\"  | 7: inductor.inductance: \"22 mF\" is a capacitance; valid: more than 0 H",
                "\"22 µH\"   | \"22\"     | 7: inductor.inductance: ",
                "\"22 µH\"   | true       | 7: inductor.inductance: must be a quantity but is true; valid: more than 0 H",
                "\"22 µH\"   | [1, 2]     | 7: inductor.inductance: must be a quantity but is an array",
                "\"22 µH\"   | 1979-05-27 | 7: inductor.inductance: must be a quantity but is 1979-05-27",
                "\"30 mΩ\"   | \"-1 mΩ\"  | 8: inductor.resistance: out of range: \"-1 mΩ\"; valid: 0 or more Ω",
                "\"47 µF\"   | 0.0        | 10: output_capacitor.capacitance: out of range: 0.0; valid: more than 0 F",
                "\"80 mΩ\"   | nan        | 13: transistor.on_resistance: out of range: NaN; valid: 0 or more Ω",
                "\"0.4 V\"   | \"-0.4 V\" | 16: rectifier.forward_drop: out of range: \"-0.4 V\"; valid: 0 or more V",
                "\"diode\"   | \"diod\"   | 15: rectifier.kind: must be one of a few words but is \"diod\"; nearest: diode",
                "\"2.5 Ω\"   | \"0 Ω\"    | 19: load.resistance: out of range: \"0 Ω\"; valid: more than 0 Ω",
                "0.45        | 1.0001     | 22: drive.duty_cycle: out of range: 1.0001; valid: from 0 to 1",
                "0.45        | -0.1       | 22: drive.duty_cycle: out of range: -0.1; valid: from 0 to 1",
                "0.45        | nan        | 22: drive.duty_cycle: out of range: NaN; valid: from 0 to 1",
                "\"300 kHz\" | \"0 Hz\"   | 23: drive.switching_frequency: out of range: \"0 Hz\"; valid: more than 0 Hz",
                "\"22 µH\"   | 1e30       | 7: inductor.inductance: beyond any converter: 1.0E30; valid: from 1e-10 to 1e4 H",
                "\"30 mΩ\"   | 1e-30      | 8: inductor.resistance: beyond any converter: 1.0E-30; valid: 0, or from 1e-9",
                "\"buck\"    | \"buk\"    | 3: stage.topology: must be one of a few words but is \"buk\"; nearest: buck",
                "\"logic rail\" | \"\"       | 1: name: is empty; valid: any text but an empty one",
                "0.45        | 1e-18      | 22: drive.duty_cycle: beyond any converter: 1.0E-18; valid: 0, or from 1e-15",
                "\"47 µF\"   | 3.1e-16    | 10: output_capacitor.capacitance: beyond any converter: 3.1E-16; valid: from 1e-13",
                "\"47 µF\"   | \"3.1e-10 µF\" | 10: output_capacitor.capacitance: beyond any converter: \"3.1e-10 µF\"; valid: from 1e-13",
                "\"logic rail\" | 7       | 1: name: must be a text in quotation marks but is 7",
            })
    void aWrongValueIsToldWithItsLine(String good, String bad, String start) {
        assertThat(only(GOOD.replace(good, bad))).startsWith("rail.toml:" + start);
    }

    /** Tens of thousands once filled megabytes. */
    @Test
    void veryManyFaultsAreCounted() {
        StringBuilder keys = new StringBuilder(GOOD).append("[limits]\n");
        for (int i = 0; i < 2000; i++) {
            keys.append("key_").append(i).append(" = 1\n");
        }
        List<String> faults = faults(keys.toString());
        assertThat(faults).hasSize(101);
        assertThat(faults.get(100)).endsWith("1900 further faults are not listed; correct these first");
    }

    @Test
    void allFaultsAreToldAtOnce() {
        List<String> faults = faults(GOOD.replace("12 V", "-12 V")
                .replace("22 µH", "22 mF")
                .replace("0.45", "2")
                .replace("forward_drop", "forward_dorp")
                .replace("[load]\nresistance = \"2.5 Ω\"\n", ""));
        assertThat(faults).hasSize(5);
        assertThat(faults.get(0)).startsWith("rail.toml:1: load: missing table; add [load] with resistance or current");
        assertThat(faults.get(1)).startsWith("rail.toml:5: input.voltage: ");
        assertThat(faults.get(2)).startsWith("rail.toml:7: inductor.inductance: ");
        assertThat(faults.get(3))
                .startsWith("rail.toml:16: rectifier.forward_dorp: unknown key; nearest known key: forward_drop");
        assertThat(faults.get(4)).startsWith("rail.toml:20: drive.duty_cycle: ");
    }

    @Test
    void aMissingKeyIsToldAtItsTable() {
        assertThat(only(GOOD.replace("inductance = \"22 µH\"\n", "")))
                .isEqualTo("rail.toml:6: inductor.inductance: missing; valid: more than 0 H, for example \"22 µH\"");
    }

    @Test
    void noKeyIsToldAsTheNearestWhereNoneIsNear() {
        assertThat(only(GOOD + "[zzzzzzzzz]\nduration = 1\n"))
                .startsWith("rail.toml:24: zzzzzzzzz: unknown key; valid: ")
                .doesNotContain("nearest");
    }

    @Test
    void anUnknownTableIsTold() {
        assertThat(only(GOOD + "[transiet]\nduration = 1\n"))
                .startsWith("rail.toml:24: transiet: unknown key; nearest known key: transient;");
    }

    @Test
    void aRepeatedKeyIsToldTogetherWithOtherFaults() {
        List<String> faults = faults(
                GOOD.replace("[inductor]", "[inductor]\ninductance = 1e-6").replace("0.45", "2"));
        assertThat(faults).hasSize(2);
        assertThat(faults.get(0)).startsWith("rail.toml:8: TOML: inductance previously defined at line 7, column 1");
        assertThat(faults.get(1)).startsWith("rail.toml:23: drive.duty_cycle: ");
    }

    @Test
    void aRepeatedTableIsTold() {
        assertThat(only(GOOD + "[load]\nresistance = 1\n"))
                .startsWith("rail.toml:24: TOML: load previously defined at line 18");
    }

    @Test
    void loadsThatDoNotGoTogetherAreRefused() {
        assertThat(only(GOOD.replace("[load]", "[load]\npower = \"2 W\"")))
                .isEqualTo(
                        "rail.toml:18: load: resistance and power are given; valid: resistance, current or both, or one of "
                                + "[battery, light_emitting_diodes, power] alone, for example resistance = \"2.5 Ω\"");
        assertThat(only(GOOD.replace("[load]", "[load]\nminimum_voltage = \"2 V\"")))
                .startsWith("rail.toml:19: load.minimum_voltage: is given for a load without power");
        assertThat(only(GOOD.replace("resistance = \"2.5 Ω\"", ""))).startsWith("rail.toml:18: load: no load is given");
    }

    @Test
    void aBodyDiodeNeedsADrop() {
        assertThat(only(GOOD.replace("[transistor]", "[transistor]\nbody_diode_resistance = 0.01")))
                .startsWith("rail.toml:13: transistor.body_diode_resistance: is given for a body diode without a drop");
        assertThat(only(GOOD.replace("[transistor]", "[transistor]\nbody_diode_drop = 0")))
                .startsWith("rail.toml:13: transistor.body_diode_drop: out of range: 0; valid: more than 0 V");
    }

    @Test
    void aSynchronousRectifierHasNoForwardDrop() {
        assertThat(only(GOOD.replace("\"diode\"", "\"synchronous\"")))
                .startsWith(
                        "rail.toml:16: rectifier.forward_drop: a synchronous rectifier has no forward drop but 400 mV");
    }

    @Test
    void anUnknownDriveIsTold() {
        assertThat(only(GOOD.replace("fixed-duty", "fixt-duty")))
                .startsWith("rail.toml:21: drive.kind: must be one of a few words but is \"fixt-duty\"; nearest: "
                        + "fixed-duty; valid: average-current-mode, constant-on-time, fixed-duty, hysteretic");
    }

    @Test
    void aFrequencyResponseOfAFixedDutyCycleIsReadLikeAnyOther() {
        assertThat(only(GOOD + "[frequency_response]\nfrom = \"100 Hz\"\n"))
                .startsWith("rail.toml:24: frequency_response.to: missing");
    }

    @Test
    void tooManyPeriodsAreRefusedWithTheLimit() {
        assertThat(only(GOOD + "[transient]\nduration = \"600 s\"\n"))
                .startsWith("rail.toml:25: transient.duration: too long: 600 s are 180000000 switching periods; "
                        + "valid: at most " + TransientPlan.Reader.MOST_PERIODS + " periods");
    }

    @Test
    void changesAreCheckedOneByOne() {
        String transientTable = GOOD + "[transient]\nduration = \"1 ms\"\n";
        assertThat(only(transientTable + "[[transient.change]]\ntime = \"1 ms\"\nduty_cycle = 0.5\n"))
                .startsWith("rail.toml:27: transient.change[1].time: outside the transient: 1 ms; valid: from 0 s to "
                        + "less than the duration of 1 ms");
        assertThat(only(transientTable + "[[transient.change]]\ntime = 0\n"))
                .startsWith(
                        "rail.toml:26: transient.change[1]: changes nothing; valid: load, short_circuit, input, duty_cycle");
        assertThat(
                        only(
                                transientTable
                                        + "[[transient.change]]\ntime = 0\nload = { battery = { voltage = 1, resistance = 1 }, current = 1 }\n"))
                .startsWith("rail.toml:28: transient.change[1].load: current and battery");
        assertThat(only(transientTable + "[[transient.change]]\ntime = -1\ninput = { voltage = 1 }\n"))
                .startsWith("rail.toml:27: transient.change[1].time: out of range: -1; valid: 0 or more s");
        assertThat(only(transientTable + "change = 3\n"))
                .startsWith("rail.toml:26: transient.change: must be an array of tables");
        assertThat(only(transientTable + "change = [3]\n"))
                .startsWith("rail.toml:26: transient.change[1]: must be a table headed [[transient.change]] but is 3");
    }

    @Test
    void twoChangesAtTheSameTimeAreRefused() {
        String change = "[[transient.change]]\ntime = 0.0\nduty_cycle = 0.5\n";
        assertThat(only(GOOD + "[transient]\nduration = 1e-3\n" + change + change))
                .startsWith("rail.toml:30: transient.change[2].time: another change is at the same time, 0 s");
    }

    @Test
    void whatIsNoTomlIsRefused() {
        assertThat(faults("once upon a time").get(0)).startsWith("rail.toml:1: TOML: ");
        assertThat(only("a = " + "[".repeat(100_000))).startsWith("rail.toml:1: TOML: is nested too deeply");
        assertThat(only(" \n\t\n")).startsWith("rail.toml:1: file: is empty");
    }

    /** A fault is one line without anything that a terminal obeys, whatever stands in the file. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "\"\\u001b[2J\" = 1\n",
                "\"a\\nb\\r\" = 1\n",
                "\"\\u202eabc\" = 1\n",
                "\"\\U0001F600\\uFFFE\" = 1\n",
                "a = \"\u001b[31m\"\n",
            })
    void hostileTextIsEscaped(String hostile) {
        for (String fault : faults(hostile + GOOD)) {
            assertThat(fault).matches("[^\\p{Cc}\\p{Cf}\\p{Zl}\\p{Zp}]*").startsWith("rail.toml:");
        }
    }

    @Test
    void longTextIsShortened() {
        String fault = only(GOOD.replace("22 µH", "x".repeat(100_000)));
        assertThat(fault).startsWith("rail.toml:7: inductor.inductance: \"xxx").hasSizeLessThan(300);
    }

    @Test
    void filesThatCannotBeReadAreTold(@TempDir Path folder) throws IOException {
        assertThat(ofFile(folder.resolve("none.toml")))
                .endsWith("none.toml:1: file: does not exist; valid: the path of a " + "design file");
        assertThat(ofFile(folder)).endsWith(":1: file: is a directory; valid: a design file");
        Path binary = Files.write(folder.resolve("binary.toml"), new byte[] {'a', '\n', (byte) 0xff, (byte) 0xfe});
        assertThat(ofFile(binary)).contains("binary.toml:2: file: is not text in UTF-8");
        Path zero = Files.write(folder.resolve("zero.toml"), new byte[] {'a', 0});
        assertThat(ofFile(zero)).contains("zero.toml:1: file: is a binary file");
        Path large = Files.write(folder.resolve("large.toml"), new byte[DesignFile.LARGEST_BYTES + 1]);
        assertThat(ofFile(large)).contains("large.toml:1: file: is too large: 1048577 bytes; valid: at most 1048576");
    }

    private static String ofFile(Path file) {
        DesignException e = catchThrowableOfType(DesignException.class, () -> DesignFile.read(file));
        assertThat(e).isNotNull();
        return String.valueOf(e.getMessage());
    }

    @Test
    void aByteOrderMarkAndCarriageReturnsAreNoFault(@TempDir Path folder) throws Exception {
        Path file = folder.resolve("rail.toml");
        Files.write(file, ("\ufeff" + GOOD.replace("\n", "\r\n")).getBytes(StandardCharsets.UTF_8));
        assertThat(DesignFile.read(file)).isEqualTo(DesignFile.parse("rail.toml", "rail", GOOD));
    }
}
