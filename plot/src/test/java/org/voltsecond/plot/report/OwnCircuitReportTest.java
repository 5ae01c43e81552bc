package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;

/** What is told of a custom circuit: each part, each node, and the output. */
class OwnCircuitReportTest {
    /** Two phases without a rectifier's role: every switch has a gate of its own. */
    private static final String RAIL = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "Q1", kind = "switch", between = ["in", "sw"], on_resistance = "10 mΩ" },
                { name = "Q2", kind = "switch", between = ["sw", "ground"], on_resistance = "10 mΩ" },
                { name = "L1", kind = "inductor", between = ["sw", "out"], inductance = "22 µH" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "3 Ω" },
            ]
            gate = [
                { switch = "Q1", duty_cycle = 0.5, switching_frequency = "100 kHz" },
                { switch = "Q2", duty_cycle = 0.5, switching_frequency = "100 kHz", delay = 0.5 } ]
            output = { between = ["out", "ground"] }
            """;

    private static Findings found() {
        try {
            return Findings.of(DesignFile.parse("own.toml", "own", RAIL));
        } catch (DesignException e) {
            throw new AssertionError(e);
        }
    }

    private static Map<String, Double> numbers(String json) throws IOException {
        Map<String, Double> numbers = new TreeMap<>();
        try (JsonParser parser = new JsonFactory().createParser(json)) {
            while (parser.nextToken() != null) {
                if (parser.currentToken() == JsonToken.VALUE_NUMBER_FLOAT
                        || parser.currentToken() == JsonToken.VALUE_NUMBER_INT) {
                    numbers.put(parser.getParsingContext().pathAsPointer().toString(), parser.getDoubleValue());
                }
            }
        }
        return numbers;
    }

    @Test
    void partsNodesAndOutputStandInTheFigures() throws IOException {
        Map<String, Double> figures = numbers(Report.of(found()).figuresJson());
        double volt = 6 * 3 / 3.01; // half the input behind 10 mΩ
        assertThat(figures.get("/steady_state/output/mean")).isCloseTo(volt, within(1e-9));
        assertThat(figures.get("/steady_state/parts/L1/current/mean")).isCloseTo(volt / 3, within(1e-6));
        assertThat(figures.get("/steady_state/parts/L1/voltage/mean")).isCloseTo(0, within(1e-9));
        assertThat(figures.get("/steady_state/nodes/in/ac_rms")).isZero();
        assertThat(figures.get("/steady_state/nodes/in/mean")).isEqualTo(12);
        // current into the plus of a source that delivers is negative
        assertThat(figures.get("/steady_state/parts/V1/current/mean")).isNegative();
        double mean = Objects.requireNonNull(figures.get("/steady_state/parts/Q1/current/mean"));
        double rms = Objects.requireNonNull(figures.get("/steady_state/parts/Q1/current/rms"));
        assertThat(figures.get("/steady_state/parts/Q1/current/ac_rms"))
                .isCloseTo(Math.sqrt(rms * rms - mean * mean), within(1e-12));
        assertThat(figures.get("/steady_state/periods")).isEqualTo(1);
    }

    @Test
    void aMapNeedsNoRectifier() throws DesignException {
        Findings mapped = Findings.of(DesignFile.parse("own.toml", "own", RAIL + """
                [map]
                across = { quantity = "R1.resistance", from = "1 Ω", to = "3 Ω", points = 2 }
                up = { quantity = "L1.inductance", from = "10 µH", to = "20 µH", points = 2 }
                figures = ["output_ripple"]
                """));
        assertThat(SummaryTable.of(mapped))
                .anySatisfy(line -> assertThat(line).contains("2 x 2 points, 0 without a steady state"));
    }

    @Test
    void thePageShowsTheCircuit() {
        String page = Report.of(found()).html();
        assertThat(page).contains("V1", "Q2", "R1", "<svg").doesNotContain("rectifier current");
    }
}
