package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.circuit.Forms.assertExactly;
import static org.voltsecond.circuit.Forms.assertForm;

import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Part.Winding;

/** The SEPIC, whose coupling capacitor stands in an ideal loop if its two windings are equal and perfectly coupled. */
class SepicTest {
    private static final double L = 90e-6;
    private static final double C = 80e-6;
    private static final double R = 2;

    private static Circuit.Builder common() {
        return Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 9)
                .switchPart("Q1", "sw", Circuit.GROUND, 0)
                .capacitor("C1", "sw", "mid", C)
                .rectifier("D1", "mid", "out")
                .capacitor("C2", "out", Circuit.GROUND, C)
                .resistor("R1", "out", Circuit.GROUND, R);
    }

    @Test
    void separateInductors() {
        Network network = Network.of(common().inductor("L1", "in", "sw", L)
                .inductor("L2", "mid", Circuit.GROUND, L)
                .build());
        // states: C1, C2, L1, L2
        Regime on = network.regime(1, 0);
        assertForm(on.rates().get(0), 0, 0, 0, 1 / C, 0);
        assertForm(on.rates().get(2), 0, 0, 0, 0, 9 / L);
        assertForm(on.rates().get(3), -1 / L, 0, 0, 0, 0);
        Regime off = network.regime(0, 1);
        assertForm(off.rates().get(0), 0, 0, 1 / C, 0, 0);
        assertForm(off.rates().get(1), 0, -1 / (R * C), 1 / C, -1 / C, 0);
        assertForm(off.rates().get(2), -1 / L, -1 / L, 0, 0, 9 / L);
        assertForm(off.rates().get(3), 0, 1 / L, 0, 0, 0);
        // neither device conducts: one current circulates through both inductors
        Regime idle = network.regime(0, 0);
        assertForm(idle.rates().get(0), 0, 0, 0.5 / C, 0.5 / C, 0);
        assertForm(idle.rates().get(2), -0.5 / L, 0, 0, 0, 4.5 / L);
        assertForm(idle.rates().get(3), -0.5 / L, 0, 0, 0, 4.5 / L);
        assertForm(Forms.current(network, idle, "D1"), 0, 0, 0, 0, 0);
    }

    @Test
    void perfectlyCoupledEqualWindingsHoldTheCapacitorAtTheInput() {
        Circuit circuit = common().coupledInductors(
                        "T1", Winding.of("a", "in", "sw"), L, Winding.of("b", Circuit.GROUND, "mid"), L, 1)
                .build();
        assertThat(circuit.stateNames()).containsExactly("C1", "C2", "T1.a");
        Network network = Network.of(circuit);
        for (Regime regime : new Regime[] {network.regime(1, 0), network.regime(0, 1)}) {
            assertThat(regime.constraints()).hasSize(1);
            assertExactly(regime.rates().get(0), 0, 0, 0, 0);
            assertThat(regime.entry()).isNotNull();
            assertThat(Forms.after(regime.entry(), 7, 5, 1)).containsExactly(9, 5, 1);
        }
        assertForm(network.regime(1, 0).rates().get(2), 0, 0, 0, 9 / L);
        assertForm(network.regime(0, 1).rates().get(2), 0, -1 / L, 0, 0);
    }
}
