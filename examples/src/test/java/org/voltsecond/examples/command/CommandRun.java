package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.voltsecond.examples.BuoyRails;
import org.voltsecond.examples.Json;
import org.voltsecond.plot.command.Command;

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
                .withDemo(BuoyRails.demo())
                .run(arguments);
        return new CommandRun(
                exitCode,
                out.toString(StandardCharsets.UTF_8),
                err.toString(StandardCharsets.UTF_8).lines().toList());
    }

    /** The figures of a design that is run as rail.toml without a fault; its files stand in out/rail. */
    static Map<String, Object> figures(Path folder, String design, String... options) throws IOException {
        List<Object> words =
                new ArrayList<>(List.of(Designs.write(folder, "rail.toml", design), "--into", folder.resolve("out")));
        words.addAll(List.of(options));
        CommandRun run = of(words.toArray());
        assertThat(run.err()).isEmpty();
        assertThat(run.exitCode()).isZero();
        return Json.read(Files.readString(folder.resolve("out/rail/figures.json")));
    }
}
