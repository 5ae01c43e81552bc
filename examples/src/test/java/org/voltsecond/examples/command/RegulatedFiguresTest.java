package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.examples.Json.at;
import static org.voltsecond.examples.Json.number;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.design.RegulatedDesigns;
import org.voltsecond.examples.Json;

/** Regulated designs through the command. */
class RegulatedFiguresTest {
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

    /**
     * The states were computed with 40 digits by another program; there the control voltage is y + 0.05 x with y' =
     * 1500 e and x' = (e - x) 2 pi 100 kHz, of which 4557 Hz is the zero, rounded.
     */
    @Test
    @SuppressWarnings("unchecked")
    void theClosedLoopCaseHoldsNineDigits() throws IOException {
        Map<String, Object> figures = figures(RegulatedDesigns.VOLTAGE_MODE + LOAD_STEPS);
        assertThat(number(figures, "transient.final_time")).isEqualTo(15e-3);
        assertThat(number(figures, "transient.final_state.output_capacitor_voltage"))
                .isCloseTo(4.9997033550151915, within(1e-9));
        assertThat(number(figures, "transient.final_state.inductor_current"))
                .isCloseTo(1.7698645295713536, within(1e-9));
        assertThat(number(figures, "transient.audit_residual")).isLessThan(1e-12);
        assertThat(number(figures, "steady_state.signals.output_voltage.mean")).isCloseTo(5, within(1e-11));
        assertThat(number(figures, "steady_state.signals.error_voltage.mean")).isCloseTo(0, within(1e-12));
        assertThat(at(figures, "steady_state.stability.stable")).isEqualTo(true);
        assertThat((List<?>) at(figures, "steady_state.stability.multipliers")).hasSize(4);
        assertThat(number(figures, "transient.start.settling_time")).isBetween(1e-3, 1.5e-3);
        List<Map<String, Object>> changes = (List<Map<String, Object>>) at(figures, "transient.changes");
        assertThat(number(changes.get(1), "droop")).isCloseTo(1.192, within(1e-3));
        assertThat(number(changes.get(1), "peak_time")).isBetween(40e-6, 60e-6);
        // the waveform is in the band for good after 648 us, at the end of the period of 10 us with the last mean
        // outside
        assertThat(number(changes.get(1), "settling_time")).isCloseTo(650e-6, within(1e-12));
        assertThat(number(changes.get(1), "level_after")).isCloseTo(5, within(1e-11));
        assertThat(number(changes.get(1), "recovery_time"))
                .isCloseTo(
                        number(changes.get(1), "settling_time") - number(changes.get(1), "peak_time"), within(1e-12));
        // the inductor must carry more than the load for the capacitor to be charged again
        assertThat(number(changes.get(1), "peak_inductor_current")).isBetween(2.1, 4.0);
        assertThat(number(changes.get(1), "duty_cycle.maximum")).isBetween(0.44, 0.95);
        assertThat(number(changes.get(1), "duty_cycle.minimum")).isBetween(0.1, 0.42);
        assertThat(number(changes.get(1), "duty_cycle.last"))
                .isCloseTo(number(figures, "steady_state.duty_cycle"), within(1e-4));
        for (String picture : List.of("start", "change-1", "change-2", "pulses", "transient", "steady-state")) {
            assertThat(folder.resolve("out/rail/" + picture + ".png")).isNotEmptyFile();
            assertThat(folder.resolve("out/rail/" + picture + ".svg")).isNotEmptyFile();
        }
    }

    private static String freeRunning(String drive) {
        return RegulatedDesigns.STAGE.replace("\"5 mΩ\"", "\"40 mΩ\"") + "[drive]\n" + drive + LOAD_STEPS;
    }

    private static final String CONSTANT_ON_TIME = """
            kind = "constant-on-time"
            typical_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            on_time = "1.4 µs"
            minimum_off_time = "300 ns"
            soft_start = "1 ms"
            """;

    private static final String HYSTERETIC = """
            kind = "hysteretic"
            typical_frequency = "300 kHz"
            voltage_band = "5 mV"
            reference = "1 V"
            divider = 0.2
            soft_start = "1 ms"
            """;

    /** The lowest output of constant on-time is where the comparator turns the transistor on. */
    @Test
    @SuppressWarnings("unchecked")
    void withoutAClockThereIsASteadyStateBeforeAndAfterChanges() throws IOException {
        Map<String, Object> figures = figures(freeRunning(CONSTANT_ON_TIME));
        assertThat(number(figures, "steady_state.on_time")).isCloseTo(1.4e-6, within(1e-15));
        assertThat(number(figures, "steady_state.signals.output_voltage.minimum"))
                .isCloseTo(5, within(1e-11));
        assertThat(number(figures, "steady_state.on_time")
                        + number(figures, "steady_state.off_time")
                        + number(figures, "steady_state.idle_time"))
                .isCloseTo(number(figures, "steady_state.period"), within(1e-17));
        assertThat(at(figures, "steady_state.stability.stable")).isEqualTo(true);
        assertThat(number(figures, "steady_state.power.audit_residual")).isLessThan(1e-12);
        assertThat(number(figures, "transient.start.settling_time")).isBetween(0.8e-3, 1.2e-3);
        List<Map<String, Object>> changes = (List<Map<String, Object>>) at(figures, "transient.changes");
        // held at reference / divider, which is the valley and not the mean
        double level = 5;
        assertThat(number(changes.get(0), "level_before")).isCloseTo(level, within(1e-9));
        assertThat(number(changes.get(1), "level_before"))
                .isCloseTo(number(changes.get(0), "level_after"), within(1e-9));
        assertThat(number(changes.get(1), "level_after")).isCloseTo(level, within(1e-9));
        assertThat(number(changes.get(1), "settling_time")).isBetween(1e-6, 30e-6);
        assertThat(number(changes.get(1), "duty_cycle.last"))
                .isCloseTo(number(figures, "steady_state.duty_cycle"), within(1e-9));
        assertThat(number(changes.get(1), "duty_cycle.maximum")).isCloseTo(1.4 / 1.7, within(1e-9));
        for (String picture : List.of("start", "change-1", "change-2", "pulses", "transient", "steady-state")) {
            assertThat(folder.resolve("out/rail/" + picture + ".png")).isNotEmptyFile();
        }
    }

    @Test
    @SuppressWarnings("unchecked")
    void aVoltageBandIsTheRippleOfItsSteadyState() throws IOException {
        Map<String, Object> figures = withoutPictures(freeRunning(HYSTERETIC));
        assertThat(number(figures, "steady_state.signals.output_voltage.peak_to_peak"))
                .isCloseTo(25e-3, within(1e-3));
        List<Map<String, Object>> changes = (List<Map<String, Object>>) at(figures, "transient.changes");
        assertThat(changes).allSatisfy(change -> {
            assertThat(number(change, "level_after")).isCloseTo(5, within(15e-3));
            assertThat(number(change, "settling_time")).isBetween(0.0, 20e-6);
        });
        assertThat(number(changes.get(1), "level_before"))
                .isCloseTo(number(changes.get(0), "level_after"), within(1e-7));
        assertThat(number(changes.get(1), "duty_cycle.last"))
                .isCloseTo(number(figures, "steady_state.duty_cycle"), within(1e-9));
    }

    private static final String CURRENT_MODE = RegulatedDesigns.STAGE.replace("12 V", "8 V") + """
            [drive]
            kind = "peak-current-mode"
            switching_frequency = "300 kHz"
            current_command = "2.2 A"
            """;

    /** Duty cycle above one half: every second pulse differs unless the slope is compensated. */
    @Test
    void anUnstableSteadyStateIsReported() throws IOException {
        Map<String, Object> wild = withoutPictures(CURRENT_MODE);
        assertThat(number(wild, "steady_state.duty_cycle")).isGreaterThan(0.6);
        assertThat(at(wild, "steady_state.stability.stable")).isEqualTo(false);
        Map<String, Object> tame = withoutPictures(CURRENT_MODE + "slope_compensation = \"150 mA/µs\"\n");
        assertThat(at(tame, "steady_state.stability.stable")).isEqualTo(true);
    }

    private static final String FREQUENCIES = """
            [frequency_response]
            from = "100 Hz"
            to = "140 kHz"
            points_per_decade = 100
            """;

    /** The figures are those of the curves in the file: where the gain is 0 dB, the phase is the margin above -180. */
    @Test
    void frequencyResponseIsWrittenAndDrawn() throws IOException {
        Map<String, Object> figures = figures(RegulatedDesigns.VOLTAGE_MODE + FREQUENCIES);
        double crossover = number(figures, "frequency_response.loop_gain.crossover_frequency");
        double margin = number(figures, "frequency_response.loop_gain.phase_margin");
        List<String> rows = Files.readAllLines(folder.resolve("out/rail/frequency-response.csv"));
        assertThat(rows.get(0)).startsWith("frequency (Hz),loop_gain (dB),loop_gain_phase (degrees),");
        assertThat(rows).hasSize(1 + 1 + (int) Math.ceil(100 * Math.log10(1400)));
        double peak = 0;
        boolean crossed = false;
        for (int i = 1; i < rows.size(); i++) {
            String[] row = rows.get(i).split(",", -1);
            double frequency = Double.parseDouble(row[0]);
            double gain = Double.parseDouble(row[1]);
            peak = Math.max(peak, Math.pow(10, Double.parseDouble(row[7]) / 20));
            if (Math.abs(frequency / crossover - 1) < 0.06) {
                crossed = true;
                assertThat(gain).isCloseTo(0, within(3.0));
                assertThat(Double.parseDouble(row[2])).isCloseTo(margin - 180, within(10.0));
            }
        }
        assertThat(crossed).isTrue();
        assertThat(number(figures, "frequency_response.output_impedance.peak")).isBetween(peak, 1.02 * peak);
        for (String picture : List.of("loop-gain", "loop-gain-plane", "output-impedance")) {
            assertThat(folder.resolve("out/rail/" + picture + ".png")).isNotEmptyFile();
            assertThat(folder.resolve("out/rail/" + picture + ".svg")).isNotEmptyFile();
        }
    }

    @Test
    void aFixedCommandClosesNoLoop() throws IOException {
        Map<String, Object> figures =
                withoutPictures(CURRENT_MODE + "slope_compensation = \"150 mA/µs\"\n" + FREQUENCIES);
        assertThat(Json.valueAt(figures, "frequency_response.loop_gain")).isNull();
        assertThat(at(figures, "frequency_response.reason").toString()).contains("no loop is closed");
        assertThat(number(figures, "frequency_response.output_impedance.peak")).isBetween(0.5, 2.5);
    }

    /** Short designs of the other kinds: each holds 5 V, or its current, in the mean over the last tenth. */
    @Test
    void everyKindOfRegulatorRuns() throws IOException {
        String run = "[transient]\nduration = \"6 ms\"\n";
        String loop = "reference = \"1 V\"\ndivider = 0.2\nsoft_start = \"1 ms\"\n";
        String slow = """
                sense = "0.5 V/A"
                [drive.compensator]
                kind = "type-2"
                integrator_gain = 9000
                zero = "3 kHz"
                pole = "100 kHz"
                """;
        Map<String, String> drives = Map.of(
                "peak-current-mode",
                "switching_frequency = \"300 kHz\"\nslope_compensation = \"0.1 A/µs\"\nblanking_time = \"50 ns\"\n"
                        + loop + slow,
                "valley-current-mode",
                "switching_frequency = \"300 kHz\"\nslope_compensation = \"0.4 A/µs\"\n" + loop + slow,
                "hysteretic",
                "typical_frequency = \"300 kHz\"\ncurrent_band = \"0.5 A\"\n" + loop + slow,
                "constant-on-time",
                "typical_frequency = \"300 kHz\"\non_time = \"1.4 µs\"\nminimum_off_time = \"300 ns\"\n" + loop,
                "sampled",
                "switching_frequency = \"300 kHz\"\nnumerator = [0.31, -0.3]\ndenominator = [-1]\n"
                        + "maximum_duty_cycle = 0.9\nsampling_instant = 0.5\ndelay = \"200 ns\"\n" + loop);
        for (Map.Entry<String, String> drive : drives.entrySet()) {
            String stage = RegulatedDesigns.STAGE.replace("\"5 mΩ\"", "\"40 mΩ\"");
            Map<String, Object> figures =
                    withoutPictures(stage + "[drive]\nkind = \"" + drive.getKey() + "\"\n" + drive.getValue() + run);
            assertThat(number(figures, "transient.final_state.output_capacitor_voltage"))
                    .as(drive.getKey())
                    .isCloseTo(5, within(0.05));
        }
    }

    @Test
    void protectionAndShortCircuit() throws IOException {
        Map<String, Object> figures = withoutPictures(
                RegulatedDesigns.VOLTAGE_MODE.replace("maximum_duty_cycle", "soft_start = \"1 ms\"\nmaximum_duty_cycle")
                        + """
                [protection]
                minimum_on_time = "50 ns"
                current_limit = "4 A"
                blanking_time = "100 ns"
                hiccup = { pulses = 8, pause = "2 ms" }
                undervoltage_lockout = { stop = "8 V", start = "9 V" }
                [transient]
                duration = "8 ms"
                start = "steady-state"
                [[transient.change]]
                time = "1 ms"
                short_circuit = "10 mΩ"
                [[transient.change]]
                time = "2 ms"
                load = { resistance = "2.5 Ω" }
                """);
        double rise = 12 / 22e-6 * 100e-9;
        assertThat(number(figures, "transient.signals.inductor_current.maximum"))
                .isBetween(4.0 - 1e-9, 4 + rise);
        assertThat(number(figures, "transient.final_state.output_capacitor_voltage"))
                .isCloseTo(5, within(0.01));
    }

    /** The ripple of the line comes through the loop, and a whole period of it is the period of the steady state. */
    @Test
    @SuppressWarnings("unchecked")
    void aLineRippleIsPartOfTheSteadyState() throws IOException {
        String rippled = RegulatedDesigns.VOLTAGE_MODE.replace(
                "voltage = \"12 V\"\n",
                "voltage = \"12 V\"\nripple = { amplitude = \"0.5 V\", frequency = \"1 kHz\" }\n");
        Map<String, Object> figures = figures(rippled + """
                [transient]
                duration = "4 ms"
                start = "steady-state"
                [[transient.change]]
                time = "2 ms"
                input = { ripple = { amplitude = "0 V", frequency = "1 kHz" } }
                """);
        assertThat(number(figures, "steady_state.period")).isCloseTo(1e-3, within(1e-15));
        assertThat(number(figures, "steady_state.signals.output_voltage.mean")).isCloseTo(5, within(1e-9));
        assertThat(number(figures, "steady_state.signals.output_voltage.peak_to_peak"))
                .isBetween(0.1, 0.5);
        assertThat(at(figures, "steady_state.stability.stable")).isEqualTo(true);
        assertThat((List<?>) at(figures, "steady_state.stability.multipliers")).hasSize(4);
        assertThat(number(figures, "steady_state.power.audit_residual")).isLessThan(1e-10);
        List<Map<String, Object>> changes = (List<Map<String, Object>>) at(figures, "transient.changes");
        assertThat(number(changes.get(0), "level_after")).isCloseTo(5, within(1e-9));
        assertThat(folder.resolve("out/rail/steady-state.png")).isNotEmptyFile();
    }
}
