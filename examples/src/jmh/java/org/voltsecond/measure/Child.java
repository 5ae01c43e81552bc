package org.voltsecond.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** Other processes: what they print, and what processor time they take. */
final class Child {
    /** Places in /proc/self/stat behind the name in parentheses: user and system time of children waited for, in ticks. */
    private static final int CHILDREN_USER = 13;

    private static final int CHILDREN_SYSTEM = 14;

    /** A tick of Linux' account of processor time, s (sysconf(_SC_CLK_TCK) is 100 wherever Java runs on it). */
    private static final double TICK = 0.01;

    private Child() {}

    /** What a process prints; it throws where that ends other than well. */
    static List<String> lines(String... words) throws IOException {
        Process process = new ProcessBuilder(words)
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        List<String> lines;
        try (var reader = process.inputReader()) {
            lines = reader.lines().toList();
        }
        end(process, words[0]);
        return lines;
    }

    /** A C program of one file, compiled with further options; a machine without a C compiler throws. */
    static Path compiled(Path source, Path folder, String... options) throws IOException {
        String name = String.valueOf(source.getFileName());
        Path program = folder.resolve(name.substring(0, name.lastIndexOf('.')));
        List<String> words =
                new ArrayList<>(List.of("gcc", "-O3", "-march=native", source.toString(), "-o", program.toString()));
        words.addAll(List.of(options));
        lines(words.toArray(String[]::new));
        return program;
    }

    /** Processor time of a process and of those that it starts, with an empty environment, s. Linux only. */
    static double processorTime(List<String> words) throws IOException {
        double before = ofChildren();
        ProcessBuilder builder = new ProcessBuilder(words)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .redirectError(ProcessBuilder.Redirect.INHERIT);
        builder.environment().clear();
        end(builder.start(), words.get(0));
        return ofChildren() - before;
    }

    private static void end(Process process, String name) throws IOException {
        try {
            if (process.waitFor() != 0) {
                throw new IOException(name + " ended with " + process.exitValue());
            }
        } catch (InterruptedException e) {
            process.destroy();
            throw new IOException("interrupted while waiting for " + name, e);
        }
    }

    private static double ofChildren() throws IOException {
        String stat = Files.readString(Path.of("/proc/self/stat"));
        String[] words = stat.substring(stat.lastIndexOf(')') + 2).split(" ", -1);
        return TICK * (Long.parseLong(words[CHILDREN_USER]) + Long.parseLong(words[CHILDREN_SYSTEM]));
    }
}
