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
import org.voltsecond.design.RegulatedDesigns;
import org.voltsecond.examples.Json;

/** What the command makes of the tables [losses], [map], [tolerance] and [sizing]. */
class StudiesTest {
    @TempDir
    private Path folder;

    private Path out() {
        return folder.resolve("out/rail");
    }

    private Map<String, Object> figures(String design, String... options) throws IOException {
        return CommandRun.figures(folder, design, options);
    }

    /** K = 2 L f / R = D (1 - D)^2: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, ch. 5; a capacitor of 100 mF leaves no ripple. */
    @Test
    void mapOfAnIdealBoostHasTheBoundaryOfTheTextbook() throws IOException {
        Map<String, Object> figures = figures(Designs.IDEAL_BOOST.replace("100 µF", "100 mF") + """
                [map]
                across = { quantity = "load_resistance", from = "50 Ω", to = "1 kΩ", points = 9 }
                up = { quantity = "duty_cycle", from = 0.3, to = 0.6, points = 4 }
                figures = ["output_voltage"]
                """);
        assertThat(number(figures, "map.points")).isEqualTo(36);
        assertThat(number(figures, "map.failures")).isZero();
        List<?> line = (List<?>) ((List<?>) Json.at(figures, "map.boundary")).get(0);
        assertThat(line).hasSizeGreaterThan(3);
        for (Object spot : line) {
            double ohm = (Double) ((List<?>) spot).get(0);
            double duty = (Double) ((List<?>) spot).get(1);
            double k = 2 * 47e-6 * 250e3 / ohm;
            assertThat(k).isCloseTo(duty * (1 - duty) * (1 - duty), within(1e-5 * k));
        }
        // 12 V / (1 - 0.6) is the most that continuous conduction gives; less load gives more
        assertThat(number(figures, "map.figures.output_voltage.maximum")).isGreaterThan(30);
        assertThat(Files.readString(out().resolve("map.csv"))).hasLineCount(37);
        assertThat(Files.readString(out().resolve("map-boundary.csv"))).hasLineCount(line.size() + 1);
        Map<String, Object> map = Json.read(Files.readString(out().resolve("map.json")));
        List<?> modes = (List<?>) Json.at(map, "conduction");
        assertThat(modes).hasSize(36);
        assertThat(modes.contains("continuous") && modes.contains("discontinuous"))
                .isTrue();
        assertThat((List<?>) Json.at(map, "up.values")).hasSize(4);
        assertThat(Json.at(map, "boundary")).isEqualTo(Json.at(figures, "map.boundary"));
        Map<?, ?> voltage = (Map<?, ?>) ((List<?>) Json.at(map, "figures")).get(0);
        assertThat(voltage.get("unit")).isEqualTo("V");
        assertThat(Json.valueAt(map, "held_output")).isNull();
        for (String picture : List.of("map-conduction", "map-output-voltage")) {
            assertThat(out().resolve(picture + ".png")).isNotEmptyFile();
            assertThat(out().resolve(picture + ".svg")).isNotEmptyFile();
        }
        assertThat(Files.readString(out().resolve("report.html"))).contains("<h2><bdi>Operating map</bdi></h2>");
    }

    @Test
    void aMapOfARegulatedStageHoldsWhatItsRegulatorHolds() throws IOException {
        Map<String, Object> figures = figures(RegulatedDesigns.VOLTAGE_MODE + """
                [map]
                across = { quantity = "load_resistance", from = "2.5 Ω", to = "100 Ω", points = 3 }
                up = { quantity = "input_voltage", from = "9 V", to = "15 V", points = 2 }
                figures = ["output_voltage", "duty_cycle"]
                """, "--no-pictures");
        assertThat(number(figures, "map.figures.output_voltage.minimum")).isCloseTo(5, within(2e-3));
        assertThat(number(figures, "map.figures.output_voltage.maximum")).isCloseTo(5, within(2e-3));
        assertThat(number(figures, "map.figures.duty_cycle.maximum")).isGreaterThan(0.55);
        assertThat(out().resolve("map-conduction.png")).doesNotExist();
        assertThat(out().resolve("map.csv")).isNotEmptyFile();
    }

    /** The tolerance of the drop: in continuous conduction an ideal buck puts out D V - (1 - D) V_F. */
    @Test
    void tolerancesStandSideBySide() throws IOException {
        String ideal = Designs.BUCK
                .replace("30 mΩ", "0 Ω")
                .replace("5 mΩ", "0 Ω")
                .replace("80 mΩ", "0 Ω")
                .replace("20 mΩ", "0 Ω");
        Map<String, Object> figures = figures(ideal + """
                [tolerance]
                designs = 3000
                seed = 3
                [tolerance.values]
                forward_drop = { half_width = "100 mV" }
                input_voltage = 0.1
                """, "--no-pictures");
        String output = "tolerance.figures.output_voltage.";
        assertThat(number(figures, output + "nominal")).isCloseTo(0.45 * 12 - 0.55 * 0.4, within(1e-9));
        assertThat(number(figures, output + "first_order")).isCloseTo(0.55 * 0.1 + 0.45 * 1.2, within(1e-9));
        assertThat(number(figures, output + "root_sum_square")).isCloseTo(Math.hypot(0.055, 0.54), within(1e-9));
        double deviation = Math.hypot(0.055, 0.54) / Math.sqrt(3);
        assertThat(number(figures, output + "expected_deviation")).isCloseTo(deviation, within(1e-9));
        // the standard error of a deviation of 3000 designs is 1.3 %; four of them
        assertThat(number(figures, output + "drawn_deviation")).isCloseTo(deviation, within(0.052 * deviation));
        assertThat(number(figures, output + "drawn_maximum")).isBetween(5.18 + 0.4, 5.18 + 0.595 + 1e-9);
        assertThat(number(figures, "tolerance.failures")).isZero();
        assertThat(Files.readString(out().resolve("tolerance.csv"))).hasLineCount(7);
        Map<String, Object> table = Json.read(Files.readString(out().resolve("tolerance.json")));
        Map<?, ?> first = (Map<?, ?>) ((List<?>) Json.at(table, "figures")).get(0);
        assertThat(first.get("first_order")).isEqualTo(Json.at(figures, output + "first_order"));
        assertThat((List<?>) Json.at(table, "tolerances")).hasSize(2);
    }

    @Test
    void sizingProposesAndChecksEveryCorner() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK + """
                [sizing]
                input = { from = "9 V", to = "15 V" }
                load = { from = "50 mA", to = "2 A" }
                output_voltage = "5 V"
                inductor_ripple = 0.3
                output_ripple = "50 mV"
                """);
        double least = number(figures, "sizing.least_inductance");
        double proposed = number(figures, "sizing.inductance");
        assertThat(proposed).isGreaterThanOrEqualTo(least).isLessThan(2 * least);
        assertThat(Json.at(figures, "sizing.passes")).isEqualTo(true);
        // volt-second balance with the drops at full load, at either end of the input
        assertThat(number(figures, "sizing.highest_duty_cycle")).isCloseTo(5.5 / (9.4 - 0.12), within(1e-3));
        assertThat(number(figures, "sizing.lowest_duty_cycle")).isCloseTo(5.5 / (15.4 - 0.12), within(1e-3));
        assertThat((List<?>) Json.at(figures, "sizing.corners")).hasSize(4);
        assertThat(number(figures, "sizing.binding.margin")).isBetween(0.0, 1.0);
        assertThat(Files.readString(out().resolve("sizing.csv")))
                .hasLineCount(5)
                .contains("continuous");
        assertThat(Files.readString(out().resolve("report.html"))).contains("Every corner passes.", "IEC 60063");
    }

    /** Overlap: V I f (t_on + t_off) / 2 with the currents of the two instants; gate charge: Q V f. */
    @Test
    void lossesAddUp() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK + """
                [losses]
                turn_on_time = "15 ns"
                turn_off_time = "20 ns"
                gate_charge = "9 nC"
                gate_voltage = "5 V"
                output_voltage = "5 V"
                load = { from = "10 mA", to = "2 A" }
                points = 5
                """);
        double low = number(figures, "steady_state.signals.inductor_current.minimum");
        double high = number(figures, "steady_state.signals.inductor_current.maximum");
        double atTurnOn = 12 + 0.4 + 0.02 * low;
        double atTurnOff = 12 + 0.4 + 0.02 * high;
        double overlap = 0.5 * 300e3 * (15e-9 * atTurnOn * low + 20e-9 * atTurnOff * high);
        double conduction = number(figures, "steady_state.power.input") - number(figures, "steady_state.power.output");
        double total = conduction + overlap + 9e-9 * 5 * 300e3;
        assertThat(number(figures, "losses.total")).isCloseTo(total, within(1e-9 * total));
        double output = number(figures, "steady_state.power.output");
        assertThat(number(figures, "losses.efficiency")).isCloseTo(output / (output + total), within(1e-9));
        assertThat(number(figures, "losses.efficiency_over_load.linear_regulator_limit"))
                .isCloseTo(5.0 / 12, within(1e-12));
        assertThat((List<?>) Json.at(figures, "losses.efficiency_over_load.efficiency"))
                .hasSize(5);
        assertThat(Files.readString(out().resolve("efficiency.csv"))).hasLineCount(6);
        assertThat(out().resolve("losses.png")).isNotEmptyFile();
        assertThat(out().resolve("efficiency.svg")).isNotEmptyFile();
        assertThat(Files.readString(out().resolve("report.html"))).contains("<h2><bdi>Losses</bdi></h2>");
    }

    /** Left out, the loads go from a hundredth of the design's own to that, and the output is the design's. */
    @Test
    void theEfficiencyCurveBeginsAtAHundredthOfTheLoad() throws IOException {
        Map<String, Object> figures = figures(Designs.BUCK + "[losses]\nturn_on_time = \"10 ns\"\n", "--no-pictures");
        double own = number(figures, "steady_state.signals.load_current.mean");
        List<?> loads = (List<?>) Json.at(figures, "losses.efficiency_over_load.load_current");
        assertThat((Double) loads.get(0)).isCloseTo(own / 100, within(1e-6 * own));
        assertThat((Double) loads.get(loads.size() - 1)).isCloseTo(own, within(1e-6 * own));
        assertThat(number(figures, "losses.efficiency_over_load.output_voltage"))
                .isEqualTo(number(figures, "steady_state.signals.output_voltage.mean"));
    }

    @Test
    void aStudyWithoutAnswerSaysWhy() throws IOException {
        Map<String, Object> figures =
                figures(Designs.BUCK.replace("forward_drop", "kind = \"synchronous\"\n#") + """
                [sizing]
                input = { from = "9 V", to = "15 V" }
                load = { from = "50 mA", to = "200 A" }
                output_voltage = "5 V"
                inductor_ripple = 0.3
                output_ripple = "50 mV"
                """, "--no-pictures");
        assertThat(Json.valueAt(figures, "sizing")).isNull();
        assertThat(String.valueOf(Json.at(figures, "reason")))
                .contains("sizing: ")
                .doesNotContain("sizing: sizing: ")
                .contains("duty cycle");
    }

    /** A buck never puts out 50 V from 15 V: that is no map of one mode of conduction. */
    @Test
    void aMapWithoutAnyPointSaysSo() throws IOException {
        Path file = Designs.write(folder, "rail.toml", Designs.BUCK + """
                [map]
                across = { quantity = "load_current", from = "1 A", to = "2 A", points = 3 }
                up = { quantity = "input_voltage", from = "9 V", to = "15 V", points = 2 }
                output_voltage = "50 V"
                """);
        CommandRun run = CommandRun.of(file, "--into", folder.resolve("out"), "--no-pictures");
        assertThat(run.out())
                .contains("none of 6 points has a steady state; map.csv has the reason of each")
                .doesNotContain("one mode");
    }
}
