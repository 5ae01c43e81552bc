package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.plot.LossPictures;

/** What is told of a design with [heat]: figures, report, terminal and picture hold the numbers of the library. */
class HeatReportTest {
    private static final String RAIL = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH", resistance = "30 mΩ" }
            output_capacitor = { capacitance = "47 µF", resistance = "5 mΩ" }
            transistor = { on_resistance = "80 mΩ" }
            rectifier = { forward_drop = "0.4 V", resistance = "20 mΩ" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            losses = { turn_on_time = "15 ns", core = { cross_section = 12e-6, turns = 12 }, points = 2 }
            limits = { junction_temperature = "80 °C", ripple_current_share = 0.5 }
            [heat]
            ambient = "55 °C"
            [heat.parts.transistor]
            thermal_resistance = "45 K/W"
            temperature_coefficient = "0.006 1/K"
            maximum_temperature = "60 °C"
            [heat.parts.rectifier]
            thermal_resistance = "65 K/W"
            forward_drop_coefficient = "-1 mV/K"
            [heat.parts.C1]
            rated_ripple_current = "0.4 A"
            rated_rise = "8 K"
            maximum_temperature = "55.1 °C"
            """;

    private static Findings found(String text) {
        try {
            return Findings.of(DesignFile.parse("rail.toml", "rail", text));
        } catch (DesignException e) {
            throw new AssertionError(e);
        }
    }

    private static Map<String, String> figures(Findings found) throws IOException {
        Map<String, String> all = new TreeMap<>();
        try (JsonParser parser = new JsonFactory().createParser(Report.of(found).figuresJson())) {
            while (parser.nextToken() != null) {
                if (parser.currentToken().isScalarValue()) {
                    all.put(parser.getParsingContext().pathAsPointer().toString(), parser.getText());
                }
            }
        }
        return all;
    }

    private static double number(Map<String, String> figures, String path) {
        return Double.parseDouble(Objects.requireNonNull(figures.get(path), path));
    }

    @Test
    void figuresAndChecksHoldTheBalance() throws IOException {
        Findings found = found(RAIL);
        HeatBalance balance = Objects.requireNonNull(found.studies().heat()).get();
        Map<String, String> figures = figures(found);
        assertThat(figures)
                .containsEntry("/heat/ambient", "55.0")
                .containsEntry("/heat/parts/Q1/temperature", String.valueOf(balance.temperature("Q1")))
                .containsEntry("/heat/parts/Q1/maximum", "60.0")
                .containsEntry("/heat/capacitors/C1/maximum", "55.1")
                .containsEntry(
                        "/heat/efficiency", String.valueOf(balance.budget().efficiency()))
                .containsEntry("/heat/loop_gain", String.valueOf(balance.loopGain()))
                .containsEntry("/heat/runaway_ambient", "null")
                .containsEntry(
                        "/heat/capacitors/C1/hot_spot",
                        String.valueOf(balance.capacitors().get(0).hotSpot().get()))
                .containsEntry("/heat/capacitors/C1/expected_hours", "null")
                .doesNotContainKey("/heat/parts/D1/maximum");
        assertThat(figures.get("/heat/reason")).startsWith("runaway_ambient: ");
        assertThat(figures.get("/heat/capacitors/C1/reason")).isEqualTo("expected_hours: no rated life is given");
        assertThat(number(figures, "/heat/parts/Q1/margin")).isCloseTo(60 - balance.temperature("Q1"), within(1e-12));
        double peak = number(figures, "/steady_state/signals/inductor_current/maximum");
        assertThat(number(figures, "/losses/flux_density/L1")).isCloseTo(22e-6 * peak / (12 * 12e-6), within(1e-12));
        assertThat(figures)
                .containsEntry("/checks/0/limit", "junction_temperature")
                .containsEntry("/checks/0/value", String.valueOf(balance.temperature("D1")))
                .containsEntry("/checks/0/met", "false");
    }

    @Test
    void reportTerminalAndPictureTellIt() {
        Findings found = found(RAIL);
        HeatBalance balance = Objects.requireNonNull(found.studies().heat()).get();
        String hot = String.format(java.util.Locale.ROOT, "%.1f °C", balance.temperature("Q1"));
        assertThat(Report.of(found).html())
                .contains(
                        "Temperatures",
                        "Efficiency at temperature, all losses",
                        "Capacitor currents",
                        hot,
                        "stands 55.1 °C");
        assertThat(String.join("\n", SummaryTable.of(found)))
                .contains("Q1 " + hot + " (stands 60.0 °C)", "ripple current of C1 32.91");
        assertThat(LossPictures.temperatures("Rail", balance).svg())
                .contains("limit 60.0 °C", "D1", "thermal loop gain");
    }

    @Test
    void runawayStandsAtTheTop() throws IOException {
        Findings found = found(RAIL.replace("45 K/W", "2000 K/W"));
        List<String> lines = SummaryTable.of(found);
        assertThat(String.join("\n", lines.subList(0, 5))).contains("thermal runaway");
        assertThat(figures(found)).containsEntry("/heat", "null").containsEntry("/checks/0/met", "false");
        assertThat(Report.of(found).html()).contains("runs away", "thermal runaway");
    }
}
