package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.examples.Voltsecond;

/** The command in a Java machine of its own, as a user runs it. The time is printed, not judged: machines differ. */
class CommandJvmTest {
    @TempDir
    Path folder;

    private record Answer(int exitCode, String out, String err) {}

    private Answer run(Object... words) throws IOException, InterruptedException {
        List<String> line = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Voltsecond.class.getName()));
        List.of(words).forEach(word -> line.add(String.valueOf(word)));
        Path out = folder.resolve("stdout");
        Path err = folder.resolve("stderr");
        long start = System.nanoTime();
        Process process = new ProcessBuilder(line)
                .redirectOutput(out.toFile())
                .redirectError(err.toFile())
                .start();
        assertThat(process.waitFor(120, TimeUnit.SECONDS)).as("ends by itself").isTrue();
        System.out.printf(
                "%s: %d ms with the start of Java%n", List.of(words), (System.nanoTime() - start) / 1_000_000);
        // On a busy machine a line tells that work goes on.
        String faults = read(err).replaceAll("voltsecond: [^\n]*, [0-9]+ s\n", "");
        return new Answer(process.exitValue(), read(out), faults);
    }

    private static String read(Path file) throws IOException {
        return Files.readString(file, StandardCharsets.UTF_8);
    }

    @Test
    void doneIsZero() throws Exception {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK + "[transient]\nduration = \"15 ms\"\n");
        Answer figures = run(design, "--into", folder.resolve("out"), "--no-pictures");
        assertThat(figures.err()).isEmpty();
        assertThat(figures.exitCode()).isZero();
        assertThat(figures.out()).contains("load 2.5 Ω");
        Answer pictures = run(design, "--into", folder.resolve("out"));
        assertThat(pictures.exitCode()).isZero();
        assertThat(folder.resolve("out/rail/transient.png")).isNotEmptyFile();
    }

    @Test
    void wrongInputIsTwoWithoutAStackTrace() throws Exception {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK.replace("12 V", "12 A"));
        Answer answer = run(design, folder, "--into", folder.resolve("out"));
        assertThat(answer.exitCode()).isEqualTo(2);
        assertThat(answer.err().lines())
                .hasSize(2)
                .allMatch(line -> line.matches(".*:[0-9]+: [a-z.]+: .*; valid: .*"))
                .noneMatch(line -> line.contains("Exception") || line.startsWith("\tat "));
        assertThat(folder.resolve("out")).doesNotExist();
    }

    @Test
    void anythingElseIsOneWithoutAStackTrace() throws Exception {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        Path inTheWay = Files.writeString(folder.resolve("file"), "");
        Answer answer = run(design, "--into", inTheWay);
        assertThat(answer.exitCode()).isEqualTo(1);
        assertThat(answer.err().lines()).hasSize(1).noneMatch(line -> line.startsWith("\tat "));
    }
}
