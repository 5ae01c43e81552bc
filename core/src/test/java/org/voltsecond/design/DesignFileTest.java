package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;

/** What a valid design file is read as. */
class DesignFileTest {
    static final String LOGIC_RAIL = """
            name = "logic rail"
            [stage]
            topology = "buck"
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "22 µH"
            resistance = "30 mΩ"
            [output_capacitor]
            capacitance = "47 µF"
            resistance = "5 mΩ"
            [transistor]
            on_resistance = "80 mΩ"
            [rectifier]
            kind = "diode"
            forward_drop = "0.4 V"
            resistance = "20 mΩ"
            [load]
            resistance = "2.5 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.45
            switching_frequency = "300 kHz"
            """;

    private static Design parse(String text) throws DesignException {
        return DesignFile.parse("rail.toml", "rail", text);
    }

    @Test
    void readsEveryKeyInSiUnits() throws DesignException {
        Design design = parse(LOGIC_RAIL);
        assertThat(design)
                .isEqualTo(new Design(
                        "logic rail",
                        new StagePlan(
                                Topology.BUCK,
                                LineInput.of(12),
                                StageParts.none()
                                        .withInput(new StageParts.Input(12, 0, 1))
                                        .withInductor(new StageParts.Series(22e-6, 30e-3))
                                        .withOutputCapacitor(new StageParts.Series(47e-6, 5e-3))
                                        .withTransistor(
                                                StageParts.Transistor.ideal().withChannel(80e-3, 0))
                                        .withRectifier(StageParts.Rectifier.diode(0.4, 20e-3))
                                        .withLoad(Load.resistor(2.5))),
                        new FixedDuty(0.45, 300e3),
                        null,
                        null,
                        Map.of(),
                        null,
                        StudyPlans.NONE,
                        List.of()));
    }

    @Test
    void takesBareNumbersAndPlainLetters() throws DesignException {
        String plain = LOGIC_RAIL
                .replace("\"22 µH\"", "22e-6")
                .replace("\"12 V\"", "12")
                .replace("\"30 mΩ\"", "\"30mohm\"")
                .replace("\"47 µF\"", "\"47uF\"");
        assertThat(parse(plain)).isEqualTo(parse(LOGIC_RAIL));
    }

    @Test
    void partsAreIdealWhereNothingIsSaid() throws DesignException {
        String ideal = LOGIC_RAIL
                .replaceAll("(resistance = \"(30|5|20) mΩ\"|on_resistance.*|forward_drop.*)\n", "")
                .replace("[transistor]\n", "")
                .replace("name = \"logic rail\"\n", "");
        Design design = parse(ideal);
        assertThat(design.name()).isEqualTo("rail");
        assertThat(design.stage().orElseThrow().parts().inductor().resistance()).isZero();
        assertThat(design.stage().orElseThrow().parts().outputCapacitor().resistance())
                .isZero();
        assertThat(design.stage().orElseThrow().parts().transistor()).isEqualTo(StageParts.Transistor.ideal());
        assertThat(design.stage().orElseThrow().parts().rectifier()).isEqualTo(StageParts.Rectifier.diode(0, 0));
    }

    @Test
    void readsTheBodyDiode() throws DesignException {
        Design design = parse(LOGIC_RAIL.replace(
                "[transistor]", "[transistor]\nbody_diode_drop = \"0.8 V\"\nbody_diode_resistance = \"15 mΩ\""));
        assertThat(design.stage().orElseThrow().parts().transistor())
                .isEqualTo(StageParts.Transistor.ideal()
                        .withChannel(80e-3, 0)
                        .withBodyDiode(new StageParts.Diode(0.8, 15e-3)));
        assertThat(design.converter().circuit().part("D2").name()).isEqualTo("D2");
    }

    @Test
    void readsSynchronousRectifierAndConstantCurrent() throws DesignException {
        Design design = parse(LOGIC_RAIL
                .replace("\"diode\"", "\"synchronous\"")
                .replace("forward_drop = \"0.4 V\"\n", "")
                .replace("resistance = \"2.5 Ω\"", "current = \"2 A\""));
        assertThat(design.stage().orElseThrow().parts().rectifier())
                .isEqualTo(StageParts.Rectifier.transistor(20e-3, null));
        assertThat(design.load()).isEqualTo(Load.current(2));
    }

    @Test
    void readsChangesInOrderOfTime() throws DesignException {
        Design design = parse(LOGIC_RAIL + """
                [transient]
                duration = "15 ms"
                start = "steady-state"
                [[transient.change]]
                time = "10 ms"
                input = { voltage = "15 V" }
                duty_cycle = 0.5
                [[transient.change]]
                time = "5 ms"
                load = { resistance = "25 Ω" }
                """);
        TransientPlan plan = Objects.requireNonNull(design.transientPlan());
        assertThat(plan.duration()).isEqualTo(15e-3);
        assertThat(plan.fromSteadyState()).isTrue();
        assertThat(plan.changes().toString()).isEqualTo("[at 5 ms: load 25 Ω, at 10 ms: input 15 V, duty cycle 0.5]");
    }

    @Test
    void startsFromRestUnlessAskedOtherwise() throws DesignException {
        TransientPlan plan =
                parse(LOGIC_RAIL + "[transient]\nduration = 0.001\n").transientPlan();
        assertThat(plan).isEqualTo(new TransientPlan(1e-3, false, java.util.List.of(), 0.02));
    }

    @Test
    void dutyCyclesOfZeroAndOneAreValid() throws DesignException {
        assertThat(parse(LOGIC_RAIL.replace("0.45", "0")).drive()).isEqualTo(new FixedDuty(0, 300e3));
        assertThat(parse(LOGIC_RAIL.replace("0.45", "1")).drive()).isEqualTo(new FixedDuty(1, 300e3));
    }

    @Test
    void readsEveryTopology() throws DesignException {
        assertThat(parse(LOGIC_RAIL.replace("\"buck\"", "\"boost\""))
                        .stage()
                        .orElseThrow()
                        .topology())
                .isEqualTo(Topology.BOOST);
        assertThat(parse(LOGIC_RAIL.replace("\"buck\"", "\"inverting-buck-boost\""))
                        .stage()
                        .orElseThrow()
                        .topology())
                .isEqualTo(Topology.INVERTING_BUCK_BOOST);
    }
}
