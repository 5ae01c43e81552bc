package org.voltsecond.examples.command;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;

/**
 * What the command answered.
 *
 * @param exitCode its exit code
 * @param out its standard output
 * @param err the lines of its standard error
 */
record CommandRun(int exitCode, String out, List<String> err) {
    static CommandRun of(Object... words) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        String[] arguments = List.of(words).stream().map(String::valueOf).toArray(String[]::new);
        int exitCode = new Command(
                        new PrintStream(out, true, StandardCharsets.UTF_8),
                        new PrintStream(err, true, StandardCharsets.UTF_8))
                .run(arguments);
        return new CommandRun(
                exitCode,
                out.toString(StandardCharsets.UTF_8),
                err.toString(StandardCharsets.UTF_8).lines().toList());
    }
}
