package org.voltsecond.revision;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Scale;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignTree;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.units.Unit;

/** What differs between two design files, and between two sets of figures. */
class DifferenceTest {
    private static final String RAIL = """
            [stage]
            topology = "buck"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "1 mH"
            [output_capacitor]
            capacitance = "47 µF"
            [load]
            current = "2 A"
            [drive]
            kind = "voltage-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            compensator = { kind = "type-3", integrator_gain = 1500, zeros = ["4 kHz", "5 kHz"], poles = ["100 kHz", "90 kHz"] }
            [transient]
            duration = "2 ms"
            change = [{ time = "1 ms", load = { current = "1 A" } }]
            """;

    private static DesignTree tree(String text) {
        try {
            return DesignFile.tree("rail.toml", text);
        } catch (DesignException e) {
            throw new AssertionError(e);
        }
    }

    private static List<String> told(String before, String after) {
        return Difference.ofDesigns(tree(before), tree(after)).stream()
                .map(each -> each.key() + ": " + each.before() + ", " + each.after() + ", " + each.told())
                .toList();
    }

    @Test
    void theSameInOtherWordsIsNoDifference() {
        String other = """
                # the same rail
                drive.kind = "voltage-mode"
                drive.divider = 0.20
                drive.reference = 1
                drive.switching_frequency = "0.3 MHz"
                drive.compensator.poles = ["0.1 MHz", 9e4]
                drive.compensator.zeros = [4000.0, "5kHz"]
                drive.compensator.integrator_gain = "1500 1/s"
                drive.compensator.kind = "type-3"
                load = { current = 2.0 }
                input = { voltage = 12 }
                output_capacitor.capacitance = "47uF"
                inductor = { inductance = "1000 µH", resistance = "0 Ω" }
                stage = { topology = "buck", phases = 1 }
                [transient]
                duration = "2000 µs"
                [[transient.change]]
                time = 0.001
                [transient.change.load]
                current = "1000 mA"
                """;
        assertThat(told(RAIL, other)).isEmpty();
        assertThat(told(other, RAIL)).isEmpty();
    }

    @Test
    void eachKeyIsToldWithItsValueBeforeAndAfter() {
        String other = RAIL.replace("1 mH", "1.5 mH\"\nresistance = \"30 mΩ")
                .replace("\"5 kHz\"", "\"6 kHz\"")
                .replace("voltage-mode\"", "voltage-mode\"\nlatch = false")
                .replace("change = [{ time = \"1 ms\", load = { current = \"1 A\" } }]", "[losses]");
        assertThat(told(RAIL, other))
                .containsExactly(
                        "inductor.inductance: 0.001, 0.0015, +500.0 µH (+50.00\u00a0%)",
                        "inductor.resistance: null, 0.03, added",
                        "drive.latch: null, false, added",
                        "drive.compensator.zeros[2]: 5000.0, 6000.0, +1.000 kHz (+20.00\u00a0%)",
                        "losses: null, given, added",
                        "transient.change[1].time: 0.001, null, removed",
                        "transient.change[1].load.current: 1.0, null, removed");
    }

    @Test
    void partsOfACircuitAreToldByTheirNamesWhereverTheyStand() {
        String first = "part = [{ name = \"R1\", kind = \"resistor\", resistance = \"1 kΩ\" }, "
                + "{ name = \"L1\", kind = \"inductor\", inductance = \"10 µH\" }]\n";
        String second = "part = [{ name = \"L1\", kind = \"inductor\", inductance = \"12 µH\" }, "
                + "{ name = \"R1\", kind = \"resistor\", resistance = \"1000 Ω\" }]\n";
        assertThat(told(first, second))
                .singleElement()
                .asString()
                .startsWith("L1.inductance: ")
                .endsWith("+2.000 µH (+20.00\u00a0%)");
    }

    @Test
    void figuresAreComparedPlaceByPlace() {
        List<Difference> all = Difference.ofFigures(
                List.of(
                        new PlacedFigure("steady_state/conduction", "continuous", "conduction", Unit.ONE),
                        new PlacedFigure("steady_state/mean", 5.0, "mean", Unit.VOLT),
                        new PlacedFigure("steady_state/error", 1e-13, "error", Unit.VOLT),
                        new PlacedFigure("heat/hottest", 20.0, "hottest", Unit.CELSIUS),
                        new PlacedFigure("transient/settling_time", 1e-3, "settling time", Unit.SECOND)),
                List.of(
                        new PlacedFigure("steady_state/conduction", "discontinuous", "conduction", Unit.ONE),
                        new PlacedFigure("steady_state/mean", 4.0, "mean", Unit.VOLT),
                        new PlacedFigure("steady_state/peak", 2.0, "peak", Unit.AMPERE),
                        new PlacedFigure("steady_state/error", 3e-13, "error", Unit.VOLT),
                        new PlacedFigure("heat/hottest", 25.0, "hottest", Unit.CELSIUS),
                        new PlacedFigure("transient/settling_time", null, "settling time", Unit.SECOND)));
        assertThat(all)
                .extracting(each -> each.key() + ": " + each.told())
                .containsExactly(
                        "steady_state/conduction: changed",
                        "steady_state/mean: -1.000 V (-20.00\u00a0%)",
                        "steady_state/peak: added",
                        "steady_state/error: same",
                        "heat/hottest: +5.000 K",
                        "transient/settling_time: changed");
    }

    /** Seen from the other side a difference has the other sign, and its share is that of the other number. */
    @Property(seed = "20261127")
    void theOrderTurnsTheSign(
            @ForAll @DoubleRange(min = 1e-9, max = 1e6) @Scale(9) double one,
            @ForAll @DoubleRange(min = 1e-9, max = 1e6) @Scale(9) double other) {
        List<PlacedFigure> first = List.of(new PlacedFigure("a", one, "a", Unit.AMPERE));
        List<PlacedFigure> second = List.of(new PlacedFigure("a", other, "a", Unit.AMPERE));
        Difference there = Difference.ofFigures(first, second).get(0);
        Difference back = Difference.ofFigures(second, first).get(0);
        assertThat(there.absolute().getAsDouble()).isEqualTo(-back.absolute().getAsDouble());
        assertThat(there.isSame()).isEqualTo(back.isSame());
        if (there.relative().isPresent() && back.relative().isPresent()) {
            double product =
                    (1 + there.relative().getAsDouble()) * (1 + back.relative().getAsDouble());
            assertThat(product).isCloseTo(1, Offset.offset(1e-14 * (1 + one / other + other / one)));
        }
    }
}
