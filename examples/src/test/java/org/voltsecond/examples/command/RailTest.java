package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.examples.Json.at;
import static org.voltsecond.examples.Json.number;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A design file that says what a rail is to do. */
class RailTest {
    private static final String LOGIC = """
            name = "logic rail"
            [rail]
            input = { from = "9 V", to = "15 V", typical = "12 V" }
            output_voltage = "5 V"
            load = { from = "50 mA", to = "2 A" }
            switching_frequency = "300 kHz"
            inductor_ripple = 0.3
            output_ripple = "50 mV"
            [transistor]
            on_resistance = "80 mΩ"
            [rectifier]
            forward_drop = "0.4 V"
            resistance = "20 mΩ"
            [inductor]
            resistance = "30 mΩ"
            """;

    @TempDir
    private Path folder;

    private Path out() {
        return folder.resolve("out/rail");
    }

    private Map<String, Object> figures(String text, String... options) throws IOException {
        return CommandRun.figures(folder, text, options);
    }

    private String faults(String text) throws IOException {
        CommandRun run = CommandRun.of(Designs.write(folder, "rail.toml", text), "--into", folder.resolve("out"));
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(out()).doesNotExist();
        return String.join("\n", run.err());
    }

    @ParameterizedTest
    @CsvSource({
        "5 V, buck, diode, 5",
        "5 V, buck, synchronous, 5",
        "24 V, boost, diode, 24",
        "24 V, boost, synchronous, 24",
        "-5 V, inverting-buck-boost, diode, -5",
        "-12 V, inverting-buck-boost, synchronous, -12"
    })
    void theProposedDesignGivesTheOutputAndKeepsTheLimits(
            String wanted, String topology, String rectifier, double output) throws IOException {
        String text = LOGIC.replace("\"5 V\"", "\"" + wanted + "\"").replace("to = \"2 A\"", "to = \"0.5 A\"");
        boolean diode = rectifier.equals("diode");
        Map<String, Object> figures = figures(
                diode ? text : text.replace("forward_drop = \"0.4 V\"", "kind = \"synchronous\""), "--no-pictures");
        String design = Files.readString(out().resolve("design.toml"));
        assertThat(design).contains("topology = \"" + topology + "\"").contains("kind = \"" + rectifier + "\"");
        assertThat(number(figures, "steady_state.signals.output_voltage.mean"))
                // the duty cycle is written to six digits, and a stage that steps up makes 1 / (1 - D) of the last
                .isCloseTo(output, within(1e-5 * Math.abs(output)));
        assertThat(design).doesNotContainPattern("[0-9.]{9}");
        assertThat(at(figures, "sizing.passes")).isEqualTo(true);
        assertThat(at(figures, "name")).isEqualTo("logic rail");
        Map<?, ?> check = (Map<?, ?>) ((List<?>) at(figures, "checks")).get(0);
        assertThat(check.get("met")).isEqualTo(true);
        assertThat(number(figures, "map.failures")).isZero();
        assertThat(number(figures, "transient.final_time")).isPositive();
    }

    @ParameterizedTest
    @CsvSource({"5 V, 5", "24 V, 24", "-5 V, -5"})
    void aRegulatorIsProposedAsWell(String wanted, double output) throws IOException {
        Map<String, Object> figures = figures(
                LOGIC.replace("\"5 V\"", "\"" + wanted + "\"")
                        .replace("to = \"2 A\"", "to = \"0.5 A\"")
                        .replace("[transistor]", """
                                [rail.regulator]
                                phase_margin = 55
                                reference = "0.8 V"
                                [transistor]"""),
                "--no-pictures");
        String design = Files.readString(out().resolve("design.toml"));
        assertThat(design).contains("kind = \"voltage-mode\"", "reference = \"800 mV\"", "soft_start");
        // values are written to four digits
        assertThat(number(figures, "frequency_response.loop_gain.phase_margin")).isCloseTo(55, within(0.05));
        assertThat(number(figures, "steady_state.signals.output_voltage.mean"))
                .isCloseTo(output, within(2e-3 * Math.abs(output)));
        assertThat(at(figures, "loop_at_corners.stable")).isEqualTo(true);
        assertThat((List<?>) at(figures, "loop_at_corners.corners")).hasSize(4);
        assertThat(number(figures, "map.failures")).isZero();
        List<?> changes = (List<?>) at(figures, "transient.changes");
        assertThat(changes)
                .hasSize(2)
                .allSatisfy(change ->
                        assertThat(((Map<?, ?>) change).get("settling_time")).isInstanceOf(Double.class));
        assertThat(number(figures, "transient.start.settling_time")).isPositive();
    }

    @Test
    void aGivenCrossoverIsKept() throws IOException {
        String regulated = LOGIC + """
                [rail.regulator]
                crossover = "15 kHz"
                ramp = "2 V"
                soft_start = "3 ms"
                """;
        assertThat(faults(regulated.replace("15 kHz", "200 kHz").replace("3 ms", "-3 ms")))
                .contains("rail.regulator.soft_start");
        Map<String, Object> figures = figures(regulated, "--no-pictures");
        assertThat(number(figures, "frequency_response.loop_gain.crossover_frequency"))
                .isCloseTo(15e3, within(15.0));
        assertThat(number(figures, "frequency_response.loop_gain.phase_margin")).isCloseTo(60, within(0.05));
        assertThat(Files.readString(out().resolve("design.toml"))).contains("peak = \"2 V\"", "soft_start = \"3 ms\"");
    }

    @Test
    void aCrossoverThatCannotBeHadIsRefused() throws IOException {
        assertThat(faults(LOGIC + """
                [rail.regulator]
                crossover = "200 kHz"
                """))
                .contains("rail.toml:17: rail.regulator.crossover", "no design can be proposed")
                .contains("below half the switching frequency", "or no crossover for one that suits")
                .doesNotContain("sizing:");
    }

    /** 5 V from 5.2 V takes 96 % of the period and more: a limit that suits the typical input would leave no output there. */
    @Test
    void theRegulatorHasTheDutyCycleOfTheLowestInput() throws IOException {
        Map<String, Object> figures = figures(
                LOGIC.replace("\"9 V\"", "\"5.2 V\"")
                                .replace("\"2 A\"", "\"0.2 A\"")
                                .replace("forward_drop = \"0.4 V\"", "kind = \"synchronous\"")
                                .replace("inductor_ripple", "maximum_duty_cycle = 1\ninductor_ripple")
                        + "[rail.regulator]\n",
                "--no-pictures");
        assertThat(at(figures, "loop_at_corners.stable")).isEqualTo(true);
        assertThat(number(figures, "map.failures")).isZero();
        assertThat(Files.readString(out().resolve("figures.json")))
                .containsPattern("\"corners_not_reached\" ?: 0[\\s,}]");
        assertThat(Files.readString(out().resolve("design.toml"))).contains("maximum_duty_cycle = 0.98");
    }

    @Test
    void theLimitOfTheControllerIsThatOfTheRegulator() throws IOException {
        String limited = LOGIC.replace("inductor_ripple", "maximum_duty_cycle = 0.7\ninductor_ripple");
        figures(limited + "[rail.regulator]\n", "--no-pictures");
        assertThat(Files.readString(out().resolve("design.toml")).lines()).contains("maximum_duty_cycle = 0.7");
    }

    @Test
    void aLimitThatLeavesNoOutputIsRefused() throws IOException {
        String limited = LOGIC.replace("inductor_ripple", "maximum_duty_cycle = 0.3\ninductor_ripple");
        assertThat(faults(limited + "[rail.regulator]\n"))
                .contains(
                        "rail.toml:2: rail",
                        "largest duty cycle of 30.0 %",
                        "an output of at most 2.28 V",
                        "an input of at least 18.1 V");
    }

    /** 400 V from 10 V: 97 % of the period, of which a stage with resistances makes 81 V at the end of its own transient. */
    @Test
    void whatNoOneWouldBuildIsRefusedWithItsLimitAndWhatWouldBePossible() throws IOException {
        String boost = LOGIC.replace("\"5 V\"", "\"400 V\"")
                .replace("\"9 V\"", "\"10 V\"")
                .replace("to = \"2 A\"", "to = \"0.1 A\"")
                .replace("300 kHz", "100 kHz");
        assertThat(faults(boost))
                .contains(
                        "rail.toml:2: rail",
                        "largest duty cycle of 90.0 %",
                        "an input of 10.0 V takes a duty cycle of 97")
                .contains("possible at that limit: an output of at most 9", "maximum_duty_cycle");
        // (0.2 V + 0.5 V) / 15.3 V of a period of 2 us is some 92 ns
        assertThat(faults(LOGIC.replace("\"5 V\"", "\"0.2 V\"").replace("300 kHz", "500 kHz")))
                .contains("smallest duty cycle of 5", "shortest on-time of 100 ns", "a switching frequency of at most")
                .contains("an output of at least");
        assertThat(faults(LOGIC.replace("\"5 V\"", "\"8 V\"").replace("300 kHz", "3 MHz")))
                .contains("shortest off-time of 100 ns", "a switching frequency of at most");
        assertThat(faults(LOGIC.replace("inductor_ripple", "start_up_current = 1.01\ninductor_ripple")))
                .contains(
                        "current of a start-up of at most 1.01 times the peak of full load", "possible at that limit");
    }

    @Test
    void asksBesideARailGoIntoTheProposedDesign() throws IOException {
        String asked = LOGIC + """
                [rail.regulator]
                [limits]
                output_ripple = "60 mV"
                droop = "0.4 V"
                [transient]
                duration = "7 ms"
                [[transient.change]]
                time = "4 ms"
                load = { resistance = "5 Ω" }
                [[transient.change]]
                time = "5 ms"
                input = { voltage = "10 V" }
                [frequency_response]
                from = "200 Hz"
                to = "100 kHz"
                """;
        assertThat(faults(asked.replace("\"60 mV\"", "\"60 mA\""))).contains("limits.output_ripple");
        Map<String, Object> figures = figures(asked, "--no-pictures");
        assertThat(number(figures, "transient.final_time")).isEqualTo(7e-3);
        assertThat((List<?>) at(figures, "transient.changes")).hasSize(2);
        assertThat(Files.readString(out().resolve("design.toml")))
                .contains("droop = \"0.4 V\"", "from = \"200 Hz\"")
                .doesNotContain("output_ripple = \"50 mV\"\n\n[map]");
    }

    /** During its soft start a boost stage has more output than it is to have, and the control voltage must not run away. */
    @Test
    void aBoostStageComesToRestAfterItsStartAndEachStep() throws IOException {
        Map<String, Object> figures = figures(
                LOGIC.replace("output_voltage = \"5 V\"", "output_voltage = \"24 V\"")
                                .replace("to = \"2 A\"", "to = \"1 A\"")
                                .replace("from = \"50 mA\"", "from = \"200 mA\"")
                                .replace("50 mV", "100 mV")
                                .replace("300 kHz", "200 kHz")
                        + "[rail.regulator]\n",
                "--no-pictures");
        assertThat(number(figures, "transient.start.settling_time")).isPositive();
        List<?> changes = (List<?>) at(figures, "transient.changes");
        assertThat(changes)
                .hasSize(2)
                .allSatisfy(change ->
                        assertThat(((Map<?, ?>) change).get("settling_time")).isInstanceOf(Double.class));
        assertThat(Files.readString(out().resolve("design.toml")))
                .contains("control_limits = { low = \"0 V\", high = \"1 V\" }", "kind = \"type-1\"")
                .doesNotContain("settles slowly");
    }

    @Test
    void lossesAndTolerancesGoIntoTheProposedDesign() throws IOException {
        String asked = LOGIC + """
                [losses]
                turn_on_time = "15 ns"
                core = { k = 0.25, alpha = 1.6, beta = 2.5, cross_section = 12e-6, volume = 0.4e-6, turns = 12 }
                [tolerance]
                designs = 200
                [tolerance.values]
                inductance = 0.2
                output_capacitance = { share = 0.2, distribution = "normal" }
                """;
        Map<String, Object> figures = figures(asked, "--no-pictures");
        assertThat(number(figures, "losses.efficiency"))
                .isPositive()
                .isLessThan(number(figures, "steady_state.power.efficiency"));
        assertThat(at(figures, "tolerance")).isNotNull();
        assertThat(Files.readString(out().resolve("design.toml")))
                .contains(
                        "[losses]\nturn_on_time = \"15 ns\"", "[losses.core]", "[tolerance.values]\ninductance = 0.2");
    }

    @Test
    void faultsOfThoseTablesAreToldWhereTheyStand() throws IOException {
        assertThat(faults(LOGIC + """
                [losses]
                turn_on_time = "15 mV"
                [tolerance]
                [tolerance.values]
                inductance = -0.2
                """))
                .contains("rail.toml:17: losses.turn_on_time", "rail.toml:20: tolerance.values.inductance");
    }

    @Test
    void aRangeThatRunsBackwardsIsToldAsSuch() throws IOException {
        assertThat(faults(LOGIC.replace(
                        "from = \"9 V\", to = \"15 V\", typical = \"12 V\"", "from = \"15 V\", to = \"9 V\"")))
                .contains("rail.toml:3: rail.input.from", "lies above the other end")
                .doesNotContain("typical");
    }

    /** S. Franco, Design with Operational Amplifiers, ch. 11: duty cycle V_out / V_in; a linear regulator V_out / V_in as well. */
    @Test
    void whatThereWasToChooseFromIsTold() throws IOException {
        Map<String, Object> figures = figures(LOGIC);
        assertThat(number(figures, "sizing.linear_regulator.lowest_efficiency")).isCloseTo(1.0 / 3, within(1e-15));
        assertThat(number(figures, "sizing.linear_regulator.heat")).isCloseTo(20, within(1e-12));
        List<?> stages = (List<?>) at(figures, "sizing.stages");
        assertThat(stages).hasSize(7);
        assertThat(((Map<?, ?>) stages.get(0)).get("highest_duty_cycle")).isEqualTo(5.0 / 9);
        assertThat(((Map<?, ?>) stages.get(1)).get("possible")).isEqualTo(false);
        assertThat(Files.readString(out().resolve("report.html"))).contains("Which stage", "its output is below 0 V");
    }

    @Test
    void theProposedDesignIsADesignFile() throws IOException {
        figures(LOGIC, "--no-pictures");
        String once = Files.readString(out().resolve("figures.json"));
        figures(Files.readString(out().resolve("design.toml")), "--no-pictures");
        assertThat(Files.readString(out().resolve("figures.json"))).isEqualTo(once);
    }

    @Test
    void anyNameComesThrough() throws IOException {
        String hostile = "a \\\"quoted\\\" \\\\ name\\n<b>\\u0007 \\u202Eturned";
        Map<String, Object> figures = figures(LOGIC.replace("logic rail", hostile), "--no-pictures");
        assertThat(at(figures, "name")).isEqualTo("a \"quoted\" \\ name\n<b>\u0007 \u202Eturned");
    }

    @Test
    void limitsOfTheControllerComeThrough() throws IOException {
        Map<String, Object> figures = figures(LOGIC.replace("inductor_ripple", """
                                maximum_duty_cycle = 0.62
                                shortest_off_time = "50 ns"
                                shortest_on_time = "200 ns"
                                inductor_peak = "2 A"
                                capacitive_share = 0.7
                                inductor_ripple"""), "--no-pictures");
        assertThat(Files.readString(out().resolve("design.toml")))
                .contains(
                        "maximum_duty_cycle = 0.62",
                        "shortest_on_time = \"200 ns\"",
                        "shortest_off_time = \"50 ns\"",
                        "inductor_peak = \"2 A\"",
                        "0.7");
        // 2 A of load and half of the ripple
        assertThat(at(figures, "sizing.passes")).isEqualTo(false);
        assertThat(at(figures, "sizing.binding.limit")).isEqualTo("inductor peak");
    }

    @Test
    void oneInputAndOneLoadNeedNoMap() throws IOException {
        Map<String, Object> figures = figures(
                LOGIC.replace("from = \"9 V\", to = \"15 V\", typical = \"12 V\"", "from = \"12 V\", to = \"12 V\""),
                "--no-pictures");
        assertThat(figures).doesNotContainKey("map");
        assertThat(number(figures, "steady_state.signals.transistor_voltage.maximum"))
                .isGreaterThan(12);
    }

    /** The input lies on both sides of the output: a SEPIC, with a regulator the four-switch stage, or the stage that is named. */
    @ParameterizedTest
    @CsvSource({"'', SEPIC", "zeta, zeta", "four-switch-buck-boost, four-switch buck-boost"})
    void anInputOnBothSidesOfTheOutput(String asked, String stage) throws IOException {
        Map<String, Object> figures = figures(
                LOGIC.replace("[rail]", "[rail]" + (asked.isEmpty() ? "" : "\ntopology = \"" + asked + "\""))
                        .replace("output_voltage = \"5 V\"", "output_voltage = \"12 V\"")
                        .replace("{ from = \"50 mA\", to = \"2 A\" }", "{ from = \"1 A\", to = \"1 A\" }"),
                "--no-pictures");
        assertThat(number(figures, "steady_state.signals.output_voltage.mean")).isCloseTo(12, within(0.012));
        assertThat(figures.toString()).contains("passes=true");
        assertThat(Files.readString(out().resolve("design.toml")))
                .contains(stage.toLowerCase(Locale.ROOT).replace(' ', '-'));
    }

    @Test
    void whatNoStageGivesIsRefused() throws IOException {
        assertThat(faults(LOGIC.replace("[rail]", "[rail]\ntopology = \"buck\"")
                        .replace("output_voltage = \"5 V\"", "output_voltage = \"12 V\"")))
                .contains("rail.toml:", "12 V is out of reach of a buck stage", "SEPIC stage");
        assertThat(faults(LOGIC.replace("output_voltage = \"5 V\"", "output_voltage = 0")))
                .contains("rail.toml:", "not 0 V");
    }

    @Test
    void allFaultsAtOnceWithTheirLines() throws IOException {
        String err = faults("""
                [rail]
                input = { from = "9 V", to = "15 V", typical = "20 V" }
                load = { from = "50 mA" }
                switching_frequency = "-1 Hz"
                inductor_ripple = 3
                output_riple = "50 mV"
                [inductor]
                inductance = "22 µH"
                [stage]
                topology = "buck"
                """);
        assertThat(err.lines())
                .anyMatch(line -> line.contains(":2: rail.input.typical") && line.contains("outside the range"))
                .anyMatch(line -> line.contains(":3: rail.load.to") && line.contains("missing"))
                .anyMatch(line -> line.contains(":4: rail.switching_frequency"))
                .anyMatch(line -> line.contains(":5: rail.inductor_ripple"))
                .anyMatch(line -> line.contains(":6: rail.output_riple") && line.contains("output_ripple"))
                .anyMatch(line -> line.contains("rail.output_voltage") && line.contains("missing"))
                .anyMatch(line -> line.contains(":8: inductor.inductance") && line.contains("unknown key"))
                .anyMatch(line -> line.contains(":9: stage") && line.contains("beside [rail]"));
    }
}
