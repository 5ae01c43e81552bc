package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.circuit.Forms.assertExactly;
import static org.voltsecond.circuit.Forms.assertForm;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Part.Winding;
import org.voltsecond.engine.SwitchingException;

/** Windings that share flux: flyback stages, perfect coupling, ideal transformers. */
class CoupledWindingsTest {
    private static final double L1 = 450e-6;
    private static final double L2 = 50e-6;
    private static final double C = 200e-6;
    private static final double R = 5;
    private static final Winding PRIMARY = Winding.of("primary", "in", "sw");
    /** The dot is at ground, as a flyback stage needs it. */
    private static final Winding SECONDARY = Winding.of("secondary", Circuit.GROUND, "rect");

    private static Circuit flyback(double coupling, Winding primary, Winding secondary) {
        return Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 24)
                .coupledInductors("T1", primary, L1, secondary, L2, coupling)
                .switchPart("Q1", "sw", Circuit.GROUND, 0)
                .rectifier("D1", "rect", "out")
                .capacitor("C1", "out", Circuit.GROUND, C)
                .resistor("R1", "out", Circuit.GROUND, R)
                .build();
    }

    @Test
    void perfectlyCoupledFlybackHasOneMagnetizingCurrent() {
        Circuit circuit = flyback(1, PRIMARY, SECONDARY);
        assertThat(circuit.stateNames()).containsExactly("T1.primary", "C1");
        Network network = Network.of(circuit);
        Regime on = network.regime(1, 0);
        assertForm(on.rates().get(0), 0, 0, 24 / L1);
        assertForm(Forms.current(network, on, "T1.primary"), 1, 0, 0);
        assertForm(Forms.voltage(network, on, "T1.secondary"), 0, 0, 8);
        assertForm(on.conditions().get(0), 0, 1, 8);
        Regime off = network.regime(0, 1);
        assertForm(off.rates().get(0), 0, -3 / L1, 0);
        assertForm(off.rates().get(1), 3 / C, -1 / (R * C), 0);
        assertForm(Forms.current(network, off, "T1.secondary"), 3, 0, 0);
        assertExactly(Forms.current(network, off, "T1.primary"), 0, 0, 0);
        assertForm(Forms.voltage(network, off, "Q1"), 0, 3, 24);
    }

    @Test
    void perfectlyCoupledFlybackIdlesWithoutCurrent() {
        Network network = Network.of(flyback(1, PRIMARY, SECONDARY));
        Regime idle = network.regime(0, 0);
        assertExactly(idle.rates().get(0), 0, 0, 0);
        assertExactly(Forms.voltage(network, idle, "T1.secondary"), 0, 0, 0);
        assertForm(idle.conditions().get(0), 0, 1, 0);
    }

    @Test
    void leakageIsAStateOfItsOwnAndLosslessWindingsKeepEnergy() {
        double coupling = 0.9;
        double mutual = coupling * Math.sqrt(L1 * L2);
        Circuit circuit = flyback(coupling, PRIMARY, SECONDARY);
        assertThat(circuit.stateNames()).containsExactly("T1.primary", "T1.secondary", "C1");
        Network network = Network.of(circuit);
        double i1 = 2;
        double i2 = -3;
        double[] state = {i1 + mutual / L1 * i2, i2, 0};
        double energy = 0.5 * L1 * i1 * i1 + 0.5 * L2 * i2 * i2 + mutual * i1 * i2;
        assertThat(circuit.storedEnergy(state)).isCloseTo(energy, org.assertj.core.data.Offset.offset(1e-15));
        Regime both = network.regime(1, 1);
        assertThat(Forms.current(network, both, "T1.primary").valueAt(state, 0))
                .isCloseTo(i1, org.assertj.core.data.Offset.offset(1e-14));
        // L di/dt = v by hand for v1 = 24 V, v2 = -v(out) = 0 V
        double determinant = L1 * L2 - mutual * mutual;
        double rate1 = L2 * 24 / determinant;
        double rate2 = -mutual * 24 / determinant;
        assertThat(both.rates().get(1).valueAt(state, 0))
                .isCloseTo(rate2, org.assertj.core.data.Offset.offset(1e-9 * Math.abs(rate2)));
        assertThat(both.rates().get(0).valueAt(state, 0))
                .isCloseTo(rate1 + mutual / L1 * rate2, org.assertj.core.data.Offset.offset(1e-9 * rate1));
    }

    @Test
    void openingTheSwitchOnLeakageIsRefusedWithThePart() {
        Network network = Network.of(flyback(0.9, PRIMARY, SECONDARY));
        assertThatThrownBy(() -> network.resolve(0, 0, -1, new double[] {2, 0, 5}))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("T1");
    }

    @Test
    void perfectCouplingHandsTheFluxOver() {
        Network network = Network.of(flyback(1, PRIMARY, SECONDARY));
        Transition next = network.resolve(0, 0, -1, new double[] {2, 5});
        assertThat(next.regime().conducting()).isEqualTo(1);
        assertThat(next.jump()).isNull();
    }

    @Test
    void windingResistanceIsReportedUnderThePart() {
        Network network = Network.of(flyback(1, PRIMARY.withResistance(0.5), SECONDARY));
        Regime on = network.regime(1, 0);
        assertForm(on.rates().get(0), -0.5 / L1, 0, 24 / L1);
        assertForm(Forms.voltage(network, on, "T1.primary"), 0, 0, 24);
    }

    @Test
    void initialCurrentsOfWindingsBecomeStates() {
        Circuit circuit = flyback(1, PRIMARY, SECONDARY.withInitialCurrent(6));
        assertThat(circuit.initialState()[0]).isCloseTo(2, org.assertj.core.data.Offset.offset(1e-14));
    }

    @Test
    void threeWindingsOfRankTwo() {
        double[][] inductances = {{4e-6, 2e-6, 6e-6}, {2e-6, 5e-6, 7e-6}, {6e-6, 7e-6, 13e-6}};
        Circuit circuit = Circuit.builder()
                .coupledInductors(
                        "T1",
                        List.of(
                                Winding.of("a", "x", Circuit.GROUND),
                                Winding.of("b", "y", Circuit.GROUND),
                                Winding.of("c", "z", Circuit.GROUND)),
                        inductances)
                .voltageSource("V1", "x", Circuit.GROUND, 3)
                .voltageSource("V2", "y", Circuit.GROUND, 1)
                .resistor("R1", "z", Circuit.GROUND, 2)
                .build();
        assertThat(circuit.stateNames()).containsExactly("T1.a", "T1.b");
        Network network = Network.of(circuit);
        // row c is the sum of rows a and b, so that winding c always has the sum of their voltages
        assertForm(Forms.node(network, network.regime(0, 0), "z"), 0, 0, 4);
        assertForm(Forms.current(network, network.regime(0, 0), "T1.c"), 0, 0, -2);
    }

    @Test
    void couplingBeyondOneIsAFault() {
        assertThatThrownBy(() -> flyback(1.01, PRIMARY, SECONDARY))
                .isInstanceOf(InvalidCircuitException.class)
                .hasMessageContaining("T1")
                .hasMessageContaining("positive semidefinite");
    }

    @Test
    void idealTransformerKeepsTurnsRatioAndPower() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "p", Circuit.GROUND, 30)
                .idealTransformer(
                        "T1",
                        List.of(
                                Winding.of("primary", "p", Circuit.GROUND),
                                Winding.of("first", "a", Circuit.GROUND),
                                Winding.of("second", Circuit.GROUND, "b")),
                        6,
                        3,
                        2)
                .resistor("R1", "a", Circuit.GROUND, 5)
                .resistor("R2", "b", Circuit.GROUND, 10)
                .build();
        Network network = Network.of(circuit);
        Regime regime = network.regime(0, 0);
        assertForm(Forms.node(network, regime, "a"), 15);
        assertForm(Forms.node(network, regime, "b"), -10);
        assertForm(Forms.current(network, regime, "T1.first"), -3);
        assertForm(Forms.current(network, regime, "T1.second"), -1);
        assertForm(Forms.current(network, regime, "T1.primary"), (3 * 3 + 1 * 2) / 6.0);
    }
}
