package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;

/** Forward curves, stored charges and strays in files: of a stage, and of a custom circuit. */
class JunctionDesignTest {
    private static final String CURVE =
            "forward_curve = [ { current = \"0.1 A\", voltage = \"0.45 V\" }, { current = \"1 A\", voltage = \"0.6 V\" } ]";

    private static final String STAGE = """
            name = "rail"
            [stage]
            topology = "buck"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "22 µH"
            [output_capacitor]
            capacitance = "47 µF"
            [transistor]
            on_resistance = "80 mΩ"
            output_capacitance = "250 pF"
            bias = [ { above = "5 V", capacitance = "120 pF" } ]
            loop_inductance = "8 nH"
            loop_resistance = "0.3 Ω"
            [rectifier]
            resistance = "20 mΩ"
            CURVE
            recovery = { lifetime = "60 ns", transit_time = "15 ns" }
            junction_capacitance = "150 pF"
            [load]
            resistance = "2.5 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.45
            switching_frequency = "300 kHz"
            """.replace("CURVE", CURVE);

    private static final String CIRCUIT = """
            name = "own"
            [[part]]
            name = "V1"
            kind = "voltage-source"
            between = ["in", "ground"]
            voltage = "12 V"
            [[part]]
            name = "LL1"
            kind = "inductor"
            between = ["in", "drain"]
            inductance = "8 nH"
            resistance = "0.3 Ω"
            [[part]]
            name = "Q1"
            kind = "switch"
            between = ["drain", "sw"]
            on_resistance = "80 mΩ"
            [[part]]
            name = "CO1"
            kind = "capacitor"
            between = ["drain", "sw"]
            capacitance = "250 pF"
            bias = [ { above = "5 V", capacitance = "120 pF" } ]
            [[part]]
            name = "D1"
            kind = "rectifier"
            between = ["ground", "sw"]
            resistance = "20 mΩ"
            CURVE
            recovery = { lifetime = "60 ns", transit_time = "15 ns" }
            [[part]]
            name = "CJ1"
            kind = "capacitor"
            between = ["sw", "ground"]
            capacitance = "150 pF"
            [[part]]
            name = "L1"
            kind = "inductor"
            between = ["sw", "out"]
            inductance = "22 µH"
            [[part]]
            name = "C1"
            kind = "capacitor"
            between = ["out", "ground"]
            capacitance = "47 µF"
            [[part]]
            name = "R1"
            kind = "resistor"
            between = ["out", "ground"]
            resistance = "2.5 Ω"
            [[gate]]
            switch = "Q1"
            duty_cycle = 0.45
            switching_frequency = "300 kHz"
            [output]
            between = ["out", "ground"]
            """.replace("CURVE", CURVE);

    /** With the first point's voltage as the drop and nothing in series, the capacitance beside the diode had no way on. */
    @Test
    void aCurveWithoutAResistanceOnTopIsPassedFromEndToEnd() throws DesignException {
        String bare = STAGE.replace("resistance = \"20 mΩ\"\n", "");
        Converter converter = DesignFile.parse("rail.toml", "rail", bare).converter();
        assertThat(converter.steadyState().audit().residual()).isLessThan(1e-10);
        assertThat(Refused.only(bare.replace("[rectifier]", "[rectifier]\nforward_drop = \"0.45 V\"")))
                .contains("the forward drop must be less than the voltage of the first point of forward_curve");
    }

    @Test
    void aStageHasThem() throws DesignException {
        Converter converter = DesignFile.parse("rail.toml", "rail", STAGE).converter();
        Junction junction = new Junction(
                List.of(new Junction.Point(0.1, 0.45), new Junction.Point(1, 0.6)),
                new Junction.Recovery(60e-9, 15e-9));
        // by hand: the line through both points, 0.15 V in 0.9 A, meets no current at 0.45 V - 0.1 A / 6 S
        double drop = junction.dropAtNoCurrent();
        assertThat(drop).isCloseTo(0.45 - 0.1 / 6, within(1e-15));
        assertThat(converter.circuit().part("D1"))
                .isEqualTo(new Part.Rectifier("D1", "ground", "sw", drop, 20e-3, junction));
        assertThat(converter.circuit().part("CO1"))
                .isEqualTo(new Part.Capacitor("CO1", "Q1-drain", "sw", 250e-12, 0, 0, List.of(new Bend(5, 120e-12))));
        assertThat(converter.circuit().part("CJ1")).isEqualTo(new Part.Capacitor("CJ1", "sw", "ground", 150e-12, 0, 0));
        assertThat(converter.circuit().part("LL1")).isEqualTo(new Part.Inductor("LL1", "in", "Q1-drain", 8e-9, 0.3, 0));
    }

    @Test
    void aCircuitOfOnesOwnGivesTheSame() throws DesignException {
        Converter own = DesignFile.parse("own.toml", "own", CIRCUIT).converter();
        Converter stage = DesignFile.parse("rail.toml", "rail", STAGE).converter();
        assertThat(own.steadyState().of(own.outputVoltage()).mean())
                .isCloseTo(stage.steadyState().of(stage.outputVoltage()).mean(), within(1e-11));
    }

    @Test
    void aDataSheetGivesTheTimesOfABodyDiode() throws DesignException {
        String design = STAGE.replace(CURVE, """
                        kind = "synchronous"
                        body_diode_drop = "0.7 V"
                        body_diode_recovery = { charge = "60 nC", peak_current = "2.5 A", slope = "100 A/µs", forward_current = "10 A" }""").replaceAll("(?m)^recovery.*\n", "");
        Part.Rectifier diode = (Part.Rectifier) DesignFile.parse("rail.toml", "rail", design)
                .converter()
                .circuit()
                .part("D3");
        assertThat(diode.junction().recovery()).isEqualTo(Junction.Recovery.ofDataSheet(10, 100e6, 2.5, 60e-9));
    }

    @Test
    void whatDoesNotFitIsTold() {
        assertThat(Refused.faults(STAGE.replaceAll("(?m)^(output_capacitance|bias).*\n", "")))
                .singleElement()
                .asString()
                .contains("give the output capacitance as well, or a snubber");
        List<String> mixed = Refused.faults(STAGE.replace("transit_time = \"15 ns\"", "charge = \"15 nC\""));
        assertThat(mixed).hasSize(2);
        assertThat(mixed.get(0)).contains("rectifier.recovery.transit_time: missing");
        assertThat(mixed.get(1)).contains("valid: [lifetime, transit_time], or [forward_current, slope");
        assertThat(Refused.only(STAGE + "[losses]\nrecovered_charge = \"20 nC\"\n"))
                .contains("is an estimate beside the recovery of the rectifier");
        assertThat(Refused.only(STAGE + "[losses.parts.D1]\nrecovery_time = \"20 ns\"\n"))
                .contains("losses.parts.D1.recovery_time: is an estimate beside the recovery of the rectifier");
        assertThat(Refused.faults(STAGE.replace("[rectifier]", "[rectifier]\nkind = \"synchronous\"")))
                .hasSize(2)
                .allSatisfy(fault -> assertThat(fault).contains("is of a diode but a transistor is given"));
        assertThat(Refused.only(STAGE.replace("\"0.6 V\"", "\"0.4 V\"")))
                .contains("must not be below that of the point before it, 0.45 V, but was 0.4 V");
    }
}
