package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.losses.DeadTimeLoss;
import org.voltsecond.losses.GateChargeLoss;
import org.voltsecond.losses.OverlapLoss;
import org.voltsecond.sizing.Specification;
import org.voltsecond.study.Tolerance;

/** The tables [losses], [map], [tolerance] and [sizing] of a design file. */
class StudyTablesTest {
    /** Seven lines. */
    private static final String STAGE = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH", resistance = "30 mΩ" }
            output_capacitor = { capacitance = "47 µF" }
            rectifier = { forward_drop = "0.4 V" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            """;

    private static final String REGULATED = STAGE.substring(0, STAGE.indexOf("drive")) + """
            drive = { kind = "peak-current-mode", switching_frequency = "300 kHz", current_command = "1 A" }
            """;

    private static StudyPlans plans(String text) throws DesignException {
        return DesignFile.parse("f", "f", STAGE + text).studies();
    }

    @Test
    void noneIsAskedForWithoutThem() throws DesignException {
        assertThat(plans("")).isEqualTo(StudyPlans.NONE);
    }

    @Test
    void mapIsRead() throws DesignException {
        MapPlan map = Objects.requireNonNull(plans("""
                [map]
                across = { quantity = "load_current", from = "5 mA", to = "2 A", points = 4 }
                up = { quantity = "input_voltage", from = "9 V", to = 15, points = 3 }
                output_voltage = "5 V"
                figures = ["efficiency", "inductor_peak"]
                """).map());
        assertThat(map.across().values()).hasSize(4).startsWith(5e-3).endsWith(2.0);
        assertThat(map.across().values().get(1)).isCloseTo(5e-3 * Math.cbrt(400), within(1e-12));
        assertThat(map.up().values()).containsExactly(9.0, 12.0, 15.0);
        assertThat(map.outputVoltage()).isEqualTo(5);
        assertThat(map.figures().values()).containsExactly(Figures.EFFICIENCY, Figures.INDUCTOR_PEAK);
    }

    @Test
    void allFaultsOfAMapAreToldAtOnce() {
        List<String> faults = Refused.faults(STAGE + """
                [map]
                across = { quantity = "load_curent", from = "5 mA", to = "2 A" }
                up = { quantity = "input_voltage", from = "15 V", to = "9 V", points = 1, spacing = "log" }
                output_voltage = "0 V"
                figures = ["efficiency", "efficiency", "peak"]
                colour = 3
                """);
        assertThat(faults)
                .hasSize(8)
                .anyMatch(
                        f -> f.startsWith("rail.toml:9: map.across.quantity: ") && f.contains("nearest: load_current"))
                .anyMatch(f -> f.startsWith("rail.toml:10: map.up.points: out of range: "))
                .anyMatch(f -> f.startsWith("rail.toml:10: map.up.spacing: ") && f.contains("valid: factors, steps"))
                .anyMatch(f -> f.startsWith("rail.toml:11: map.output_voltage: out of range"))
                .anyMatch(f -> f.startsWith("rail.toml:12: map.figures[2]: given twice: efficiency"))
                .anyMatch(f -> f.startsWith("rail.toml:12: map.figures[3]: unknown: \"peak\""))
                .anyMatch(f -> f.startsWith("rail.toml:13: map.colour: unknown key"));
    }

    @Test
    void faultsOfTheStageDoNotHideThoseOfItsStudies() {
        List<String> faults = Refused.faults(STAGE.replace("22 µH", "-1 µH") + """
                tolerance = { values = { inductance = 3 } }
                losses = { gate_charge = "9 nC" }
                sizing = { output_voltage = "5 V" }
                """);
        assertThat(faults)
                .anyMatch(f -> f.contains("inductor.inductance: out of range"))
                .anyMatch(f -> f.contains("tolerance.values.inductance: out of range"))
                .anyMatch(f -> f.contains("losses.gate_voltage: missing beside its counterpart"))
                .anyMatch(f -> f.contains("sizing.input: missing table"));
    }

    @Test
    void whatTheRegulatorSetsIsNoAxis() {
        String up = "up = { quantity = \"input_voltage\", from = 9, to = 15 }\n";
        assertThat(Refused.only(
                        REGULATED + "[map]\n" + up + "across = { quantity = \"duty_cycle\", from = 0.1, to = 0.9 }\n"))
                .contains("map.across.quantity: the regulator sets the duty cycle itself");
        assertThat(Refused.only(REGULATED + "[map]\noutput_voltage = 5\n" + up
                        + "across = { quantity = \"load_current\", from = 0.1, to = 0.9, points = 9 }\n"))
                .contains("map.output_voltage: is held by the regulator already");
        assertThat(Refused.only(REGULATED + "[map]\n" + up
                        + "across = { quantity = \"load_current\", from = 0.1, to = 0.9, points = 99 }\n"))
                .contains("99 x 61 points, more than 2500 where each takes a search");
        String fine = up.replace("to = 15", "to = 15, points = 201")
                + "across = { quantity = \"load_current\", from = 0.1, to = 0.9, points = 200 }\n";
        assertThat(Refused.only(STAGE + "[losses]\nturn_on_time = \"15 ns\"\n[map]\n" + fine))
                .contains("200 x 201 points, more than 40000 where each counts all losses");
    }

    @Test
    void axesMustDifferAndLeaveTheHeldOutputAlone() {
        String across = "across = { quantity = \"load_current\", from = 0.1, to = 1 }\n";
        assertThat(Refused.only(
                        STAGE + "[map]\n" + across + "up = { quantity = \"load_resistance\", from = 1, to = 9 }\n"))
                .contains("map.up: changes what [map.across] changes");
        assertThat(Refused.only(STAGE + "[map]\noutput_voltage = 5\n" + across
                        + "up = { quantity = \"duty_cycle\", from = 0.1, to = 0.9 }\n"))
                .contains("map.output_voltage: cannot be held where duty_cycle is an axis");
        assertThat(Refused.only(
                        STAGE + "[map]\n" + across + "up = { quantity = \"input_voltage\", from = 9, to = 9 }\n"))
                .contains("map.up.to: must be above from = 9 V but is 9 V");
        assertThat(Refused.only(STAGE + "[map]\n" + across.replace("0.1", "0.0")
                        + "up = { quantity = \"input_voltage\", from = 9, to = 15 }\n"))
                .contains("map.across.from: out of range");
    }

    @Test
    void tolerancesAreRead() throws DesignException {
        TolerancePlan plan = Objects.requireNonNull(plans("""
                [tolerance]
                designs = 500
                seed = 7
                distribution = "normal"
                [tolerance.values]
                inductance = 0.2
                forward_drop = { half_width = "60 mV", distribution = "uniform" }
                """).tolerance());
        assertThat(plan.designs()).isEqualTo(500);
        assertThat(plan.seed()).isEqualTo(7);
        assertThat(plan.tolerances())
                .containsExactly(
                        new Tolerance(StageValue.FORWARD_DROP, 0.06, Tolerance.Distribution.UNIFORM),
                        new Tolerance(StageValue.INDUCTANCE, 0.2 * 22e-6, Tolerance.Distribution.NORMAL));
    }

    @Test
    void badTolerancesAreAllToldAtOnce() {
        List<String> faults = Refused.faults(STAGE + """
                [tolerance]
                designs = 2000000
                seed = -1
                distribution = "gaussian"
                [tolerance.values]
                inductance = "20 µH"
                load_current = 0.1
                forward_drop = { half_width = "60 mV", share = 0.1 }
                output_capacitance = { shar = 0.1 }
                """);
        assertThat(faults)
                .anyMatch(f -> f.startsWith("rail.toml:9: tolerance.designs: must be at most 1000000"))
                .anyMatch(f -> f.startsWith("rail.toml:10: tolerance.seed: "))
                .anyMatch(f -> f.startsWith("rail.toml:11: tolerance.distribution: "))
                .anyMatch(f -> f.startsWith("rail.toml:13: tolerance.values.inductance: "))
                .anyMatch(f -> f.startsWith("rail.toml:14: tolerance.values.load_current: unknown key"))
                .anyMatch(f -> f.startsWith("rail.toml:15: tolerance.values.forward_drop.share: is given beside"))
                .anyMatch(f -> f.contains("output_capacitance.share: missing"))
                .anyMatch(f -> f.contains("output_capacitance.shar: unknown key; nearest known key: share"))
                .hasSize(8);
        assertThat(Refused.only(STAGE + "[tolerance]\n")).contains("tolerance.values: missing table");
        assertThat(Refused.only(STAGE + "[tolerance.values]\n")).contains("tolerance.values: names no value");
    }

    @Test
    void sizingTakesStageFrequencyAndDropsFromTheDesign() throws DesignException {
        Specification sizing = Objects.requireNonNull(plans("""
                [sizing]
                input = { from = "9 V", to = "15 V" }
                load = { from = "50 mA", to = "2 A" }
                output_voltage = "5 V"
                inductor_ripple = 0.3
                output_ripple = "50 mV"
                maximum_duty_cycle = 0.9
                """).sizing());
        assertThat(sizing.switchingFrequency()).isEqualTo(300e3);
        assertThat(sizing.parts().forwardDrop()).isEqualTo(0.4);
        assertThat(sizing.parts().inductorResistance()).isEqualTo(0.03);
        assertThat(sizing.input().high()).isEqualTo(15);
        assertThat(sizing.limits().dutyCycle()).isEqualTo(0.9);
        assertThat(sizing.limits().inductorPeak()).isInfinite();
    }

    @Test
    void aSizingThatCannotBeIsRefused() {
        String rest = "load = { from = 0.1, to = 2 }\ninductor_ripple = 0.3\noutput_ripple = 0.05\n";
        assertThat(Refused.only(STAGE + "[sizing]\noutput_voltage = 10\ninput = { from = 9, to = 15 }\n" + rest))
                .startsWith(
                        "rail.toml:8: sizing: output voltage of 10 V is out of reach of a buck stage: its output is above 0 V and below");
        assertThat(Refused.only(STAGE + "[sizing]\noutput_voltage = 5\ninput = { from = 15, to = 9 }\n" + rest))
                .contains("sizing: lowest input voltage of 15.0 V must not be above");
    }

    @Test
    void lossesAreRead() throws DesignException {
        LossPlan losses = Objects.requireNonNull(plans("""
                [losses]
                turn_on_time = "15 ns"
                turn_off_time = "20 ns"
                gate_charge = "9 nC"
                gate_voltage = "5 V"
                load = { from = "5 mA", to = "2 A" }
                points = 9
                """).losses());
        assertThat(losses.models()).containsExactly(new OverlapLoss(15e-9, 20e-9), new GateChargeLoss(9e-9, 5));
        assertThat(losses.lowestLoad()).isEqualTo(5e-3);
        assertThat(losses.points()).isEqualTo(9);
        assertThat(losses.outputVoltage()).isNaN();
    }

    @Test
    void badLossesAreAllToldAtOnce() {
        List<String> faults = Refused.faults(STAGE + """
                [losses]
                turn_on_time = "-1 ns"
                points = 501
                load = { from = "2 A", to = "1 A" }
                core = { k = 0.25, alpha = 1.6, beta = 1.5, cross_section = 12e-6, volume = 0.4e-6 }
                dead_time = { before_turn_on = "20 ns", after_turn_off = "20 ns", forward_drop = "0.8 V" }
                """);
        assertThat(faults)
                .hasSize(6)
                .anyMatch(f -> f.startsWith("rail.toml:9: losses.turn_on_time: out of range"))
                .anyMatch(f -> f.startsWith("rail.toml:10: losses.points: out of range: 501; valid: 2 to 500"))
                .anyMatch(f -> f.startsWith("rail.toml:11: losses.load.to: must be above from = 2 A"))
                .anyMatch(f -> f.startsWith("rail.toml:12: losses.core.beta: must not be less than alpha"))
                .anyMatch(f -> f.startsWith("rail.toml:12: losses.core.turns: missing"))
                .anyMatch(f -> f.startsWith("rail.toml:13: losses.dead_time: is for a synchronous rectifier"));
    }

    @Test
    void deadTimesKeepTheirSides() throws DesignException {
        String synchronous = STAGE.replace("{ forward_drop = \"0.4 V\" }", "{ kind = \"synchronous\" }") + """
                [losses]
                dead_time = { before_turn_on = "20 ns", after_turn_off = "35 ns", forward_drop = "0.8 V" }
                """;
        LossPlan losses = Objects.requireNonNull(
                DesignFile.parse("f", "f", synchronous).studies().losses());
        assertThat(losses.models()).containsExactly(new DeadTimeLoss(20e-9, 35e-9, 0.8, 0));
    }

    @Test
    void anAxisThatEndsWhereItBeginsIsRefused() {
        assertThat(Refused.faults(STAGE + """
                [map]
                across = { quantity = "load_current", from = "1 A", to = "1 A" }
                up = { quantity = "input_voltage", from = "9 V", to = "15 V" }
                """)).anyMatch(f -> f.contains("map.across.to: must be above from = 1 A"));
    }

    /** A choke of 22 µH ± 30 µH would be drawn with inductances below zero. */
    @Test
    void aHalfWidthReachesNoFurtherThanToZero() {
        assertThat(Refused.faults(STAGE + """
                [tolerance.values]
                inductance = { half_width = "30 µH" }
                """))
                .singleElement()
                .asString()
                .contains("half_width: 30 µH to either side takes a nominal value of 22 µH below zero");
    }
}
