package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The linear regulator that stages are compared with. */
class LinearRegulatorTest {

    /** S. Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., Ex. 11.20: 33.3 %. */
    @Test
    void fifteenToFiveVoltsIsAThird() {
        assertThat(LinearRegulator.of(15, 5).efficiencyLimit()).isCloseTo(0.333, within(0.0005));
    }

    @Test
    void lossIsTheDropTimesTheCurrent() {
        LinearRegulator regulator = LinearRegulator.of(12, 5);
        assertThat(regulator.loss(2)).isEqualTo(14);
        assertThat(regulator.inputPower(2)).isEqualTo(24);
        assertThat(regulator.efficiency(2)).isEqualTo(regulator.efficiencyLimit());
        assertThat(regulator.efficiency(0)).isZero();
    }

    @Test
    void groundCurrentCostsEfficiency() {
        LinearRegulator regulator = LinearRegulator.of(10, 5).withGroundCurrent(0.1);
        assertThat(regulator.loss(0.9)).isCloseTo(5 * 0.9 + 10 * 0.1, within(1e-15));
        assertThat(regulator.efficiency(0.9)).isCloseTo(0.45, within(1e-15));
        assertThat(regulator.inputPower(0.9) - regulator.loss(0.9)).isCloseTo(5 * 0.9, within(1e-15));
    }

    @ParameterizedTest
    @CsvSource({"5, 12", "12, 0", "12, -5", "NaN, 5", "12, NaN", "Infinity, 5"})
    void itCanNeitherStepUpNorInvert(double input, double output) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> LinearRegulator.of(input, output))
                .withMessageContaining("was " + output + " V at an input of " + input + " V");
    }

    @Test
    void currentsAreChecked() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> LinearRegulator.of(12, 5).loss(Double.NaN))
                .withMessageContaining("load current must be 0 A or more");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> LinearRegulator.of(12, 5).withGroundCurrent(-1))
                .withMessageContaining("ground current must be 0 A or more");
    }
}
