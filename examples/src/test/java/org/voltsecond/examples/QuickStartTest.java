package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import java.util.jar.Attributes;
import java.util.jar.JarOutputStream;
import java.util.jar.Manifest;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A jar that starts itself once more: what it answers is what it answers without. */
class QuickStartTest {
    /** A rail of the demo, with a transient of 5 ms. */
    private static final String RAIL =
            Objects.requireNonNull(BuoyRails.demo().designs().get("logic-rail"));

    @TempDir
    Path folder;

    private boolean tellsItsWords;

    private record Answer(int exitCode, String out, String err, boolean startedAgain) {}

    /** A jar that has nothing in it and finds all on this test's class path. */
    private Path jar() throws IOException {
        Manifest manifest = new Manifest();
        Attributes main = manifest.getMainAttributes();
        main.put(Attributes.Name.MANIFEST_VERSION, "1.0");
        main.put(Attributes.Name.MAIN_CLASS, Voltsecond.class.getName());
        main.put(
                Attributes.Name.CLASS_PATH,
                Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
                        .map(entry -> Path.of(entry).toAbsolutePath().toUri().toString())
                        .collect(Collectors.joining(" ")));
        Path jar = folder.resolve("voltsecond.jar");
        new JarOutputStream(Files.newOutputStream(jar), manifest).close();
        return jar;
    }

    private Answer java(List<String> options, Path jar, Object... words) throws IOException, InterruptedException {
        List<String> line = new ArrayList<>(
                List.of(Path.of(System.getProperty("java.home"), "bin", "java").toString()));
        line.addAll(options);
        line.addAll(List.of("-jar", jar.toString()));
        List.of(words).forEach(word -> line.add(String.valueOf(word)));
        ProcessBuilder builder = new ProcessBuilder(line)
                .redirectOutput(folder.resolve("stdout").toFile())
                .redirectError(folder.resolve("stderr").toFile());
        builder.environment().keySet().removeIf(name -> name.endsWith("JAVA_OPTIONS") || name.endsWith("TOOL_OPTIONS"));
        Process process = builder.start();
        tellsItsWords = process.info().arguments().isPresent();
        boolean startedAgain = false;
        while (!process.waitFor(10, TimeUnit.MILLISECONDS)) {
            startedAgain |= process.children().findAny().isPresent();
        }
        return new Answer(process.exitValue(), read("stdout"), read("stderr"), startedAgain);
    }

    private String read(String file) throws IOException {
        return Files.readString(folder.resolve(file), StandardCharsets.UTF_8);
    }

    @Test
    void figuresAndExitCodesAreThoseOfTheMachineAsItIs() throws Exception {
        Path design = Files.writeString(folder.resolve("rail.toml"), RAIL);
        Path wrong = Files.writeString(folder.resolve("wrong.toml"), RAIL.replace("12 V", "12 A"));
        Path jar = jar();
        Answer quick = java(List.of(), jar, design, wrong, "--into", folder.resolve("quick"), "--no-pictures");
        Answer plain = java(
                List.of("-Dvoltsecond.quick=true"),
                jar,
                design,
                wrong,
                "--into",
                folder.resolve("plain"),
                "--no-pictures");
        assertThat(quick.startedAgain())
                .as("where the system tells how Java was started")
                .isEqualTo(tellsItsWords);
        assertThat(plain.startedAgain()).isFalse();
        assertThat(quick.exitCode()).isEqualTo(2).isEqualTo(plain.exitCode());
        assertThat(quick.err()).isEqualTo(plain.err()).contains("wrong.toml:");
        assertThat(quick.out().replace("quick", "plain")).isEqualTo(plain.out());
        assertThat(folder.resolve("quick/rail/figures.json"))
                .hasSameTextualContentAs(folder.resolve("plain/rail/figures.json"));
        assertThat(folder.resolve("quick/rail/waveforms.csv"))
                .hasSameTextualContentAs(folder.resolve("plain/rail/waveforms.csv"));
    }

    @Test
    void whoGivesOptionsHasThem() {
        String[] plain = {"-jar", "voltsecond.jar", "rail.toml"};
        assertThat(QuickStart.isPlain(plain, 1, Map.of())).isTrue();
        assertThat(QuickStart.isPlain(plain, 1, Map.of("JDK_JAVA_OPTIONS", "-Xmx1g")))
                .isFalse();
        assertThat(QuickStart.isPlain(new String[] {"-Xmx1g", "-jar", "voltsecond.jar", "rail.toml"}, 1, Map.of()))
                .isFalse();
        assertThat(QuickStart.isPlain(new String[] {"-cp", "classes", "org.Main"}, 0, Map.of()))
                .isFalse();
        assertThat(QuickStart.isPlain(new String[0], 1, Map.of()))
                .as("where the system does not tell how Java was started")
                .isFalse();
    }

    private static String lasting(String time) {
        return RAIL.replaceFirst("(?m)^duration = \"5 ms\"", "duration = " + time);
    }

    @Test
    void longRunsHaveTheOtherCompiler() throws IOException {
        Path design = folder.resolve("rail.toml");
        Files.writeString(design, RAIL);
        assertThat(QuickStart.isLong(design.toString())).isFalse();
        Files.writeString(design, lasting("3.5 # s"));
        assertThat(QuickStart.isLong(design.toString())).isTrue();
        for (String time :
                List.of("3.5", "\"3.5 s\"", "\"3500 ms\"", "\"3.5e6us\"", "\"3500000 µs\"", "\"3.5e9 ns\"")) {
            Files.writeString(design, lasting(time));
            assertThat(QuickStart.isLong(design.toString())).as(time).isTrue();
            Files.writeString(design, lasting(time.replace("3", "0.003")));
            assertThat(QuickStart.isLong(design.toString())).as(time).isFalse();
        }
        Files.writeString(design, lasting("\"far too long\""));
        assertThat(QuickStart.isLong(design.toString())).isFalse();
        assertThat(QuickStart.isLong(folder.toString())).isFalse();
    }
}
