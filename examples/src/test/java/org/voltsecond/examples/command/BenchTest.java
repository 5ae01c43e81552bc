package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.examples.Json;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** The table [bench] of a design file. */
class BenchTest {
    @TempDir
    private Path folder;

    private Path design(String bench) throws IOException {
        return Designs.write(folder, "rail.toml", Designs.BUCK + bench);
    }

    /** The switch node of a board with a duty cycle of 0.44 at 301 kHz. */
    private void writeCapture() throws IOException {
        StringBuilder text = new StringBuilder("time (µs);node (V)\n");
        for (int i = 0; i < 5_000; i++) {
            double turns = i * 10e-9 * 301e3 + 0.7;
            double volt = turns - Math.floor(turns) < 0.44 ? 11.8 : -0.45;
            text.append(String.format(Locale.ROOT, "%.2f;%.3f%n", i * 0.01, volt));
        }
        Files.writeString(folder.resolve("capture.csv"), text.toString().replace('.', ','));
    }

    @Test
    void figuresAndPictureAreWritten() throws IOException {
        writeCapture();
        Path file = design("[bench]\nfile = \"capture.csv\"\nsignal = \"switch_node_voltage\"\nchannel = \"node\"\n");
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"));
        assertThat(run.err()).isEmpty();
        assertThat(run.exitCode()).isZero();
        assertThat(run.out()).contains("measured minus simulated").contains("aligned by edges");
        Path out = folder.resolve("out").resolve("rail");
        assertThat(out.resolve("bench.png")).isNotEmptyFile();
        assertThat(out.resolve("bench.svg")).isNotEmptyFile();
        Map<String, Object> bench = Json.read(Files.readString(out.resolve("figures.json")));
        assertThat(Json.at(bench, "bench.aligned_by")).isEqualTo("edges");
        assertThat(Json.at(bench, "bench.channel")).isEqualTo("node");
        assertThat(number(bench, "frequency", "measured")).isCloseTo(301e3, within(100.0));
        assertThat(number(bench, "frequency", "difference")).isCloseTo(1e3, within(100.0));
        assertThat(number(bench, "duty_factor", "measured")).isCloseTo(0.44, within(0.002));
        assertThat(number(bench, "duty_factor", "difference")).isCloseTo(-0.01, within(0.002));
        assertThat(number(bench, "mean", "measured")).isCloseTo(0.44 * 11.8 - 0.56 * 0.45, within(0.02));
        assertThat(number(bench, "ripple", "measured")).isCloseTo(12.25, within(1e-9));
    }

    private static double number(Map<String, Object> figures, String key, String which) {
        return Json.number(figures, "bench." + key + "." + which);
    }

    private static final double BEGIN = 0.37e-3;

    /**
     * Writes the output of a design over the load step of its transient, as the command itself simulates it, from 0.37 ms
     * on as a time of 2 s, with noise of 2 mV from a seeded generator: made here, not measured.
     */
    private void writeDemoCapture(String design) throws IOException, DesignException {
        Converter rail = DesignFile.parse("demo.toml", "demo", design).converter();
        Waveform output = rail.transientFrom(
                        rail.steadyState(), 2e-3, List.of(Change.at(0.8e-3).load(Load.resistor(5))))
                .of(rail.outputVoltage());
        Random noise = new Random(7);
        StringBuilder text = new StringBuilder("demo: simulated with seeded noise\ntime (s),output (V)\n");
        for (int i = 0; i < 4_000; i++) {
            double volt = output.at(BEGIN + i * 0.25e-6) + 0.002 * noise.nextGaussian();
            text.append(String.format(Locale.ROOT, "%.8f,%.5f%n", 2 + i * 0.25e-6, volt));
        }
        Files.writeString(folder.resolve("demo.csv"), text);
    }

    @Test
    void aCaptureOfALoadStepIsFoundInTheTransient() throws IOException, DesignException {
        writeDemoCapture(Designs.BUCK);
        Path file = design("""
                [bench]
                file = "demo.csv"
                signal = "output_voltage"
                channel = "output"
                against = "transient"
                [transient]
                start = "steady-state"
                duration = "2 ms"
                [[transient.change]]
                time = "0.8 ms"
                load = { resistance = "5 Ω" }
                """);
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"));
        assertThat(run.err()).isEmpty();
        assertThat(run.out()).contains("measured minus simulated", "apart, ", "aligned by curve");
        Path out = folder.resolve("out").resolve("rail");
        assertThat(out.resolve("bench.png")).isNotEmptyFile();
        Map<String, Object> figures = Json.read(Files.readString(out.resolve("figures.json")));
        assertThat(Json.at(figures, "bench.against")).isEqualTo("transient");
        assertThat(Json.number(figures, "bench.shift") + 2).isCloseTo(BEGIN, within(0.25e-6));
        assertThat(Json.number(figures, "bench.rms_difference")).isCloseTo(0.002, within(2e-4));
        assertThat(Json.number(figures, "bench.largest_difference")).isBetween(0.005, 0.02);
        assertThat(number(figures, "mean", "difference")).isCloseTo(0, within(2e-4));
        assertThat(number(figures, "highest", "measured"))
                .isCloseTo(number(figures, "highest", "simulated"), within(0.01));
        assertThat(Json.valueAt(figures, "bench.frequency.measured")).isNull();
        assertThat(Files.readString(out.resolve("report.html")))
                .contains("<h2><bdi>Comparison with a capture</bdi></h2>", "beside the transient from 370");
    }

    @Test
    void aCaptureOfATransientNeedsOne() throws IOException {
        writeCapture();
        CommandRun run = CommandRun.of(
                design("[bench]\nfile = \"capture.csv\"\nsignal = \"switch_node_voltage\"\nagainst = \"transient\"\n"),
                "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err()).hasSize(1).first().asString().contains("bench.against: ", "no table [transient]");
    }

    @Test
    void faultsOfTheCaptureNameItsLine() throws IOException {
        Files.writeString(folder.resolve("capture.csv"), "t,node\n0,1\n1e-6,abc\n2e-6,3\n");
        Path file = design("[bench]\nfile = \"capture.csv\"\nsignal = \"switch_node_voltage\"\n");
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"));
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err())
                .containsExactly(file + ":24: bench.file: " + folder.resolve("capture.csv")
                        + ":3: column 2 is no finite number: \"abc\"; valid: a number such as 1.25e-6");
        assertThat(folder.resolve("out").resolve("rail")).doesNotExist();
    }

    @Test
    void faultsOfTheTableAreTold() throws IOException {
        CommandRun run = CommandRun.of(
                design("[bench]\nsignal = \"node\"\nsample_interval = \"4 V\"\nchanel = 1\n"), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(String.join("\n", run.err()))
                .contains("bench.file: missing")
                .contains("bench.signal: must be one of a few words but is \"node\"")
                .contains("bench.sample_interval: ")
                .contains("bench.chanel: unknown key; nearest known key: channel");
        CommandRun ramp = CommandRun.of(design("[bench]\nfile = \"x.csv\"\nsignal = \"ramp\"\n"), "--no-pictures");
        assertThat(ramp.err()).hasSize(1).first().asString().contains("a fixed duty cycle has no ramp");
    }

    @Test
    void everySignalOfTheFiguresCanBeCompared() throws IOException {
        CommandRun run = CommandRun.of(design(""), "--into", folder.resolve("out"), "--no-pictures");
        assertThat(run.exitCode()).isZero();
        Path written = folder.resolve("out").resolve("rail").resolve("figures.json");
        Object signals = Json.at(Json.read(Files.readString(written)), "steady_state.signals");
        CommandRun refused = CommandRun.of(design("[bench]\nfile = \"x.csv\"\nsignal = \"?\"\n"), "--no-pictures");
        String valid = refused.err().get(0).replaceFirst(".*; valid: ", "");
        assertThat(valid.split(", ")).contains(((Map<?, ?>) signals).keySet().toArray(new String[0]));
    }

    @Test
    void captureThatDoesNotServeIsToldWithTheFigures() throws IOException {
        Files.writeString(folder.resolve("capture.csv"), "t,node\n0,1\n1e-6,2\n2e-6,3\n");
        Path file = design("[bench]\nfile = \"capture.csv\"\nsignal = \"switch_node_voltage\"\nchannel = 1\n");
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"));
        assertThat(run.exitCode()).isZero();
        assertThat(run.out()).contains("less than 2.5 of the simulated periods");
        Path written = folder.resolve("out").resolve("rail").resolve("figures.json");
        Map<String, Object> figures = Json.read(Files.readString(written));
        assertThat(Json.valueAt(figures, "bench")).isNull();
        assertThat(Json.at(figures, "reason")).asString().contains("bench: capture node lasts");
    }
}
