package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a file says of a rail stands in the design that is proposed, and what it leaves out is what README says. */
class RailValuesTest {
    private static final String RAIL = """
            [rail]
            input = { from = "10 V", to = "15 V" }
            output_voltage = "5 V"
            load = { from = "1 A", to = "2 A" }
            switching_frequency = "300 kHz"
            inductor_ripple = 0.3
            output_ripple = "50 mV"
            """;

    @TempDir
    private Path folder;

    private String design(String text) throws IOException {
        CommandRun run = CommandRun.of(
                Designs.write(folder, "rail.toml", text), "--into", folder.resolve("out"), "--no-pictures");
        assertThat(run.err()).isEmpty();
        return Files.readString(folder.resolve("out/rail/design.toml"));
    }

    private String faults(String text) throws IOException {
        CommandRun run = CommandRun.of(Designs.write(folder, "rail.toml", text), "--into", folder.resolve("out"));
        assertThat(run.exitCode()).isEqualTo(2);
        return String.join("\n", run.err());
    }

    @Test
    void whatIsLeftOutIsAsTheGuideSays() throws IOException {
        assertThat(design(RAIL))
                .contains("[input]\nvoltage = \"12.5 V\"")
                .contains("capacitive_share = 0.5")
                .contains("[inductor]\n", "resistance = \"0 Ω\"")
                .contains("body_diode_drop = \"800 mV\"  # assumed")
                .contains("[map]")
                .doesNotContain("maximum_duty_cycle", "shortest_on_time", "inductor_peak");
    }

    @Test
    void partsComeThrough() throws IOException {
        assertThat(design(RAIL + """
                [inductor]
                resistance = "31 mΩ"
                [transistor]
                on_resistance = "82 mΩ"
                body_diode_drop = "0.7 V"
                body_diode_resistance = "11 mΩ"
                [rectifier]
                kind = "synchronous"
                resistance = "22 mΩ"
                body_diode_drop = "0.9 V"
                body_diode_resistance = "13 mΩ"
                """))
                .containsPattern("\\[inductor]\n.*\nresistance = \"31 mΩ\"")
                .contains("[transistor]\non_resistance = \"82 mΩ\"\nbody_diode_drop = \"700 mV\"\n"
                        + "body_diode_resistance = \"11 mΩ\"")
                .contains("kind = \"synchronous\"\nresistance = \"22 mΩ\"\nbody_diode_drop = \"900 mV\"\n"
                        + "body_diode_resistance = \"13 mΩ\"");
    }

    @ParameterizedTest
    @ValueSource(strings = {"10 V", "15 V"})
    void theTypicalInputMayBeAnEnd(String typical) throws IOException {
        assertThat(design(RAIL.replace("\"15 V\" }", "\"15 V\", typical = \"" + typical + "\" }")))
                .contains("[input]\nvoltage = \"" + typical + "\"");
    }

    @ParameterizedTest
    @ValueSource(strings = {"9.9 V", "15.1 V"})
    void theTypicalInputLiesInItsRange(String typical) throws IOException {
        assertThat(faults(RAIL.replace("\"15 V\" }", "\"15 V\", typical = \"" + typical + "\" }")))
                .contains("rail.toml:2: rail.input.typical", "outside the range");
    }

    @Test
    void oneLoadNeedsNoMap() throws IOException {
        assertThat(design(RAIL.replace("from = \"1 A\"", "from = \"2 A\""))).doesNotContain("[map]");
    }
}
