package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.voltsecond.converter.Converter;
import org.voltsecond.units.Unit;

/** A design as a tree of values: changed by key, read without the parser, and written as the file that it came from. */
class DesignTreeTest {
    private static final String RAIL = """
            name = "rail \\\\ \\"with\\ttab\\""

            [stage]
            topology = "buck"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "22 µH"
            [output_capacitor]
            capacitance = 47e-6
            [rectifier]
            kind = "synchronous"
            [load]
            resistance = "2.5 Ω"
            [drive]
            kind = "voltage-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            ramp = { valley = "0 V", peak = "1 V" }
            latch = true
            [drive.compensator]
            kind = "type-3"
            integrator_gain = 36e3
            zeros = ["3.5 kHz", 3500]
            poles = ["120 kHz", "150 kHz"]
            [transient]
            duration = "2 ms"
            [[transient.change]]
            time = "1 ms"
            load = { resistance = "25 Ω" }
            [limits]
            output_ripple = "50 mV"
            [map]
            across = { quantity = "load_current", from = "0.1 A", to = "2 A" }
            up = { quantity = "input_voltage", from = "9 V", to = "15 V" }
            """;

    private static final String OWN = """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "Q1", kind = "switch", between = ["in", "sw"] },
                { name = "D1", kind = "rectifier", between = ["ground", "sw"] },
                { name = "L1", kind = "inductor", between = ["sw", "out"], inductance = "22 µH" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "2.5 Ω" },
            ]
            gate = [ { switch = "Q1", duty_cycle = 0.5, switching_frequency = "300 kHz" } ]
            output = { between = ["out", "ground"] }
            """;

    @Test
    void aChangedValueIsReadAsIfTheFileHadIt() throws DesignException {
        DesignTree tree = DesignFile.tree("rail.toml", RAIL);
        DesignTree changed = tree.with("input.voltage", 9.25)
                .with("inductor.resistance", "30 mΩ")
                .with("drive.compensator.zeros[2]", 3600)
                .with("drive.ramp.peak", 1.5)
                .with("transient.change[1].load.resistance", 5);
        String file = RAIL.replace("\"12 V\"", "9.25")
                .replace("\"22 µH\"", "\"22 µH\"\nresistance = \"30 mΩ\"")
                .replace("3500", "3600")
                .replace("peak = \"1 V\"", "peak = 1.5")
                .replace("\"25 Ω\"", "5")
                .replaceFirst("(?s)\\[map].*", "");
        Design expected = DesignFile.parse("rail.toml", "rail", file);
        Design read = changed.design("rail");
        assertThat(read.power()).isEqualTo(expected.power());
        assertThat(outputOf(read)).isEqualTo(outputOf(expected)).isNotEqualTo(outputOf(tree.design("rail")));
        assertThat(read.limits()).isEqualTo(expected.limits());
        assertThat(Objects.requireNonNull(read.transientPlan()).changes().toString())
                .isEqualTo(Objects.requireNonNull(expected.transientPlan())
                        .changes()
                        .toString());
        assertThat(read.studies()).isEqualTo(StudyPlans.NONE);
        assertThat(tree.design("rail").inputVoltage()).isEqualTo(12);
    }

    private static double outputOf(Design design) {
        Converter converter = design.converter();
        return converter.steadyState().of(converter.outputVoltage()).rms();
    }

    @Test
    void aPartOfACircuitIsNamed() throws DesignException {
        Design read = DesignFile.tree("own.toml", OWN)
                .with("V1.voltage", 10)
                .with("gate[1].duty_cycle", 0.4)
                .design("own");
        assertThat(read.inputVoltage()).isEqualTo(10);
        assertThat(read.drive().toString()).contains("0.4");
    }

    @Test
    void linesAndTextComeBackAsTheSameTree() throws DesignException {
        for (String text : List.of(RAIL, OWN)) {
            DesignTree tree = DesignFile.tree("rail.toml", text);
            String lines = tree.lines();
            assertThat(DesignTree.ofLines(lines).lines()).isEqualTo(lines);
            assertThat(DesignTree.ofLines(lines).design("x").power().toString())
                    .isEqualTo(tree.design("x").power().toString());
            assertThat(DesignFile.tree("again.toml", tree.toml())
                            .lines()
                            .lines()
                            .sorted())
                    .containsExactlyElementsOf(lines.lines().sorted().toList());
        }
        assertThat(DesignFile.tree("rail.toml", RAIL).design("x").name()).isEqualTo("rail \\ \"with\ttab\"");
    }

    @Test
    void everyQuantityOfTheOperatingPointCanBeSet() throws DesignException {
        List<DesignTree.Setting> settings = DesignFile.tree("rail.toml", RAIL).settings();
        assertThat(settings)
                .extracting(DesignTree.Setting::key)
                .contains(
                        "input.voltage",
                        "drive.compensator.zeros[2]",
                        "drive.ramp.peak",
                        "drive.reference",
                        "transient.change[1].load.resistance",
                        "limits.output_ripple",
                        "output_capacitor.resistance",
                        "transistor.on_resistance")
                // a synchronous rectifier has no forward drop, and a map is beyond one operating point
                .doesNotContain("rectifier.forward_drop", "map.across.from", "drive.latch", "name");
        assertThat(settings.get(1))
                .isEqualTo(new DesignTree.Setting(
                        "inductor.inductance",
                        "inductor",
                        "inductance",
                        "Inductance.",
                        Unit.HENRY,
                        22e-6,
                        "more than 0",
                        22e-6,
                        2.2e-6,
                        22e-6 * 10,
                        true));
        assertThat(DesignFile.tree("own.toml", OWN).settings())
                .extracting(DesignTree.Setting::key)
                .containsExactly(
                        "V1.voltage",
                        "L1.inductance",
                        "C1.capacitance",
                        "R1.resistance",
                        "gate[1].duty_cycle",
                        "gate[1].switching_frequency");
    }

    /** Temperatures and emissions are worked out for the file alone: a control of theirs would change nothing. */
    @Test
    void whatIsBeyondOneOperatingPointHasNoControl() throws DesignException {
        String heated =
                RAIL + "\n[heat]\nambient = \"40 °C\"\n[heat.parts.transistor]\nthermal_resistance = \"40 K/W\"\n";
        assertThat(DesignFile.tree("rail.toml", heated).settings())
                .isEqualTo(DesignFile.tree("rail.toml", RAIL).settings());
    }

    @Test
    void whatIsWrongIsToldAsOfAFile() throws DesignException {
        DesignTree tree =
                DesignFile.tree("rail.toml", RAIL).with("input.voltage", -3).with("drive.divider", 0);
        assertThatThrownBy(() -> tree.design("rail"))
                .hasMessageContaining("input.voltage: out of range: -3.0; valid: more than 0")
                .hasMessageContaining("drive.divider: out of range: 0.0");
        assertThatThrownBy(() -> tree.with("gate[3].duty_cycle", 1)).hasMessageContaining("no place for gate[3]");
        assertThatThrownBy(() -> tree.with("name.of", 1)).hasMessageContaining("no place for name.of");
    }
}
