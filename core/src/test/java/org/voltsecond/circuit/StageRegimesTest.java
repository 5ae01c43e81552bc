package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.circuit.Forms.assertExactly;
import static org.voltsecond.circuit.Forms.assertForm;

import org.junit.jupiter.api.Test;
import org.voltsecond.engine.SwitchingException;

/** The three basic stages in all their positions, against equations derived by hand from Kirchhoff's laws. */
class StageRegimesTest {
    private static final double VIN = 12;
    private static final double L = 22e-6;
    private static final double C = 47e-6;
    private static final double R = 2.5;
    private static final double ON = 0.08;
    private static final double DROP = 0.4;
    private static final double RD = 0.02;
    private static final double RL = 0.03;
    private static final double ESR = 0.005;
    /** Share of the load current in what the output capacitor's voltage drives. */
    private static final double SHARE = R / (R + ESR);

    private static final double PARALLEL = R * ESR / (R + ESR);

    private static Circuit.Builder loss(boolean lossy, Circuit.Builder builder) {
        return builder.capacitor("C1", "out", Circuit.GROUND, C, lossy ? ESR : 0)
                .resistor("R1", "out", Circuit.GROUND, R)
                .voltageSource("V1", "in", Circuit.GROUND, VIN);
    }

    private static Circuit buck(boolean lossy) {
        return loss(
                        lossy,
                        Circuit.builder()
                                .inductor("L1", "sw", "out", L, lossy ? RL : 0)
                                .switchPart("Q1", "in", "sw", lossy ? ON : 0)
                                .rectifier("D1", Circuit.GROUND, "sw", lossy ? DROP : 0, lossy ? RD : 0))
                .build();
    }

    private static Circuit boost(boolean lossy) {
        return loss(
                        lossy,
                        Circuit.builder()
                                .inductor("L1", "in", "sw", L, lossy ? RL : 0)
                                .switchPart("Q1", "sw", Circuit.GROUND, lossy ? ON : 0)
                                .rectifier("D1", "sw", "out", lossy ? DROP : 0, lossy ? RD : 0))
                .build();
    }

    private static Circuit buckBoost(boolean lossy) {
        return loss(
                        lossy,
                        Circuit.builder()
                                .inductor("L1", "sw", Circuit.GROUND, L, lossy ? RL : 0)
                                .switchPart("Q1", "in", "sw", lossy ? ON : 0)
                                .rectifier("D1", "out", "sw", lossy ? DROP : 0, lossy ? RD : 0))
                .build();
    }

    @Test
    void idealBuck() {
        Network network = Network.of(buck(false));
        Regime on = network.regime(1, 0);
        assertExactly(on.rates().get(0), 0, -1 / L, VIN / L);
        assertForm(on.rates().get(1), 1 / C, -1 / (R * C), 0);
        assertExactly(Forms.node(network, on, "sw"), 0, 0, VIN);
        assertExactly(on.conditions().get(0), 0, 0, VIN);
        Regime off = network.regime(0, 1);
        assertExactly(off.rates().get(0), 0, -1 / L, 0);
        assertExactly(off.conditions().get(0), 1, 0, 0);
        assertExactly(Forms.node(network, off, "sw"), 0, 0, 0);
    }

    @Test
    void idealBuckIdlesWithExactlyNoCurrentAndTheSwitchNodeAtTheOutput() {
        Network network = Network.of(buck(false));
        Regime idle = network.regime(0, 0);
        assertExactly(idle.rates().get(0), 0, 0, 0);
        assertExactly(idle.rates().get(1), 0, -1 / (R * C), 0);
        assertExactly(Forms.node(network, idle, "sw"), 0, 1, 0);
        assertExactly(Forms.voltage(network, idle, "L1"), 0, 0, 0);
        assertExactly(Forms.current(network, idle, "L1"), 0, 0, 0);
        assertThat(idle.constraints()).hasSize(1);
        assertThat(idle.entry()).isNotNull();
        assertThat(Forms.after(idle.entry(), 1e-17, 5)).containsExactly(0, 5);
    }

    @Test
    void idealBuckWithBothDevicesConductingIsRefusedByName() {
        assertThatThrownBy(() -> Network.of(buck(false)).regime(1, 1))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("V1")
                .hasMessageContaining("Q1")
                .hasMessageContaining("D1")
                .hasMessageContaining("12.0 V");
    }

    @Test
    void lossyBuck() {
        Network network = Network.of(buck(true));
        Regime on = network.regime(1, 0);
        assertForm(on.rates().get(0), -(ON + RL + PARALLEL) / L, -SHARE / L, VIN / L);
        assertForm(on.rates().get(1), SHARE / C, -1 / ((R + ESR) * C), 0);
        assertForm(Forms.node(network, on, "sw"), -ON, 0, VIN);
        Regime off = network.regime(0, 1);
        assertForm(off.rates().get(0), -(RD + RL + PARALLEL) / L, -SHARE / L, -DROP / L);
        assertForm(Forms.node(network, off, "sw"), -RD, 0, -DROP);
        Regime idle = network.regime(0, 0);
        assertExactly(idle.rates().get(0), 0, 0, 0);
        assertForm(idle.rates().get(1), 0, -1 / ((R + ESR) * C), 0);
        assertForm(Forms.node(network, idle, "sw"), 0, SHARE, 0);
        assertForm(idle.conditions().get(0), 0, SHARE, DROP);
        assertExactly(Forms.voltage(network, idle, "L1"), 0, 0, 0);
    }

    @Test
    void lossyBoost() {
        Network network = Network.of(boost(true));
        Regime on = network.regime(1, 0);
        assertForm(on.rates().get(0), -(ON + RL) / L, 0, VIN / L);
        assertForm(on.rates().get(1), 0, -1 / ((R + ESR) * C), 0);
        Regime off = network.regime(0, 1);
        assertForm(off.rates().get(0), -(RD + RL + PARALLEL) / L, -SHARE / L, (VIN - DROP) / L);
        assertForm(off.rates().get(1), SHARE / C, -1 / ((R + ESR) * C), 0);
        Regime idle = network.regime(0, 0);
        assertExactly(idle.rates().get(0), 0, 0, 0);
        assertExactly(Forms.node(network, idle, "sw"), 0, 0, VIN);
        assertForm(idle.conditions().get(0), 0, SHARE, DROP - VIN);
    }

    @Test
    void idealBoost() {
        Network network = Network.of(boost(false));
        assertExactly(network.regime(1, 0).rates().get(0), 0, 0, VIN / L);
        assertExactly(network.regime(0, 1).rates().get(0), 0, -1 / L, VIN / L);
        assertExactly(Forms.node(network, network.regime(1, 0), "sw"), 0, 0, 0);
        assertExactly(Forms.node(network, network.regime(0, 1), "sw"), 0, 1, 0);
    }

    @Test
    void lossyInvertingBuckBoost() {
        Network network = Network.of(buckBoost(true));
        Regime on = network.regime(1, 0);
        assertForm(on.rates().get(0), -(ON + RL) / L, 0, VIN / L);
        Regime off = network.regime(0, 1);
        assertForm(off.rates().get(0), -(RD + RL + PARALLEL) / L, SHARE / L, -DROP / L);
        assertForm(off.rates().get(1), -SHARE / C, -1 / ((R + ESR) * C), 0);
        Regime idle = network.regime(0, 0);
        assertExactly(Forms.node(network, idle, "sw"), 0, 0, 0);
        assertForm(idle.conditions().get(0), 0, -SHARE, DROP);
    }

    @Test
    void idealInvertingBuckBoost() {
        Network network = Network.of(buckBoost(false));
        assertExactly(network.regime(1, 0).rates().get(0), 0, 0, VIN / L);
        assertExactly(network.regime(0, 1).rates().get(0), 0, 1 / L, 0);
        assertForm(network.regime(0, 1).rates().get(1), -1 / C, -1 / (R * C), 0);
    }

    @Test
    void partCurrentsAndVoltagesFollowTheirArrows() {
        Network network = Network.of(buck(true));
        Regime on = network.regime(1, 0);
        assertExactly(Forms.current(network, on, "Q1"), 1, 0, 0);
        assertForm(Forms.voltage(network, on, "Q1"), ON, 0, 0);
        assertExactly(Forms.current(network, on, "V1"), -1, 0, 0);
        assertExactly(Forms.current(network, on, "D1"), 0, 0, 0);
        assertForm(Forms.current(network, on, "C1"), SHARE, -1 / (R + ESR), 0);
        assertForm(Forms.current(network, on, "R1"), ESR / (R + ESR), 1 / (R + ESR), 0);
    }

    @Test
    void regimesAreKept() {
        Network network = Network.of(buck(true));
        assertThat(network.regime(1, 0)).isSameAs(network.regime(1, 0));
        assertThat(network.regime(1, 0).name()).isEqualTo("Q1 closed, D1 blocking");
    }
}
