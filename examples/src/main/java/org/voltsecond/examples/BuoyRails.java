package org.voltsecond.examples;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.plot.command.Demo;

/** The built-in demo: the rails of the power board of a harbour weather buoy, read as any design file is. */
public final class BuoyRails {
    /** Their names. */
    public static final List<String> NAMES = List.of("logic-rail", "radio-rail", "sensor-rail", "sonde-rail");

    private static final String INTRODUCTION = """
            No design given: here are the four rails of the power board of a harbour weather buoy, fed from its
            12 V battery. For a design of your own: voltsecond.jar DESIGN.toml... (--help says more).
            """;

    private BuoyRails() {}

    /** {@return the rails as what runs where no design is given} */
    public static Demo demo() {
        Map<String, String> designs = new LinkedHashMap<>();
        NAMES.forEach(name -> designs.put(name, text(name)));
        return new Demo(INTRODUCTION, designs);
    }

    private static String text(String rail) {
        try (InputStream resource = BuoyRails.class.getResourceAsStream("/demo/" + rail + ".toml")) {
            if (resource == null) {
                throw new IllegalStateException("the jar lacks its demo design " + rail + ".toml; build it again");
            }
            return new String(resource.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
