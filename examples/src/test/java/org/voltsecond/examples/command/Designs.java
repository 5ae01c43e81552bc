package org.voltsecond.examples.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Design files for tests of the command. */
final class Designs {
    static final String BUCK = """
            name = "logic rail"
            [stage]
            topology = "buck"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "22 µH"
            resistance = "30 mΩ"
            [output_capacitor]
            capacitance = "47 µF"
            resistance = "5 mΩ"
            [transistor]
            on_resistance = "80 mΩ"
            [rectifier]
            forward_drop = "0.4 V"
            resistance = "20 mΩ"
            [load]
            resistance = "2.5 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.45
            switching_frequency = "300 kHz"
            """;

    static final String IDEAL_BOOST = """
            name = "radio rail"
            [stage]
            topology = "boost"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "47 µH"
            [output_capacitor]
            capacitance = "100 µF"
            [load]
            resistance = "48 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.5
            switching_frequency = "250 kHz"
            """;

    private Designs() {}

    static Path write(Path folder, String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }
}
