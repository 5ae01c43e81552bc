package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.circuit.Forms.assertExactly;
import static org.voltsecond.circuit.Forms.assertForm;

import org.junit.jupiter.api.Test;
import org.voltsecond.engine.SwitchingException;

/** The four controlled sources, alone and beside singular equations. */
class ControlledSourcesTest {
    private static Circuit.Builder input() {
        return Circuit.builder().voltageSource("V1", "in", GROUND, 3).resistor("R1", "in", GROUND, 2);
    }

    @Test
    void fourKinds() {
        Network network =
                Network.of(input().part(new ControlledSource.VoltageByVoltage("E1", "a", GROUND, "in", GROUND, 5))
                        .resistor("R2", "a", GROUND, 10)
                        .part(new ControlledSource.CurrentByVoltage("G1", GROUND, "b", "in", GROUND, 0.5))
                        .resistor("R3", "b", GROUND, 4)
                        .part(new ControlledSource.VoltageByCurrent("H1", "c", GROUND, "R1", 7))
                        .resistor("R4", "c", GROUND, 1)
                        .part(new ControlledSource.CurrentByCurrent("F1", "d", GROUND, "R1", 2))
                        .resistor("R5", "d", GROUND, 6)
                        .build());
        Regime regime = network.regime(0, 0);
        assertForm(Forms.node(network, regime, "a"), 15);
        assertForm(Forms.node(network, regime, "b"), 6);
        assertForm(Forms.node(network, regime, "c"), 10.5);
        assertForm(Forms.node(network, regime, "d"), -18);
        assertForm(Forms.current(network, regime, "E1"), -1.5);
        assertForm(Forms.current(network, regime, "G1"), 1.5);
    }

    @Test
    void anAmplifierWithFeedbackCapacitorIntegrates() {
        double gain = 1e6;
        Network network = Network.of(input().resistor("R2", "in", "x", 1000)
                .capacitor("C1", "x", "y", 1e-6)
                .part(new ControlledSource.VoltageByVoltage("E1", "y", GROUND, GROUND, "x", gain))
                .build());
        // v(x) (1 + gain) = v(C1), i = (3 - v(x)) / R2
        assertForm(network.regime(0, 0).rates().get(0), -1 / (1000 * 1e-6 * (1 + gain)), 3 / (1000 * 1e-6));
    }

    @Test
    void currentControlledByAnInductor() {
        Network network = Network.of(input().inductor("L1", "in", GROUND, 1e-3)
                .part(new ControlledSource.CurrentByCurrent("F1", GROUND, "a", "L1", 4))
                .resistor("R2", "a", GROUND, 5)
                .build());
        assertForm(Forms.node(network, network.regime(0, 0), "a"), 20, 0);
    }

    @Test
    void anInductorIsCutOffExactlyBesideAnAmplifier() {
        Network network = Network.of(input().switchPart("Q1", "in", "sw", 0)
                .inductor("L1", "sw", "out", 1e-4)
                .capacitor("C1", "out", GROUND, 1e-5)
                .resistor("R2", "out", GROUND, 3)
                .part(new ControlledSource.VoltageByVoltage("E1", "amp", GROUND, "out", GROUND, -8))
                .resistor("R3", "amp", "out", 50)
                .build());
        Regime idle = network.regime(0, 0);
        assertExactly(idle.rates().get(0), 0, 0, 0);
        assertExactly(Forms.node(network, idle, "sw"), 0, 1, 0);
        assertForm(idle.rates().get(1), 0, -(1 / 3.0 + 9 / 50.0) / 1e-5, 0);
    }

    @Test
    void anAmplifierThatBringsAboutASingularityIsRefused() {
        // a source that follows its own node: any voltage would do
        Network network =
                Network.of(input().part(new ControlledSource.VoltageByVoltage("E1", "a", GROUND, "a", GROUND, 1))
                        .resistor("R2", "a", GROUND, 10)
                        .build());
        assertThatThrownBy(() -> network.regime(0, 0))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("a");
    }

    @Test
    void anAmplifierThatCancelsTheLoadLeavesTheVoltageAlone() {
        // G1 = -1/R2 cancels the load: the capacitance then keeps its voltage
        Network network = Network.of(Circuit.builder()
                .capacitor("C1", "a", GROUND, 1e-6)
                .resistor("R2", "a", GROUND, 10)
                .part(new ControlledSource.CurrentByVoltage("G1", "a", GROUND, "a", GROUND, -0.1))
                .build());
        assertThat(Math.abs(network.regime(0, 0).rates().get(0).coefficient(0))).isLessThan(1e-10);
    }

    @Test
    void aGyratorCutsAnInductorOff() {
        // behind a gyrator an inductor looks like a capacitance: G2's voltage drives L1, L1's current is set by v(a)
        Network network =
                Network.of(input().part(new ControlledSource.CurrentByVoltage("G1", GROUND, "b", "a", GROUND, 0.5))
                        .part(new ControlledSource.CurrentByVoltage("G2", "a", GROUND, "b", GROUND, 0.5))
                        .inductor("L1", "b", GROUND, 1e-3)
                        .resistor("R2", "in", "a", 4)
                        .build());
        // i(L1) = 0.5 v(a); (3 - v(a)) / 4 = 0.5 v(b); L di/dt = v(b)
        Regime regime = network.regime(0, 0);
        assertForm(Forms.node(network, regime, "a"), 2, 0);
        assertForm(Forms.node(network, regime, "b"), -1, 1.5);
        assertForm(regime.rates().get(0), -1000, 1500);
    }
}
