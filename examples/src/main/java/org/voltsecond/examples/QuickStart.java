package org.voltsecond.examples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;

/**
 * Starts the jar once more, in a Java machine set up for short work: classes come from an archive beside the jar, and the
 * compiler that takes long and pays only where a run is long is left out. A {@code java -jar} takes no such options from the jar
 * itself. Who gives options of his own, or asks for a long run, gets the Java machine that he started.
 *
 * <p>What is done here every run pays for, in classes that come from no archive: so neither lambdas nor regular expressions, and
 * nothing of the library.
 */
final class QuickStart {
    /** Beyond so many periods in one design the other compiler pays (measured with transients of up to a million). */
    private static final double LONG_RUN = 200_000;

    private static final String MARK = "voltsecond.quick";
    /**
     * Young objects in memory that stays warm, in place of a hundred megabytes touched once; the archive where it was made, in place of a
     * copy with all its addresses changed.
     */
    private static final List<String> OPTIONS = List.of(
            "-XX:+IgnoreUnrecognizedVMOptions",
            "-XX:+UnlockDiagnosticVMOptions",
            "-XX:TieredStopAtLevel=1",
            "-XX:+UseSerialGC",
            "-Xmn32m",
            "-XX:-UsePerfData",
            "-Xshare:auto",
            "-XX:ArchiveRelocationMode=0",
            "-Xlog:disable");

    private static final Set<String> ANSWERED_AT_ONCE = Set.of("--help", "-h", "--keys", "--version", "--view");
    private static final List<String> OPTIONS_ELSEWHERE =
            List.of("JDK_JAVA_OPTIONS", "JAVA_TOOL_OPTIONS", "_JAVA_OPTIONS");

    private QuickStart() {}

    /**
     * Runs the command in such a machine where that is wanted.
     *
     * @param arguments the words of the command line
     * @return its exit code; empty where the command is to be run here
     */
    static OptionalInt run(String... arguments) {
        ProcessHandle.Info here = ProcessHandle.current().info();
        String[] words = here.arguments().orElse(new String[0]);
        if (Boolean.getBoolean(MARK)
                || here.command().isEmpty()
                || !isPlain(words, arguments.length, System.getenv())) {
            return OptionalInt.empty();
        }
        for (String word : arguments) {
            if (ANSWERED_AT_ONCE.contains(word) || isLong(word)) {
                return OptionalInt.empty();
            }
        }
        return start(line(here.command().get(), words));
    }

    /** Whether Java was started with the jar and nothing else; only then is it known what it would be started with again. */
    static boolean isPlain(String[] words, int arguments, Map<String, String> environment) {
        for (String options : OPTIONS_ELSEWHERE) {
            if (environment.containsKey(options)) {
                return false;
            }
        }
        return words.length == arguments + 2 && words[0].equals("-jar");
    }

    /** The archive holds for the jar at the place where it was made, named in full. */
    private static List<String> line(String java, String... words) {
        Path jar = Path.of(words[1]).toAbsolutePath().normalize();
        Path archive = jar.resolveSibling("voltsecond.jsa");
        List<String> line = new ArrayList<>(List.of(java));
        line.addAll(OPTIONS);
        if (Files.isReadable(archive)) {
            line.add("-XX:SharedArchiveFile=" + archive);
        }
        line.addAll(List.of("-D" + MARK + "=true", "-jar", jar.toString()));
        line.addAll(List.of(words).subList(2, words.length));
        return line;
    }

    private static OptionalInt start(List<String> line) {
        try {
            Process process = new ProcessBuilder(line).inheritIO().start();
            Runtime.getRuntime().addShutdownHook(new Thread() {
                @Override
                public void run() {
                    process.destroy();
                }
            });
            return OptionalInt.of(process.waitFor());
        } catch (IOException e) {
            return OptionalInt.empty();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return OptionalInt.of(1);
        }
    }

    /** A guess from the text alone; a wrong one costs time and nothing else. */
    static boolean isLong(String word) {
        try {
            Path file = Path.of(word);
            String text = Files.isRegularFile(file) ? Files.readString(file) : "";
            return largest("duration", text) * largest("frequency", text) > LONG_RUN;
        } catch (IOException | InvalidPathException e) {
            return false;
        }
    }

    private static double largest(String key, String text) {
        double largest = 0;
        for (int at = text.indexOf(key); at >= 0; at = text.indexOf(key, at + 1)) {
            int end = text.indexOf('\n', at);
            String value = text.substring(at + key.length(), end < 0 ? text.length() : end)
                    .trim();
            if (value.startsWith("=")) {
                largest = Math.max(largest, value(value.substring(1).trim()));
            }
        }
        return largest;
    }

    /** A number with a prefix of its unit, such as {@code "15 ms"} with its quotes; 0 for what the command will refuse. */
    private static double value(String text) {
        int from = text.startsWith("\"") ? 1 : 0;
        int to = from;
        while (to < text.length() && "0123456789.+-eE".indexOf(text.charAt(to)) >= 0) {
            to++;
        }
        try {
            double number = Double.parseDouble(text.substring(from, to));
            String unit = text.substring(to).trim();
            return from == 0 || unit.isEmpty() ? number : number * factor(unit.charAt(0));
        } catch (NumberFormatException e) {
            return 0;
        }
    }

    private static double factor(char prefix) {
        return switch (prefix) {
            case 'n' -> 1e-9;
            case 'u', '\u00b5', '\u03bc' -> 1e-6;
            case 'm' -> 1e-3;
            case 'k' -> 1e3;
            case 'M' -> 1e6;
            default -> 1;
        };
    }
}
