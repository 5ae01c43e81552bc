package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.examples.Json.at;
import static org.voltsecond.examples.Json.number;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.design.RegulatedDesigns;

/** Designs whose compensator is an operational amplifier with its network, through the command. */
class AmplifierFiguresTest {
    private static final String LOAD_STEPS = """
            [transient]
            duration = "15 ms"
            start = "rest"
            [[transient.change]]
            time = "5 ms"
            load = { resistance = "25 Ω" }
            [[transient.change]]
            time = "10 ms"
            load = { resistance = "2.5 Ω" }
            """;

    @TempDir
    Path folder;

    private Map<String, Object> figures(String design, String... options) throws IOException {
        return CommandRun.figures(folder, design, options);
    }

    private Map<String, Object> withoutPictures(String design) throws IOException {
        return figures(design, "--no-pictures");
    }

    /** R1 (C1 + C2) = 1 / 1500 s, and R2 with C1, and with both in series, have the zero and the pole of the case above. */
    @Test
    @SuppressWarnings("unchecked")
    void anAmplifierOfPartsRegulatesAsItsTransferFunction() throws IOException {
        String parts =
                RegulatedDesigns.VOLTAGE_MODE.substring(0, RegulatedDesigns.VOLTAGE_MODE.indexOf("kind = \"type-2\""))
                        + """
                kind = "parts"
                gain = 1e7
                bandwidth = "200 MHz"
                output_limits = { low = "0 V", high = "1 V" }
                input_resistor = "20 kΩ"
                feedback_resistor = "1.0977 kΩ"
                feedback_capacitor = "31.8143 nF"
                bypass_capacitor = "1.51904 nF"
                """;
        String steps = LOAD_STEPS.replace("\"rest\"", "\"steady-state\"");
        Map<String, Object> figures = figures(parts + steps);
        Map<String, Object> function = withoutPictures(RegulatedDesigns.VOLTAGE_MODE + steps);
        assertThat(number(figures, "steady_state.signals.output_voltage.mean")).isCloseTo(5, within(1e-5));
        assertThat(at(figures, "steady_state.stability.stable")).isEqualTo(true);
        List<Map<String, Object>> real = (List<Map<String, Object>>) at(figures, "transient.changes");
        List<Map<String, Object>> ideal = (List<Map<String, Object>>) at(function, "transient.changes");
        for (String key : List.of("overshoot", "settling_time")) {
            assertThat(number(real.get(0), key))
                    .as(key)
                    .isCloseTo(number(ideal.get(0), key), within(0.03 * number(ideal.get(0), key)));
        }
        assertThat(number(real.get(1), "droop")).isCloseTo(number(ideal.get(1), "droop"), within(0.05));
        assertThat(number(figures, "transient.audit_residual")).isLessThan(1e-8);
        String body = parts.replace("[transistor]\n", "[transistor]\nbody_diode_drop = \"0.8 V\"\n");
        String start = "[transient]\nduration = \"15 ms\"\n";
        double hard = number(withoutPictures(body + start), "transient.signals.inductor_current.maximum");
        Map<String, Object> soft =
                withoutPictures(body.replace("[drive]\n", "[drive]\nsoft_start = \"5 ms\"\n") + start);
        assertThat(number(soft, "transient.signals.inductor_current.maximum")).isLessThan(0.6 * hard);
        assertThat(number(soft, "transient.final_state.output_capacitor_voltage"))
                .isCloseTo(5, within(0.02));
        assertThat(number(soft, "steady_state.signals.output_voltage.mean")).isCloseTo(5, within(1e-5));
    }

    @Test
    void aSoftStartThatDoesNotBeginAnewIsCautionedAgainst() throws IOException {
        String parts =
                RegulatedDesigns.VOLTAGE_MODE.substring(0, RegulatedDesigns.VOLTAGE_MODE.indexOf("kind = \"type-2\""))
                        + """
                kind = "parts"
                gain = 1e5
                bandwidth = "10 MHz"
                output_limits = { low = "0 V", high = "1 V" }
                input_resistor = "20 kΩ"
                feedback_resistor = "1 kΩ"
                feedback_capacitor = "33 nF"
                """;
        String lockout = "[protection]\nundervoltage_lockout = { stop = \"8 V\", start = \"9 V\" }\n";
        String soft = "[drive]\nsoft_start = \"1 ms\"\n";
        String caution = "raises the reference once";
        assertThat(at(withoutPictures(parts.replace("[drive]\n", soft) + lockout), "cautions")
                        .toString())
                .contains(caution);
        assertThat(at(withoutPictures(parts.replace("[drive]\n", soft)), "cautions")
                        .toString())
                .doesNotContain(caution);
        assertThat(at(withoutPictures(parts + lockout), "cautions").toString()).doesNotContain(caution);
        assertThat(at(withoutPictures(RegulatedDesigns.VOLTAGE_MODE.replace("[drive]\n", soft) + lockout), "cautions")
                        .toString())
                .doesNotContain(caution);
    }

    /** In steady state the peak, or in valley current mode the valley, is the control voltage over the sense factor. */
    @ParameterizedTest
    @CsvSource({"peak-current-mode, maximum", "valley-current-mode, minimum"})
    void anAmplifierOfPartsCommandsACurrent(String kind, String turns) throws IOException {
        String text = RegulatedDesigns.VOLTAGE_MODE
                        .substring(0, RegulatedDesigns.VOLTAGE_MODE.indexOf("kind = \"type-2\""))
                        .replace("voltage-mode", kind)
                        .replace(
                                "ramp = { valley = \"0 V\", peak = \"1 V\" }",
                                "sense = \"0.25 V/A\"\n" + "slope_compensation = \"0.2 A/µs\"\nsoft_start = \"1 ms\"")
                + """
                kind = "parts"
                gain = 1e7
                bandwidth = "50 MHz"
                output_limits = { low = "0 V", high = "1 V" }
                input_resistor = "20 kΩ"
                feedback_resistor = "10 kΩ"
                feedback_capacitor = "4.7 nF"
                bypass_capacitor = "150 pF"
                [transient]
                duration = "4 ms"
                """;
        Map<String, Object> figures = withoutPictures(text);
        assertThat(number(figures, "steady_state.signals.output_voltage.mean")).isCloseTo(5, within(1e-4));
        assertThat(at(figures, "steady_state.stability.stable")).isEqualTo(true);
        double period = number(figures, "steady_state.period");
        double sinceClock = kind.startsWith("peak")
                ? number(figures, "steady_state.on_time")
                : period - number(figures, "steady_state.on_time");
        double slope = 0.2e6 * sinceClock * (kind.startsWith("peak") ? -1 : 1);
        double command = number(figures, "steady_state.signals.control_voltage.mean") / 0.25;
        double ripple = number(figures, "steady_state.signals.control_voltage.peak_to_peak") / 0.25;
        assertThat(ripple).isLessThan(0.02);
        assertThat(number(figures, "steady_state.signals.inductor_current." + turns))
                .isCloseTo(command + slope, within(ripple));
        assertThat(number(figures, "transient.final_state.output_capacitor_voltage"))
                .isCloseTo(5, within(0.02));
        assertThat(number(figures, "transient.signals.inductor_current.maximum"))
                .isLessThan(4 + 0.5);
        assertThat(number(figures, "transient.audit_residual")).isLessThan(1e-8);
    }
}
