package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.stage.Load;

/** Bends and loads with a curve in files: of a stage, and of a custom circuit. */
class BentDesignTest {
    private static final String STAGE = """
            name = "rail"
            [stage]
            topology = "buck"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "22 µH"
            resistance = "110 mΩ"
            saturation = [ { above = "4 A", inductance = "12 µH" }, { above = "6 A", inductance = "5 µH" } ]
            [output_capacitor]
            capacitance = "47 µF"
            bias = [ { above = "3 V", capacitance = "33 µF" } ]
            [transistor]
            forward_drop = "1 V"
            [load]
            power = "10 W"
            minimum_voltage = "3 V"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.5
            switching_frequency = "300 kHz"
            """;

    private static final String CIRCUIT = """
            name = "own"
            [[part]]
            name = "V1"
            kind = "voltage-source"
            between = ["in", "ground"]
            voltage = "12 V"
            [[part]]
            name = "Q1"
            kind = "switch"
            between = ["in", "sw"]
            forward_drop = "1 V"
            [[part]]
            name = "D1"
            kind = "rectifier"
            between = ["ground", "sw"]
            [[part]]
            name = "L1"
            kind = "inductor"
            between = ["sw", "out"]
            inductance = "22 µH"
            resistance = "110 mΩ"
            saturation = [ { above = "4 A", inductance = "12 µH" }, { above = "6 A", inductance = "5 µH" } ]
            [[part]]
            name = "C1"
            kind = "capacitor"
            between = ["out", "ground"]
            capacitance = "47 µF"
            bias = [ { above = "3 V", capacitance = "33 µF" } ]
            [[part]]
            name = "P1"
            kind = "load"
            between = ["out", "ground"]
            power = "10 W"
            minimum_voltage = "3 V"
            [[gate]]
            switch = "Q1"
            duty_cycle = 0.5
            switching_frequency = "300 kHz"
            [output]
            between = ["out", "ground"]
            """;

    @Test
    void aStageHasThem() throws DesignException {
        Converter converter = DesignFile.parse("rail.toml", "rail", STAGE).converter();
        assertThat(((Part.Inductor) converter.circuit().part("L1")).saturation())
                .containsExactly(new Bend(4, 12e-6), new Bend(6, 5e-6));
        assertThat(((Part.Capacitor) converter.circuit().part("C1")).bias()).containsExactly(new Bend(3, 33e-6));
        assertThat(converter.load()).isEqualTo(Load.power(10, 3));
    }

    @Test
    void aCircuitOfOnesOwnGivesTheSame() throws DesignException {
        Converter own = DesignFile.parse("own.toml", "own", CIRCUIT).converter();
        assertThat(own.circuit().part("P1"))
                .isEqualTo(new NonlinearResistor("P1", "out", "ground", CurrentCurve.constantPower(10, 3)));
        assertThat(own.load()).isEqualTo(Load.power(10, 3));
        Converter stage = DesignFile.parse("rail.toml", "rail", STAGE).converter();
        assertThat(own.steadyState().of(own.outputVoltage()).mean())
                .isCloseTo(stage.steadyState().of(stage.outputVoltage()).mean(), within(1e-12));
    }

    @Test
    void bendsThatDoNotAscendAreTold() {
        assertThat(Refused.only(STAGE.replace("6 A", "4 A")))
                .startsWith(
                        "rail.toml:9: inductor.saturation[2].above: must be more than that of the bend before it, 4.0");
    }

    private static final String CURVE = "saturation_curve = [ { at = \"0 A\", inductance = \"22 µH\" }, "
            + "{ at = \"4 A\", inductance = \"20 µH\" }, { at = \"8 A\", inductance = \"8 µH\" } ]\nsaturation_within = 0.1";

    private static String curved(String design) {
        return design.replace(
                        "saturation = [ { above = \"4 A\", inductance = \"12 µH\" }, { above = \"6 A\", inductance = \"5 µH\" } ]",
                        CURVE)
                .replace("inductance = \"22 µH\"\nresistance", "resistance");
    }

    /** At 8 A the flux of the curve is 4 A · 21 µH + 4 A · 14 µH = 140 µVs, which its segments keep. */
    @Test
    void theCurveOfADataSheetBecomesSegments() throws DesignException {
        for (String file : List.of(STAGE, CIRCUIT)) {
            Design design = DesignFile.parse("rail.toml", "rail", curved(file));
            Part.Inductor inductor =
                    (Part.Inductor) design.converter().circuit().part("L1");
            assertThat(inductor.inductance()).isCloseTo(22e-6, withinPercentage(10));
            double flux = 0;
            double from = 0;
            double henry = inductor.inductance();
            for (Bend bend : inductor.saturation()) {
                flux += henry * (bend.above() - from);
                from = bend.above();
                henry = bend.value();
            }
            assertThat(from).isEqualTo(8);
            assertThat(henry).isEqualTo(8e-6);
            assertThat(flux).isCloseTo(140e-6, withinPercentage(1e-10));
            assertThat(design.notes())
                    .singleElement()
                    .asString()
                    .matches("(inductor|part\\[4])\\.saturation_curve: [0-9]+ segments, within [0-9.]+ % of the curve; "
                            + "flux within [0-9.]+ %");
        }
    }

    @Test
    void aCurveAndAValueAreOneTooMany() {
        assertThat(Refused.only(curved(STAGE).replace("[inductor]", "[inductor]\ninductance = \"22 µH\"")))
                .contains("inductor.inductance: is given beside saturation_curve; valid: one of them");
        assertThat(Refused.only(curved(STAGE).replace("4 A", "9 A")))
                .contains("inductor.saturation_curve[3].at: must be more than that of the point before it");
        assertThat(Refused.only(curved(STAGE).replaceAll("saturation_curve = .*", "saturation_curve = []")))
                .contains("inductor.saturation_curve: has no point; valid: saturation_curve = [ { at = ");
    }

    @Test
    void aCoreHasOneToo() throws DesignException {
        String flyback = """
                [stage]
                topology = "flyback"
                [input]
                voltage = "12 V"
                [transformer]
                turns = { primary = 2, secondary = 1 }
                saturation_curve = [ { at = "0 A", inductance = "90 µH" }, { at = "3 A", inductance = "90 µH" }, { at = "4 A", inductance = "20 µH" } ]
                saturation_within = 0.2
                [output_capacitor]
                capacitance = "100 µF"
                [load]
                resistance = "5 Ω"
                [drive]
                kind = "fixed-duty"
                duty_cycle = 0.4
                switching_frequency = "100 kHz"
                """;
        Part.Inductor core = (Part.Inductor) DesignFile.parse("rail.toml", "rail", flyback)
                .converter()
                .circuit()
                .part("LM");
        assertThat(core.inductance()).isCloseTo(90e-6, withinPercentage(20));
        assertThat(core.saturation()).isNotEmpty().last().isEqualTo(new Bend(4, 20e-6));
    }

    /** What is proposed for a rail is read again as it is written, with capacitors that fade. */
    @Test
    void aRailIsProposedWithCapacitorsThatFade() throws DesignException {
        String rail = """
                name = "logic"
                [rail]
                input = { from = "9 V", to = "15 V" }
                output_voltage = "5 V"
                load = { from = "50 mA", to = "2 A" }
                switching_frequency = "300 kHz"
                inductor_ripple = 0.3
                output_ripple = "50 mV"
                capacitor_bias = [ { above = "2 V", left = 0.8 }, { above = "4 V", left = 0.5 } ]
                """;
        String text = DesignFile.completed("rail.toml", "rail", rail);
        assertThat(text)
                .contains("capacitor_bias = [ { above = \"2 V\", left = 0.8 }, { above = \"4 V\", left = 0.5 } ]");
        Design design = DesignFile.parse("rail.toml", "rail", text);
        Part.Capacitor capacitor = (Part.Capacitor) design.converter().circuit().part("C1");
        double farad = capacitor.capacitance();
        assertThat(capacitor.bias()).hasSize(2).last().isEqualTo(new Bend(4, farad / 2));
        String straight = DesignFile.completed("rail.toml", "rail", rail.replaceAll("capacitor_bias.*\n", ""));
        Part.Capacitor other = (Part.Capacitor) DesignFile.parse("rail.toml", "rail", straight)
                .converter()
                .circuit()
                .part("C1");
        assertThat(farad).isGreaterThan(1.4 * other.capacitance());
        assertThat(other.bias()).isEmpty();
    }
}
