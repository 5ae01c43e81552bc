package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import jdk.jshell.JShell;
import jdk.jshell.Snippet;
import jdk.jshell.SnippetEvent;
import jdk.jshell.VarSnippet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The two ways to try the library without a project, as the README shows them. */
class EmbeddingTest {
    private static final Path SOURCE = Path.of("src/main/java/org/voltsecond/examples/OneFile.java");

    /** Class path of the library without the examples: as a source file beside their classes would be refused. */
    private static String library() {
        return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
                .filter(entry -> !Files.exists(Path.of(entry).resolve("org/voltsecond/examples")))
                .collect(Collectors.joining(File.pathSeparator));
    }

    /** Against the ripple of the buck stage in which the capacitor's series resistance dominates. */
    @Test
    void oneFileRunsWithoutABuild(@TempDir Path folder) throws Exception {
        List<String> source = Files.readAllLines(SOURCE);
        assertThat(source).hasSizeLessThanOrEqualTo(30);
        Path output = folder.resolve("output.txt");
        String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
        Process process = new ProcessBuilder(java, "-Dfile.encoding=UTF-8", "-cp", library(), SOURCE.toString())
                .redirectErrorStream(true)
                .redirectOutput(output.toFile())
                .start();
        assertThat(process.waitFor(120, TimeUnit.SECONDS)).isTrue();
        String printed = Files.readString(output);
        assertThat(process.exitValue()).as(printed).isZero();
        double[] henries = {10e-6, 22e-6, 47e-6};
        List<String> lines = printed.lines().toList();
        assertThat(lines).hasSize(3);
        for (int i = 0; i < 3; i++) {
            double swing = 5.4 * 0.55 / 300e3 / henries[i];
            double ripple = Double.parseDouble(lines.get(i).replaceAll(".*: ([0-9.]+) mV", "$1")) * 1e-3;
            assertThat(ripple).isBetween(0.005 * swing, 0.005 * swing + swing / (8 * 47e-6 * 300e3));
        }
    }

    @Test
    void sessionInTheReadmeAnswersAsShown() throws IOException {
        List<String> shown = session();
        List<String> answered = new ArrayList<>();
        ByteArrayOutputStream sink = new ByteArrayOutputStream();
        try (PrintStream out = new PrintStream(sink, true, StandardCharsets.UTF_8);
                JShell shell = JShell.builder()
                        .executionEngine("local")
                        .out(out)
                        .err(out)
                        .build()) {
            Arrays.stream(library().split(File.pathSeparator)).forEach(shell::addToClasspath);
            for (String input : inputs(shown)) {
                answered.addAll(input.lines().toList());
                String typed = input.replaceAll("(?m)^(jshell>|   \\.\\.\\.>) ", "");
                // As the shell does: puts the semicolon that nobody types.
                String source =
                        shell.sourceCodeAnalysis().analyzeCompletion(typed).source();
                for (SnippetEvent event : shell.eval(source)) {
                    assertThat(event.status())
                            .as(
                                    "%s %s",
                                    input,
                                    shell.diagnostics(event.snippet())
                                            .map(d -> d.getMessage(null))
                                            .toList())
                            .isEqualTo(Snippet.Status.VALID);
                    assertThat(event.exception()).as(input).isNull();
                    if (event.snippet() instanceof VarSnippet variable) {
                        answered.add(variable.name() + " ==> " + event.value());
                    }
                }
            }
        }
        assertThat(answered)
                .isEqualTo(shown.stream().filter(line -> !line.isEmpty()).toList());
    }

    /** What is typed, each with the lines that continue it. */
    private static List<String> inputs(List<String> session) {
        List<String> inputs = new ArrayList<>();
        for (String line : session) {
            if (line.startsWith("jshell> ")) {
                inputs.add(line);
            } else if (line.startsWith("   ...> ")) {
                inputs.set(inputs.size() - 1, inputs.get(inputs.size() - 1) + "\n" + line);
            }
        }
        return inputs;
    }

    private static List<String> session() throws IOException {
        Matcher found = Pattern.compile("```\n(jshell> .*?)\n```", Pattern.DOTALL)
                .matcher(Files.readString(Path.of("..", "README.md")));
        assertThat(found.find()).isTrue();
        return found.group(1).lines().toList();
    }
}
