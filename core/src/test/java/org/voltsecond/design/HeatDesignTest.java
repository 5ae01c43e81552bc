package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.FigureSheet;
import org.voltsecond.figures.HeatFigures;
import org.voltsecond.figures.Limit;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.LimitChecks;
import org.voltsecond.losses.CapacitorStress;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.losses.HeatedBody;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.WoundCore;

/** The table [heat] of a design file, with stages and circuits of all kinds. */
class HeatDesignTest {
    private static final String BUCK = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH", resistance = "30 mΩ" }
            output_capacitor = { capacitance = "47 µF", resistance = "5 mΩ" }
            transistor = { on_resistance = "80 mΩ" }
            rectifier = { forward_drop = "0.4 V", resistance = "20 mΩ" }
            load = { current = "2 A" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            """;

    private static Design design(String text) throws DesignException {
        return DesignFile.parse("f", "f", text);
    }

    private static HeatBalance balance(Design design) {
        return Objects.requireNonNull(design.studies().heat())
                .balance(design.converter().steadyState())
                .get();
    }

    private static double of(Map<String, Double> powers, String part) {
        return Objects.requireNonNull(powers.get(part), part);
    }

    /** Closed for ever, the transistor carries 2 A: T = (Ta + R P (1 - a T0)) / (1 - a R P). */
    @Test
    void aWayInPiecesIsTheirSum() throws DesignException {
        HeatBalance balance = balance(design(BUCK.replace("0.45", "1") + """
                [heat]
                ambient = 40
                [heat.sinks.S1]
                thermal_resistance = "20 K/W"
                [heat.parts.transistor]
                junction_to_case = "2 K/W"
                case_to_sink = "0.5 K/W"
                sink = "S1"
                temperature_coefficient = "0.006 1/K"
                [heat.parts.inductor]
                thermal_resistance = "50 K/W"
                reference_temperature = "25 °C"
                """));
        double watt = 0.08 * 4;
        double transistor = (40 + 22.5 * watt * (1 - 0.006 * 25)) / (1 - 0.006 * 22.5 * watt);
        assertThat(balance.temperature("Q1")).isCloseTo(transistor, within(1e-9));
        assertThat(balance.sinkTemperatures().get("S1")).isCloseTo(40 + 20 * (transistor - 40) / 22.5, within(1e-9));
        double copper = 0.00393 / (1 + 0.00393 * 5);
        double winding = (40 + 50 * 0.12 * (1 - copper * 25)) / (1 - copper * 50 * 0.12);
        assertThat(balance.temperature("L1")).isCloseTo(winding, within(1e-9));
    }

    /** A word stands for each part that does it; a transformer is one body, heated by its windings and by the core of LM. */
    @Test
    void wordsStandForPartsOfEveryStage() throws DesignException {
        HeatBalance phases =
                balance(design(BUCK.replace("topology = \"buck\"", "topology = \"buck\", phases = 3") + """
                [heat]
                ambient = 40
                parts = { transistor = { thermal_resistance = 30 }, inductor = { thermal_resistance = 30 } }
                """));
        assertThat(phases.temperatures()).containsOnlyKeys("Q1", "Q2", "Q3", "L1", "L2", "L3");
        assertThat(phases.temperature("Q2")).isCloseTo(phases.temperature("Q1"), within(1e-6));
        Design flyback = design("""
                stage = { topology = "flyback" }
                input = { voltage = "24 V" }
                transformer = { turns = { primary = 3, secondary = 1 }, magnetizing_inductance = "60 µH", primary_resistance = "40 mΩ", secondary_resistance = "8 mΩ" }
                output_capacitor = { capacitance = "470 µF", resistance = "5 mΩ" }
                transistor = { on_resistance = "80 mΩ" }
                rectifier = { forward_drop = "0.4 V" }
                load = { resistance = "2.5 Ω" }
                drive = { kind = "fixed-duty", duty_cycle = 0.4, switching_frequency = "100 kHz" }
                [losses.parts."T1.primary1".core]
                k = 0.25
                alpha = 1.6
                beta = 2.5
                cross_section = 50e-6
                volume = 2e-6
                turns = 24
                [heat]
                ambient = 30
                parts = { transformer = { thermal_resistance = 20 } }
                """.replace("T1.primary1", "T1.primary"));
        HeatBalance balance = balance(flyback);
        ConverterSteadyState hot = balance.steady();
        double core = of(
                Objects.requireNonNull(flyback.studies().losses())
                        .models()
                        .get(0)
                        .powers(hot),
                "LM");
        double windings = of(hot.lossesByPart(), "T1");
        assertThat(core).isGreaterThan(0.01);
        assertThat(balance.temperature("T1")).isCloseTo(30 + 20 * (core + windings), within(1e-8));
        double cold = of(flyback.converter().steadyState().lossesByPart(), "T1");
        assertThat(windings / cold)
                .isCloseTo(1 + 0.00393 * (balance.temperature("T1") - 20), within(0.02)); // the current hardly changes
    }

    /** Each stage with what has a word; what heats the parts is what the temperatures say. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "boost",
                "inverting-buck-boost",
                "sepic",
                "cuk",
                "zeta",
                "four-switch-buck-boost",
                "forward",
                "two-switch-forward",
                "push-pull",
                "half-bridge",
                "full-bridge"
            })
    void everyStageHasTemperatures(String topology) throws DesignException {
        String two = topology.matches("sepic|cuk|zeta") ? """
                second_inductor = { inductance = "22 µH", resistance = "30 mΩ" }
                coupling_capacitor = { capacitance = "22 µF", resistance = "5 mΩ" }
                """ : "";
        String more = two.isEmpty() ? "" : """
                second_inductor = { thermal_resistance = 40 }
                coupling_capacitor = { thermal_resistance = 40, rated_ripple_current = "3 A" }
                """.replace("\n", ", ");
        if (topology.matches("forward|two-switch-forward|push-pull|.*-bridge")) {
            String reset = topology.equals("forward") ? ", reset = 1" : "";
            two = "transformer = { turns = { primary = 1, secondary = 1" + reset
                    + " }, magnetizing_inductance = \"500 µH\","
                    + " primary_resistance = \"40 mΩ\", secondary_resistance = \"40 mΩ\" }\n";
            more = " transformer = { thermal_resistance = 40 },";
        }
        Design design = design(BUCK.replace("\"buck\"", '"' + topology + '"').replace("2 A", "0.5 A") + two
                + "heat = { ambient = 40, parts = { transistor = { thermal_resistance = 40, temperature_coefficient = 0.005 },"
                + " rectifier = { thermal_resistance = 40, forward_drop_coefficient = -0.001 }, " + more
                + " inductor = { thermal_resistance = 40 } } }\n");
        HeatBalance balance = balance(design);
        assertThat(balance.temperatures()).hasSizeGreaterThanOrEqualTo(3);
        Map<String, Double> heat = balance.steady().lossesByPart();
        assertThat(balance.temperatures().containsKey("T1")).isEqualTo(two.contains("transformer"));
        balance.temperatures()
                .forEach((part, temperature) -> assertThat(temperature)
                        .as(part)
                        .isCloseTo(40 + 40 * of(heat, part), within(1e-7))
                        .isGreaterThan(40));
    }

    private static final String OWN = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "C9", kind = "capacitor", between = ["in", "ground"], capacitance = "10 µF", resistance = "20 mΩ" },
                { name = "Q7", kind = "switch", between = ["in", "sw"], on_resistance = "80 mΩ" },
                { name = "D7", kind = "rectifier", between = ["ground", "sw"], forward_drop = "0.4 V" },
                { name = "L7", kind = "inductor", between = ["sw", "out"], inductance = "22 µH", resistance = "30 mΩ" },
                { name = "C7", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF" },
                { name = "R7", kind = "resistor", between = ["out", "ground"], resistance = "2.5 Ω" },
            ]
            output = { between = ["out", "ground"] }
            drive = { kind = "voltage-mode", switches = ["Q7"], switching_frequency = "300 kHz", reference = "1 V", divider = 0.2, ramp = { valley = "0 V", peak = "1 V" }, maximum_duty_cycle = 0.95, compensator = { kind = "type-2", integrator_gain = 1500, zero = "4557 Hz", pole = "100 kHz" } }
            [losses.parts.L7]
            core = { cross_section = 12e-6, turns = 12 }
            [heat]
            ambient = "40 °C"
            [heat.parts.Q7]
            thermal_resistance = "60 K/W"
            resistance_over_temperature = [ { temperature = 25, factor = 1 }, { temperature = 125, factor = 1.6 } ]
            maximum_temperature = "125 °C"
            [heat.parts.C7]
            rated_ripple_current = "0.2 A"
            rated_rise = "5 K"
            rated_hours = 2000
            rated_temperature = "105 °C"
            """;

    /** Regulated, with a core that is given without its loss. */
    @Test
    void aCircuitOfOnesOwnHasThemByTheNamesOfItsParts() throws DesignException {
        Design design = design(OWN);
        HeatBalance balance = balance(design);
        double heat = of(balance.steady().lossesByPart(), "Q7");
        double cold = of(design.converter().steadyState().lossesByPart(), "Q7");
        assertThat(balance.temperature("Q7")).isCloseTo(40 + 60 * heat, within(1e-7));
        assertThat(heat / cold).isCloseTo(1 + 0.006 * (balance.temperature("Q7") - 25), within(1e-2));
        assertThat(balance.steady().regulation().orElseThrow().inRegulation()).isTrue();
        FigureSheet<HeatBalance> sheet = FigureSheet.of(balance);
        assertThat(sheet.get(HeatFigures.EFFICIENCY).get())
                .isEqualTo(LossBudget.of(balance.steady(), List.of()).efficiency());
        CapacitorStress output = balance.capacitors().get(1);
        assertThat(output.part()).isEqualTo("C7");
        double rms = balance.steady()
                .of(balance.steady().converter().driven().current("C7"))
                .acRms();
        assertThat(output.current().rms()).isCloseTo(rms, within(1e-12));
        assertThat(output.hotSpot().get()).isCloseTo(40 + 5 * rms * rms / 0.04, within(1e-9));
        assertThat(Objects.requireNonNull(design.studies().losses()).models()).isEmpty();
    }

    @Test
    void limitsAreHeldAgainstTemperaturesAndFlux() throws DesignException {
        Design design = design(OWN);
        HeatModel heat = Objects.requireNonNull(design.studies().heat());
        List<WoundCore> cores =
                Objects.requireNonNull(design.studies().losses()).cores();
        LimitChecks checks = LimitChecks.of(design.converter())
                .with(HeatFigures.limits(heat, design.converter()))
                .withCores(cores);
        double hot = balance(design).temperature("Q7");
        LimitCheck junction = checks.check(Limit.JUNCTION_TEMPERATURE, hot + 10);
        assertThat(junction.margin().get()).isCloseTo(10, within(1e-9));
        assertThat(junction.verdict()).isEqualTo("met, 10.00 K to spare");
        assertThat(checks.check(Limit.JUNCTION_TEMPERATURE, hot - 1).isMet()).isFalse();
        double peak = design.converter()
                .steadyState()
                .of(design.converter().inductorCurrent())
                .maximum();
        LimitCheck flux = checks.check(Limit.FLUX_DENSITY, 0.4);
        assertThat(flux.value().get()).isCloseTo(22e-6 * peak / (12 * 12e-6), within(1e-12));
        assertThat(checks.check(Limit.RIPPLE_CURRENT_SHARE, 1).value().get())
                .isEqualTo(balance(design).capacitors().get(1).share().get());
        assertThat(checks.check(Limit.WINDING_TEMPERATURE, 100).verdict())
                .startsWith("not checked: no thermal resistance");
        // under runaway nothing is met
        HeatModel runaway = HeatModel.at(
                40,
                HeatedBody.of("Q7", 1e4)
                        .withResistance(
                                Objects.requireNonNull(heat.bodies().get(0).curve())));
        LimitCheck none = LimitChecks.of(design.converter())
                .with(HeatFigures.limits(runaway, design.converter()))
                .check(Limit.JUNCTION_TEMPERATURE, 1000);
        assertThat(none.isKnown()).isTrue();
        assertThat(none.isMet()).isFalse();
        assertThat(none.verdict()).startsWith("not met: ").contains("thermal runaway");
    }

    /** The table goes over into the design that is proposed. */
    @Test
    void aProposedRailKeepsItsTemperatures() throws DesignException {
        Design proposed = design(DesignFile.completed("f", "f", """
                [rail]
                input = { from = "9 V", to = "15 V" }
                output_voltage = "5 V"
                load = { from = "0.2 A", to = "2 A" }
                switching_frequency = "300 kHz"
                inductor_ripple = 0.3
                output_ripple = "50 mV"
                [heat]
                ambient = "50 °C"
                [heat.sinks.S1]
                thermal_resistance = "5 K/W"
                [heat.parts.transistor]
                thermal_resistance = "55 K/W"
                sink = "S1"
                resistance_over_temperature = [ { temperature = 25, factor = 1 }, { temperature = 75, factor = 1.25 } ]
                """));
        HeatModel heat = Objects.requireNonNull(proposed.studies().heat());
        assertThat(heat.ambient()).isEqualTo(50);
        assertThat(heat.sinks()).containsEntry("S1", 5.0);
        HeatedBody transistor = heat.bodies().get(0);
        assertThat(transistor.name()).isEqualTo("Q1");
        assertThat(Objects.requireNonNull(transistor.curve()).factorAt(75)).isEqualTo(1.25);
    }

    @Test
    void allFaultsAreToldAtOnce() {
        List<String> faults = Refused.faults(BUCK + """
                [heat]
                sinks = { S1 = { thermal_resistance = "0 K/W" } }
                colour = 1
                [heat.parts.transistr]
                thermal_resistance = "40 K/W"
                [heat.parts.Q1]
                thermal_resistance = "40 K/W"
                junction_to_case = "1 K/W"
                sink = "S2"
                temperature_coefficient = "0.006 1/K"
                resistance_over_temperature = [ { temperature = 25, factor = 1 }, { temperature = 20, factor = -1 } ]
                [heat.parts.inductor]
                ambient = 3
                forward_drop_coefficient = "1 mV"
                rated_hours = 100
                [heat.parts.C1]
                rated_rise = "5 K"
                ripple_factors = [ { frequency = "100 Hz", factor = 1 }, { frequency = "10 Hz", factor = 1 } ]
                maximum_temperature = "-300 °C"
                """);
        assertThat(faults)
                .anyMatch(f -> f.startsWith("rail.toml:9: heat.ambient: missing"))
                .anyMatch(f -> f.startsWith("rail.toml:10: heat.sinks.S1.thermal_resistance: out of range"))
                .anyMatch(f -> f.startsWith("rail.toml:11: heat.colour: unknown key"))
                .anyMatch(
                        f -> f.startsWith("rail.toml:15: heat.parts.Q1.thermal_resistance: is the whole thermal path"))
                .anyMatch(f -> f.startsWith("rail.toml:17: heat.parts.Q1.sink: is not in the table [heat.sinks]"))
                .anyMatch(f -> f.contains("resistance_over_temperature") && f.contains("out of range: -1"))
                .anyMatch(f -> f.contains("heat.parts.inductor.forward_drop_coefficient: "))
                .anyMatch(f -> f.contains("heat.parts.inductor.ambient: unknown key"))
                .anyMatch(f -> f.contains("heat.parts.inductor.rated_temperature: missing beside its counterpart"))
                .anyMatch(f -> f.contains("heat.parts.C1.rated_rise: needs the rated ripple current"))
                .anyMatch(f -> f.contains("heat.parts.C1.ripple_factors: ") && f.contains("10.0 Hz follows 100.0 Hz"))
                .anyMatch(f -> f.contains("heat.parts.C1.maximum_temperature: out of range"))
                .hasSize(17);
        List<String> named = Refused.faults(BUCK + """
                [heat]
                ambient = 40
                parts = { transistr = { thermal_resistance = 1 }, Q1 = {}, transistor = { thermal_resistance = 1 }, inductor = { thermal_resistance = 1, rated_ripple_current = 1, forward_drop_coefficient = 1 } }
                """);
        assertThat(named)
                .anyMatch(f -> f.contains("heat.parts.transistr: there is no such part; nearest: transistor; valid: "))
                .anyMatch(f -> f.contains("heat.parts.Q1.thermal_resistance: missing"))
                .anyMatch(f -> f.contains("heat.parts.transistor: is of Q1, as [heat.parts.Q1] is"))
                .anyMatch(f -> f.contains("heat.parts.inductor.rated_ripple_current: is of a capacitor"))
                .anyMatch(f -> f.contains("heat.parts.inductor.forward_drop_coefficient: is of a rectifier"))
                .hasSize(5);
        assertThat(Refused.only(BUCK + "limits = { junction_temperature = \"125 °C\" }\n"))
                .contains("limits.junction_temperature: ", "give that table");
    }
}
