package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.circuit.Forms.assertExactly;
import static org.voltsecond.circuit.Forms.assertForm;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.SwitchingException;

/** Circuits whose equations are singular: loops without resistance, cuts without a path, floating nodes. */
class SingularCircuitsTest {
    @Test
    void zeroOhmResistorIsAShort() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 5)
                .resistor("R1", "in", "a", 0)
                .resistor("R2", "a", GROUND, 10)
                .build());
        Regime regime = network.regime(0, 0);
        assertExactly(Forms.node(network, regime, "a"), 5);
        assertExactly(Forms.current(network, regime, "R1"), 0.5);
        assertExactly(Forms.voltage(network, regime, "R1"), 0);
    }

    @Test
    void parallelShortsShareTheCurrent() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 5)
                .resistor("R1", "in", "a", 0)
                .switchPart("Q1", "in", "a", 0)
                .resistor("R2", "a", GROUND, 10)
                .build());
        Regime regime = network.regime(1, 0);
        assertForm(Forms.current(network, regime, "R1"), 0.25);
        assertForm(Forms.current(network, regime, "Q1"), 0.25);
    }

    @Test
    void equalVoltageSourceAroundAShortIsRefused() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "a", GROUND, 0)
                .switchPart("Q1", "a", GROUND, 0)
                .resistor("R1", "a", GROUND, 1)
                .build());
        assertThatThrownBy(() -> network.regime(1, 0))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("V1")
                .hasMessageContaining("Q1")
                .hasMessageContaining("undetermined");
    }

    @Test
    void capacitorAcrossASourceFollowsIt() {
        Profile ramp = Profile.constant(2).rampTo(1, 2, 5);
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "a", GROUND, ramp)
                .capacitor("C1", "a", GROUND, 1e-3)
                .build();
        Network constant = Network.of(circuit);
        assertExactly(constant.regime(0, 0).rates().get(0), 0, 0, 0);
        Network ramping = Network.of(circuit, java.util.List.of("V1"), 1.5);
        Regime regime = ramping.regime(0, 0);
        assertForm(regime.rates().get(0), 0, 0, 3);
        assertForm(regime.rates().get(1), 0, 0, 3);
        assertForm(Forms.current(ramping, regime, "C1"), 0, 0, 3e-3);
        assertForm(Forms.current(ramping, regime, "V1"), 0, 0, -3e-3);
        assertThat(regime.entry()).isNotNull();
        assertThat(Forms.after(regime.entry(), 1, 3.5)).containsExactly(3.5, 3.5);
    }

    @Test
    void capacitorsThatMeetKeepTheirCharge() {
        Circuit circuit = Circuit.builder()
                .capacitor("C1", "a", GROUND, 1e-6)
                .capacitor("C2", "b", GROUND, 3e-6)
                .switchPart("Q1", "a", "b", 0)
                .resistor("R1", "b", GROUND, 1000)
                .build();
        Network network = Network.of(circuit);
        Transition closing = network.resolve(1, 0, -1, new double[] {8, 4});
        assertThat(closing.jump()).isNotNull();
        double[] after = Forms.after(closing.jump(), 8, 4);
        assertThat(after[0]).isCloseTo(5, Offset.offset(1e-14));
        assertThat(after[1]).isCloseTo(5, Offset.offset(1e-14));
        // both then discharge as one capacitor
        double rate = closing.regime().rates().get(0).valueAt(after, 0);
        assertThat(rate).isCloseTo(-5 / (1000 * 4e-6), Offset.offset(1e-9));
    }

    /** The flux that an inductor would lose without a path, L i, drives the rectifier beside it forward. */
    @Test
    void voltSecondsOfAnInterruptedCurrentOpenTheRectifier() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "a", GROUND, 12)
                .switchPart("Q1", "a", "b", 0)
                .rectifier("D1", GROUND, "b", 0.5, 0)
                .inductor("L1", "b", GROUND, 22e-6)
                .build();
        Regime blocking = Network.of(circuit).regime(0, 0);
        assertThat(blocking.impulses().get(0).valueAt(new double[] {2}, 0)).isCloseTo(-22e-6 * 2, Offset.offset(1e-20));
        assertThat(Network.of(circuit)
                        .resolve(0, 0, -1, new double[] {2})
                        .regime()
                        .conducting())
                .isEqualTo(1);
    }

    @Test
    void steppingTheSourceOfAnIdealPeakDetectorChargesTheCapacitor() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "a", GROUND, 8)
                .rectifier("D1", "a", "b", 0.5, 0)
                .capacitor("C1", "b", GROUND, 1e-6)
                .resistor("R1", "b", GROUND, 1000)
                .build();
        Network network = Network.of(circuit);
        Transition charged = network.resolve(0, 0, -1, new double[] {3});
        assertThat(charged.regime().conducting()).isEqualTo(1);
        assertThat(charged.jump()).isNotNull();
        assertThat(Forms.after(charged.jump(), 3)).containsExactly(7.5);
        double charge = charged.regime().impulses().get(0).valueAt(new double[] {3}, 0);
        assertThat(charge).as("charge through D1").isCloseTo(1e-6 * 4.5, Offset.offset(1e-20));
        // from above, the rectifier must block rather than discharge the capacitor backwards
        Transition blocked = network.resolve(0, 1, -1, new double[] {9});
        assertThat(blocked.regime().conducting()).isZero();
        assertThat(blocked.jump()).isNull();
    }

    @Test
    void openDevicesInSeriesShareTheirVoltage() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "mid", 0.1)
                .switchPart("Q2", "mid", "low", 0.1)
                .switchPart("Q3", "low", GROUND, 0.1)
                .build());
        Regime open = network.regime(0, 0);
        assertForm(Forms.node(network, open, "mid"), 8);
        assertForm(Forms.node(network, open, "low"), 4);
        assertExactly(Forms.node(network, network.regime(1, 0), "low"), 6);
    }

    @Test
    void blockingBridgeFloatsMidway() {
        Network network = Network.of(Circuit.builder()
                .idealTransformer(
                        "T1",
                        java.util.List.of(Part.Winding.of("p", "in", GROUND), Part.Winding.of("s", "a", "b")),
                        1,
                        1)
                .voltageSource("V1", "in", GROUND, 6)
                .rectifier("D1", "a", "out")
                .rectifier("D2", "b", "out")
                .rectifier("D3", GROUND, "a")
                .rectifier("D4", GROUND, "b")
                .capacitor("C1", "out", GROUND, 1e-6)
                .resistor("R1", "out", GROUND, 100)
                .build());
        Regime blocking = network.regime(0, 0);
        assertForm(Forms.node(network, blocking, "a"), 0.5, 3);
        assertForm(Forms.node(network, blocking, "b"), 0.5, -3);
        assertThat(network.resolve(0, 0, -1, new double[] {10}).regime().conducting())
                .isZero();
        Transition conducting = network.resolve(0, 0, -1, new double[] {2});
        assertThat(conducting.regime().conducting()).as("D1 and D4").isEqualTo(0b1001);
        assertThat(conducting.jump()).isNotNull();
        assertThat(Forms.after(conducting.jump(), 2)[0]).isCloseTo(6, Offset.offset(1e-14));
    }

    @Test
    void interruptedCurrentNamesPartAndValue() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "a", 0.1)
                .inductor("L1", "a", "b", 1e-3)
                .resistor("R1", "b", GROUND, 10)
                .build());
        assertThatThrownBy(() -> network.resolve(0, 0, -1, new double[] {1.5}))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("L1 (1.5 A)")
                .hasMessageContaining("Q1 open");
        assertThat(network.resolve(0, 0, -1, new double[] {0}).regime().closed())
                .isZero();
    }

    @Test
    void unequalCurrentsForcedIntoSeriesAreInterrupted() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .inductor("L1", "in", "a", 1e-3)
                .inductor("L2", "a", "b", 1e-3)
                .resistor("R1", "b", GROUND, 10)
                .switchPart("Q1", "a", GROUND, 0.1)
                .build());
        assertThatThrownBy(() -> network.resolve(0, 0, -1, new double[] {2, 1}))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("L1")
                .hasMessageContaining("L2");
        Regime series = network.resolve(0, 0, -1, new double[] {1, 1}).regime();
        assertForm(series.rates().get(0), -2500, -2500, 6000);
        assertForm(series.rates().get(1), -2500, -2500, 6000);
    }

    @Test
    void currentSourceWithoutAPathNamesIt() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "a", 0.1)
                .currentSource("I1", "a", GROUND, 2)
                .build());
        assertThatThrownBy(() -> network.regime(0, 0))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("I1")
                .hasMessageContaining("2.0 A")
                .hasMessageContaining("node a");
        assertForm(Forms.node(network, network.regime(1, 0), "a"), 11.8);
    }

    @Test
    void resistancesTwelveDecadesApartKeepTheirDigits() {
        Network network = Network.of(Circuit.builder()
                .voltageSource("V1", "in", GROUND, 10)
                .resistor("R1", "in", "a", 1e-6)
                .resistor("R2", "a", "b", 1e6)
                .resistor("R3", "b", GROUND, 1e6)
                .build());
        Regime regime = network.regime(0, 0);
        double current = 10 / (1e-6 + 2e6);
        assertForm(Forms.current(network, regime, "R1"), current);
        assertForm(Forms.voltage(network, regime, "R1"), current * 1e-6);
        assertForm(Forms.node(network, regime, "b"), current * 1e6);
    }
}
