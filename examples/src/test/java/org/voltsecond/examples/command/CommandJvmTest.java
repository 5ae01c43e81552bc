package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.examples.Voltsecond;

/** The command in a Java machine of its own, as a user runs it. The time is printed, not judged: machines differ. */
class CommandJvmTest {
    @TempDir
    Path folder;

    private record Answer(int exitCode, String out, String err) {}

    private Process start(Object... words) throws IOException {
        List<String> line = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Voltsecond.class.getName()));
        List.of(words).forEach(word -> line.add(String.valueOf(word)));
        return new ProcessBuilder(line)
                .redirectOutput(folder.resolve("stdout").toFile())
                .redirectError(folder.resolve("stderr").toFile())
                .start();
    }

    private Answer run(Object... words) throws IOException, InterruptedException {
        long start = System.nanoTime();
        Process process = start(words);
        assertThat(process.waitFor(120, TimeUnit.SECONDS)).as("ends by itself").isTrue();
        System.out.printf(
                "%s: %d ms with the start of Java%n", List.of(words), (System.nanoTime() - start) / 1_000_000);
        // On a busy machine a line tells that work goes on.
        String faults = read(folder.resolve("stderr")).replaceAll("voltsecond: [^\n]*, [0-9]+ s\n", "");
        return new Answer(process.exitValue(), read(folder.resolve("stdout")), faults);
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

    /** A hidden folder once stayed for good when the command was ended while it wrote. */
    @Test
    void whoEndsItWhileItWritesFindsNothingLeft() throws Exception {
        Path design =
                Designs.write(folder, "rail.toml", Designs.BUCK + "[transient]\nduration = \"0.4 s\"\n[map]\n" + """
                        across = { quantity = "load_current", from = "5 mA", to = "2 A" }
                        up = { quantity = "input_voltage", from = "9 V", to = "15 V" }
                        """);
        Path into = folder.resolve("out");
        Process process = start(design, "--into", into);
        while (process.isAlive() && !hasHiddenFolder(into)) {
            Thread.sleep(5);
        }
        assertThat(process.isAlive()).as("it is ended while it writes").isTrue();
        process.destroy();
        assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue()).isNotZero();
        assertThat(hasHiddenFolder(into)).isFalse();
        assertThat(into.resolve("rail")).doesNotExist();
        assertThat(read(folder.resolve("stderr")).lines()).noneMatch(line -> line.contains("cannot be written"));
    }

    private static boolean hasHiddenFolder(Path into) throws IOException {
        if (!Files.exists(into)) {
            return false;
        }
        try (Stream<Path> files = Files.list(into)) {
            return files.anyMatch(file -> file.getFileName().toString().startsWith(".voltsecond-"));
        }
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
