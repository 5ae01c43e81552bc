package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.voltsecond.plot.Axes.Ticks;

class TicksTest {
    private final Ticks ticks = new Ticks();

    @Test
    void stepsAreOneTwoFive() {
        assertThat(ticks.getCeilingTickUnit(0.9).getSize()).isEqualTo(1);
        assertThat(ticks.getCeilingTickUnit(1.0).getSize()).isEqualTo(1);
        assertThat(ticks.getCeilingTickUnit(1.1).getSize()).isEqualTo(2);
        assertThat(ticks.getCeilingTickUnit(3).getSize()).isEqualTo(5);
        assertThat(ticks.getCeilingTickUnit(7).getSize()).isEqualTo(10);
        assertThat(ticks.getLargerTickUnit(ticks.getCeilingTickUnit(2.0)).getSize())
                .isEqualTo(5);
    }

    @Test
    void numbersHaveJustTheDecimalsThatTheyNeed() {
        assertThat(ticks.getCeilingTickUnit(0.5).valueToString(2.5)).isEqualTo("2.5");
        assertThat(ticks.getCeilingTickUnit(0.7).valueToString(3)).isEqualTo("3");
        assertThat(ticks.getCeilingTickUnit(50).valueToString(1250)).isEqualTo("1250");
        assertThat(ticks.getCeilingTickUnit(0.02).valueToString(-1e-17)).isEqualTo("0.00");
        assertThat(ticks.getCeilingTickUnit(0.02).valueToString(-0.02)).isEqualTo("-0.02");
    }
}
