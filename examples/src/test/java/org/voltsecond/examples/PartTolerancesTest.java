package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class PartTolerancesTest {

    /**
     * With a fixed duty cycle the efficiency is about V_out / (D V_in), and V_out falls with the resistances in the path as
     * 1 / (1 + (D R_on + R_L + (1 - D) R_D) / R): by D / (R + those) of itself for each ohm of on-resistance.
     */
    @Test
    void tableAndCostOfOnResistance() throws Exception {
        List<String> lines = Printed.by(PartTolerances::main);
        assertThat(lines).hasSize(9);
        assertThat(lines.get(1)).startsWith("output voltage mean").contains("5.0252 V");
        assertThat(lines.get(6)).startsWith("efficiency").contains("0.93047");
        assertThat(lines.get(7)).isEqualTo("10000 designs drawn, seed 1, 0 without a steady state");
        double path = 0.45 * 0.08 + 0.03 + 0.55 * 0.02;
        double output = (0.45 * 12 - 0.55 * 0.4) / (1 + path / 2.5);
        double percent = output / (0.45 * 12) * 0.45 / (2.5 + path) * 0.1;
        assertThat(Printed.numbers(lines.get(8))[0]).isCloseTo(percent, within(0.02 * percent));
    }
}
