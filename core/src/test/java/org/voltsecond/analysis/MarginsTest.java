package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.numeric.Complex;

/** Margins of a loop gain with three equal poles, 4 / (1 + j f / f0)^3, whose closed forms are elementary. */
class MarginsTest {
    private static final double CORNER = 1000;

    private static FrequencyResponse threePoles() {
        return FrequencyResponse.of("loop gain", "", FrequencyResponse.decades(10, 1e5, 20), f -> {
            Complex pole = new Complex(1, f / CORNER);
            return Complex.of(4).divide(pole.multiply(pole).multiply(pole));
        });
    }

    @Test
    void gainMarginIsInDecibelsOfAmplitudes() {
        // phase -180 degrees where each pole turns 60: f = sqrt(3) f0, magnitude 4 / 2^3
        Margins margins = threePoles().margins();
        assertThat(margins.phaseCrossoverFrequency().orElseThrow()).isCloseTo(Math.sqrt(3) * CORNER, within(1e-7));
        assertThat(margins.gainMargin().orElseThrow()).isCloseTo(20 * Math.log10(2), within(1e-9));
    }

    @Test
    void phaseMarginIsWhatIsLeftToHalfATurn() {
        double ratio = Math.sqrt(Math.cbrt(16) - 1);
        Margins margins = threePoles().margins();
        assertThat(margins.crossoverFrequency().orElseThrow()).isCloseTo(ratio * CORNER, within(1e-7));
        assertThat(margins.phaseMargin().orElseThrow())
                .isCloseTo(180 - 3 * Math.toDegrees(Math.atan(ratio)), within(1e-9));
    }

    @Test
    void decibelsAreTwentyTimesTheLogarithm() {
        FrequencyResponse response = threePoles();
        assertThat(response.decibels(7)).isCloseTo(20 * Math.log10(response.magnitude(7)), within(1e-12));
    }
}
