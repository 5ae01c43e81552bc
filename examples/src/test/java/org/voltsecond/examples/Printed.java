package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;

/** What an example prints. */
final class Printed {
    private Printed() {}

    /** A main method. */
    @FunctionalInterface
    interface Program {
        void run(String[] arguments) throws Exception;
    }

    static List<String> by(Program program, String... arguments) throws Exception {
        PrintStream standard = System.out;
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (PrintStream captured = new PrintStream(bytes, true, StandardCharsets.UTF_8)) {
            System.setOut(captured);
            program.run(arguments);
        } finally {
            System.setOut(standard);
        }
        List<String> lines = bytes.toString(StandardCharsets.UTF_8).lines().toList();
        assertThat(lines).isNotEmpty();
        return lines;
    }

    /** The numbers of a line, in order; words are passed over. */
    static double[] numbers(String line) {
        return Arrays.stream(line.split("[^-+.0-9eE]+"))
                .filter(word -> word.matches("[-+]?[0-9]+(\\.[0-9]+)?([eE][-+]?[0-9]+)?"))
                .mapToDouble(Double::parseDouble)
                .toArray();
    }
}
