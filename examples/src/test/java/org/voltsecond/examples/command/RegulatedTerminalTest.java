package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.examples.Json.number;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.design.RegulatedDesigns;
import org.voltsecond.examples.Json;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** What the terminal tells of regulated designs. */
class RegulatedTerminalTest {
    @TempDir
    private Path folder;

    /** Digital control with a frequency response used to end the whole design; margins are told on the terminal as well. */
    @Test
    void sampledControlHasAFrequencyResponse() throws IOException {
        Path file = Designs.write(folder, "rail.toml", RegulatedDesigns.STAGE + """
                [drive]
                kind = "sampled"
                switching_frequency = "300 kHz"
                reference = "1 V"
                divider = 0.2
                numerator = [0.03, -0.0285]
                denominator = [-1]
                [frequency_response]
                from = "100 Hz"
                to = "100 kHz"
                """);
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"), "--no-pictures");
        assertThat(run.err()).isEmpty();
        assertThat(run.exitCode()).isZero();
        Map<String, Object> figures = Json.read(Files.readString(folder.resolve("out/rail/figures.json")));
        double crossover = number(figures, "frequency_response.loop_gain.crossover_frequency");
        // an integrator of 0.0015 a period, times 12 V and the divider, has a gain of 1 at 172 Hz
        assertThat(crossover).isCloseTo(172, within(4.0));
        assertThat(run.out())
                .contains("loop gain             crossover " + Quantity.format(crossover, Unit.HERTZ, 4)
                        + ", phase margin ")
                .contains("output impedance      at most ");
    }

    /** Times of hundreds of microseconds at 300 kHz are not those of one pulse, and say so. */
    @Test
    void theTimesOfManyPulsesAreToldAsSuch() throws IOException {
        Path file = Designs.write(
                folder,
                "rail.toml",
                RegulatedDesigns.VOLTAGE_MODE.replace(
                        "voltage = \"12 V\"\n",
                        "voltage = \"12 V\"\nripple = { amplitude = \"0.5 V\", frequency = \"10 kHz\" }\n"));
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"), "--no-pictures");
        assertThat(run.err()).isEmpty();
        assertThat(run.out())
                .containsPattern("on / off / idle time  [^\n]*, in all 30 switching periods of 100.0 µs\n");
    }

    /**
     * Above one half a peak-commanded current without slope doubles its period: the multiplier is -D/(1 - D) (common
     * practice, no source), here with losses as well.
     */
    @Test
    void whatBecomesOfAnUnstableStateIsTold() throws IOException {
        Path file = Designs.write(folder, "rail.toml", RegulatedDesigns.STAGE.replace("\"12 V\"", "\"9 V\"") + """
                [drive]
                kind = "peak-current-mode"
                switching_frequency = "300 kHz"
                current_command = "2.2 A"
                """);
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"), "--no-pictures");
        assertThat(run.err()).isEmpty();
        Map<String, Object> figures = Json.read(Files.readString(folder.resolve("out/rail/figures.json")));
        double duty = number(figures, "steady_state.duty_cycle");
        assertThat(duty).isGreaterThan(0.52);
        var told = Pattern.compile(
                        "unstable: period doubling, wide and narrow pulses alternate \\(multiplier (-[0-9.]+)\\)")
                .matcher(run.out());
        assertThat(told.find()).as(run.out()).isTrue();
        assertThat(run.out().lines().toList().get(1)).as("at the top").contains("unstable");
        assertThat(Double.parseDouble(told.group(1))).isCloseTo(-duty / (1 - duty), within(0.05));
    }

    /** What the regulator holds has no tolerance: the terminal tells of the first figure that has one. */
    @Test
    void theToleranceThatIsToldIsNotThatOfWhatIsHeld() throws IOException {
        Path file = Designs.write(folder, "rail.toml", RegulatedDesigns.VOLTAGE_MODE + """
                [tolerance]
                designs = 20
                [tolerance.values]
                inductance = 0.2
                """);
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"), "--no-pictures");
        assertThat(run.err()).isEmpty();
        assertThat(run.out())
                .contains("tolerances            output voltage peak to peak 4.4")
                .doesNotContain("± 0 V");
    }
}
