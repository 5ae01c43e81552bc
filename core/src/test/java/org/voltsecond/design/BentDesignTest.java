package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.stage.Load;

/** Bends and loads with a curve in files: of a stage, and of a circuit of one's own. */
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
}
