package org.voltsecond.plot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.StringReader;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Load;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.Topology;
import org.xml.sax.InputSource;

/** Every part of a stage stands in its schematic with its values. */
class SchematicTest {
    private static PowerStage stage(Topology topology) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, 0)
                .rectifier(0.4, milli(20));
    }

    private static String svg(PowerStage stage) {
        return Schematic.svg(stage.drive(Drive.fixedDuty(0.4, kilo(300))).circuit())
                .orElseThrow();
    }

    @ParameterizedTest
    @EnumSource(Topology.class)
    void stagesAreDrawnWithAllTheirValues(Topology topology) throws Exception {
        String svg = svg(stage(topology).load(Load.resistor(2.5)));
        assertThat(svg)
                .contains(">V1<", ">12 V<", ">Q1<", ">L1<", ">C1<", ">47 µF<", ">5 mΩ<", ">D1<", ">D2<", ">R1<")
                .contains("22 µH", "30 mΩ", "80 mΩ", "400 mV", "20 mΩ", ">2.5 Ω<", ">in<", ">sw<", ">out<")
                .doesNotContain("I1");
        DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(new InputSource(new StringReader(svg)));
    }

    @Test
    void aLoadOfConstantCurrentIsDrawnAloneAndPointsToGround() {
        String svg = svg(stage(Topology.BUCK).load(Load.current(2)));
        assertThat(svg).contains(">I1<", ">2 A<").doesNotContain("R1");
    }

    @Test
    void theRectifierPointsAsItsTerminalsSay() {
        String buck = svg(stage(Topology.BUCK).load(Load.resistor(2.5)));
        String boost = svg(stage(Topology.BOOST).load(Load.resistor(2.5)));
        String triangle = "<path d=\"M0 0H100\"/><path class=\"full\"";
        assertThat(before(buck, triangle, ">D1<")).contains("rotate(90) translate(100,0) scale(-1,1)");
        assertThat(before(boost, triangle, ">D1<")).contains("rotate(0)").doesNotContain("scale");
    }

    /** The beginning of the group of the last such shape before a label. */
    private static String before(String svg, String shape, String label) {
        int at = svg.lastIndexOf(shape, svg.indexOf(label));
        return svg.substring(svg.lastIndexOf("<g", at), at);
    }

    @Test
    void whatIsNoLadderIsNotDrawn() {
        Circuit bridge = Circuit.builder()
                .voltageSource("V1", "a", Circuit.GROUND, 1)
                .resistor("R1", "a", "b", 1)
                .resistor("R2", "b", "c", 1)
                .resistor("R3", "a", "c", 1)
                .resistor("R4", "c", Circuit.GROUND, 1)
                .build();
        assertThat(Schematic.svg(bridge)).isEmpty();
    }
}
