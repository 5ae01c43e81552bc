package org.voltsecond.examples.command;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** The built-in demo: the rails of the power board of a harbour weather buoy, read as any design file is. */
final class Demo {
    static final List<String> RAILS = List.of("logic-rail", "radio-rail", "sensor-rail", "sonde-rail");

    private Demo() {}

    static List<Job> jobs() {
        return RAILS.stream()
                .map(rail -> Job.of(rail + ".toml (built in)", rail, text(rail)))
                .toList();
    }

    private static String text(String rail) {
        try (InputStream resource = Demo.class.getResourceAsStream("/demo/" + rail + ".toml")) {
            if (resource == null) {
                throw new IllegalStateException("the jar lacks its demo design " + rail + ".toml; build it again");
            }
            return new String(resource.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
