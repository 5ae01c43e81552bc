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
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Starts the jar once more, in a Java machine set up for short work: classes come from an archive beside the jar, and the
 * compiler that takes long and pays only where a run is long is left out. A {@code java -jar} takes no such options from the jar
 * itself. Who gives options of his own, or asks for a long run, gets the Java machine that he started.
 */
final class QuickStart {
    /** Beyond so many periods in one design the other compiler pays (measured with transients of up to a million). */
    private static final double LONG_RUN = 200_000;

    private static final String MARK = "voltsecond.quick";
    private static final List<String> OPTIONS =
            List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-XX:-UsePerfData", "-Xshare:auto", "-Xlog:disable");
    private static final Set<String> ANSWERED_AT_ONCE = Set.of("--help", "-h", "--keys", "--version", "--view");
    private static final List<String> OPTIONS_ELSEWHERE =
            List.of("JDK_JAVA_OPTIONS", "JAVA_TOOL_OPTIONS", "_JAVA_OPTIONS");
    private static final Pattern VALUE = Pattern.compile("(duration|frequency)\\s*=\\s*\"?([^\"\\n#,}]+)");

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
                || !isPlain(words, arguments.length, System.getenv())
                || List.of(arguments).stream().anyMatch(word -> ANSWERED_AT_ONCE.contains(word) || isLong(word))) {
            return OptionalInt.empty();
        }
        return start(line(here.command().get(), words));
    }

    /** Whether Java was started with the jar and nothing else; only then is it known what it would be started with again. */
    static boolean isPlain(String[] words, int arguments, Map<String, String> environment) {
        return words.length == arguments + 2
                && words[0].equals("-jar")
                && OPTIONS_ELSEWHERE.stream().noneMatch(environment::containsKey);
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
            Runtime.getRuntime().addShutdownHook(new Thread(process::destroy));
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
            return largest("duration", text, Unit.SECOND) * largest("frequency", text, Unit.HERTZ) > LONG_RUN;
        } catch (IOException | InvalidPathException e) {
            return false;
        }
    }

    private static double largest(String key, String text, Unit unit) {
        double largest = 0;
        for (Matcher found = VALUE.matcher(text); found.find(); ) {
            if (found.group(1).equals(key)) {
                largest = Math.max(largest, value(found.group(2).trim(), unit));
            }
        }
        return largest;
    }

    private static double value(String text, Unit unit) {
        try {
            return Character.isDigit(text.charAt(text.length() - 1))
                    ? Double.parseDouble(text)
                    : Quantity.parse(text, unit);
        } catch (IllegalArgumentException e) {
            return 0; // the command tells what is wrong with it
        }
    }
}
