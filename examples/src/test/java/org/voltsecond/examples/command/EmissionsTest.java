package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.examples.Json.number;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.examples.Json;

/** What the command makes of the table [emissions]. */
class EmissionsTest {
    private static final String RAIL = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            input_capacitor = { capacitance = "10 µF", resistance = "5 mΩ" }
            inductor = { inductance = "22 µH" }
            output_capacitor = { capacitance = "47 µF" }
            rectifier = { forward_drop = "0.4 V" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            """;

    @TempDir
    private Path folder;

    private Path out() {
        return folder.resolve("out/rail");
    }

    private Map<String, Object> figures(String design, String... options) throws IOException {
        return CommandRun.figures(folder, design, options);
    }

    @Test
    void tableFiguresAndPicture() throws IOException {
        Map<String, Object> figures = figures(RAIL + """
                limits = { emission_margin = "6 dB" }
                [emissions]
                network = "50 µH"
                limits = "class-b"
                to = "30 MHz"
                """);
        List<String> csv = Files.readAllLines(out().resolve("emissions.csv"));
        assertThat(csv).hasSize(101).startsWith("frequency,level");
        double worst = Double.POSITIVE_INFINITY;
        for (String line : csv.subList(1, 101)) {
            double frequency = Double.parseDouble(line.split(",", -1)[0]);
            double level = Double.parseDouble(line.split(",", -1)[1]);
            worst = Math.min(worst, limitOfClassB(frequency) - level);
        }
        assertThat(csv.get(100)).startsWith("3.0E7,");
        assertThat(number(figures, "emissions.worst.margin")).isCloseTo(worst, within(1e-9));
        assertThat(number(figures, "emissions.worst.frequency")).isEqualTo(300e3);
        assertThat(number(figures, "emissions.worst.limit")).isCloseTo(50.243, within(1e-3));
        assertThat(number(figures, "emissions.worst.level"))
                .isCloseTo(Double.parseDouble(csv.get(1).split(",", -1)[1]), within(0.0));
        assertThat(number(figures, "emissions.audit_residual")).isLessThan(1e-10);
        assertThat(number(figures, "emissions.filter.worst.margin")).isGreaterThan(6);
        assertThat(Json.at(figures, "emissions.filter.stability.stable")).isEqualTo(true);
        Map<?, ?> check = (Map<?, ?>) ((List<?>) Json.at(figures, "checks")).get(0);
        assertThat(check.get("limit")).isEqualTo("emission_margin");
        assertThat(check.get("value")).isEqualTo(number(figures, "emissions.worst.margin"));
        assertThat(out().resolve("emissions.png")).isNotEmptyFile();
        assertThat(Files.readString(out().resolve("emissions.svg"))).contains("pre-compliance estimate");
        assertThat(Files.readString(out().resolve("report.html")))
                .contains("<h2><bdi>Emissions into the supply</bdi></h2>")
                .contains("Only a measurement shows compliance")
                .contains("<bdi>[input_filter]</bdi>");
    }

    /** CISPR 32, written down once more. */
    private static double limitOfClassB(double frequency) {
        return frequency <= 500e3
                ? 56 - 10 * Math.log(frequency / 150e3) / Math.log(500.0 / 150)
                : frequency <= 5e6 * (1 + 1e-9) ? 46 : 50;
    }

    /** The filter that was proposed, written into the design: its emissions are those that were promised. */
    @Test
    void theProposedFilterKeepsItsPromise() throws IOException {
        String emissions = "emissions = { limits = \"class-b\" }\n";
        Map<String, Object> before = figures(RAIL + emissions, "--no-pictures");
        String filter = String.format(
                java.util.Locale.ROOT,
                "input_filter = { inductance = %s, capacitance = %s, line_capacitance = %s, damping = { resistance = %s, capacitance = %s } }%n",
                number(before, "emissions.filter.inductance"),
                number(before, "emissions.filter.capacitance"),
                number(before, "emissions.filter.line_capacitance"),
                number(before, "emissions.filter.damping.resistance"),
                number(before, "emissions.filter.damping.capacitance"));
        Map<String, Object> after = figures(RAIL + filter + emissions, "--no-pictures");
        assertThat(number(after, "emissions.worst.margin"))
                .isCloseTo(number(before, "emissions.filter.worst.margin"), within(1e-6));
        assertThat(Json.valueAt(after, "emissions.filter")).isNull();
        assertThat(Json.at(after, "emissions.reason")).asString().contains("none is needed");
    }

    @Test
    void withoutLimitsTheStrongestIsTold() throws IOException {
        Map<String, Object> figures = figures(RAIL + "emissions = { network = \"5 µH\" }\n", "--no-pictures");
        assertThat(number(figures, "emissions.worst.frequency")).isEqualTo(300e3);
        assertThat(Json.valueAt(figures, "emissions.worst.limit")).isNull();
        assertThat(Json.valueAt(figures, "emissions.worst.margin")).isNull();
        assertThat(Json.at(figures, "emissions.worst.reason")).asString().contains("no limits are given");
    }

    @Test
    void aCircuitOfOnesOwn() throws IOException {
        Map<String, Object> figures = figures("""
                part = [
                    { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "9 V" },
                    { name = "L1", kind = "inductor", between = ["in", "drain"], inductance = "90 µH" },
                    { name = "Q1", kind = "switch", between = ["drain", "ground"], on_resistance = "50 mΩ" },
                    { name = "D1", kind = "rectifier", between = ["drain", "out"], forward_drop = "0.4 V" },
                    { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "80 µF" },
                    { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "20 Ω" },
                ]
                gate = [ { switch = "Q1", duty_cycle = 0.4, switching_frequency = "100 kHz" } ]
                output = { between = ["out", "ground"] }
                emissions = { limits = "class-a", earth_capacitance = "1 pF" }
                """, "--no-pictures");
        assertThat(Files.readAllLines(out().resolve("emissions.csv"))).hasSize(301);
        assertThat(number(figures, "emissions.worst.level")).isGreaterThan(60);
        assertThat(number(figures, "emissions.minus_line.level")).isGreaterThan(60);
        assertThat(number(figures, "emissions.common_mode.level"))
                .isLessThan(number(figures, "emissions.differential_mode.level"));
    }
}
