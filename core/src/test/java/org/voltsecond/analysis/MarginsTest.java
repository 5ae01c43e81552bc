package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;

/** Margins of loop gains whose closed forms are elementary, and of a converter; several are of 4 / (1 + j f / f0)^3. */
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
        assertThat(margins.gain().frequency().orElseThrow()).isCloseTo(Math.sqrt(3) * CORNER, within(1e-7));
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

    /** 0.5 (1 + s) / s^2 would be stable at any gain; a peak at 10 rad/s adds two crossovers above the first. */
    @Test
    void theCrossoverWithTheLeastMarginDecides() {
        FrequencyResponse loop = FrequencyResponse.of("loop", "", FrequencyResponse.decades(1e-2, 1e3, 20), f -> {
            Complex s = new Complex(0, f);
            Complex peak = s.multiply(s).divide(100).add(s.multiply(0.002)).add(1);
            return Complex.ONE.divide(s).divide(peak);
        });
        Margins margins = loop.margins();
        assertThat(margins.stable()).isFalse();
        assertThat(margins.crossovers()).hasSize(3);
        assertThat(margins.crossovers().get(0).phaseMargin()).isCloseTo(90, within(0.5));
        assertThat(margins.phaseMargin().orElseThrow())
                .as("the most negative one of an unstable loop")
                .isEqualTo(margins.crossovers().get(2).phaseMargin())
                .isLessThan(-77);
        // real and negative at the peak: 1 / (10 * 0.002 * 10) = 5
        assertThat(margins.gainMargin().orElseThrow()).isCloseTo(-20 * Math.log10(5), within(1e-6));
        assertThat(margins.gainReductionMargin()).isEmpty();
        assertThat(margins.gainReduction().reason()).contains("more gain", "does not make it stable");
    }

    /** 20 (1 + s)^2 / s^3 has the phase -180 at s = j, where its magnitude is 40: less gain than a fortieth is unstable. */
    @Test
    void aLoopThatNeedsItsGainIsConditionallyStable() {
        Margins margins = needsGain(20).margins();
        assertThat(margins.stable()).isTrue();
        assertThat(margins.isConditionallyStable()).isTrue();
        assertThat(margins.gainReductionMargin().orElseThrow()).isCloseTo(20 * Math.log10(40), within(1e-9));
        assertThat(margins.gainReduction().frequency().orElseThrow()).isCloseTo(1, within(1e-9));
        assertThat(margins.gainMargin()).isEmpty();
        assertThat(margins.gain().reason()).contains("between 10 mHz and 1 kHz", "may rise");
    }

    /** With 0.1 in place of 20 the magnitude there is a fifth: the loop has 13.98 dB too little. */
    @Test
    void tooLittleGainIsANegativeReductionMargin() {
        Margins margins = needsGain(0.1).margins();
        assertThat(margins.stable()).isFalse();
        assertThat(margins.gainReductionMargin().orElseThrow()).isCloseTo(-20 * Math.log10(5), within(1e-9));
        assertThat(margins.gainMargin()).isEmpty();
        assertThat(margins.isConditionallyStable()).isFalse();
    }

    private static FrequencyResponse needsGain(double gain) {
        return FrequencyResponse.of("loop", "", FrequencyResponse.decades(1e-2, 1e3, 20), f -> {
            Complex s = new Complex(0, f);
            Complex zero = s.add(1);
            return zero.multiply(zero).multiply(gain).divide(s.multiply(s).multiply(s));
        });
    }

    /** Five points a decade, and a resonance of a quality of 300 between two of them: its crossovers are found all the same. */
    @Test
    void aResonanceBetweenTwoSamplesIsFollowed() {
        FrequencyResponse loop = FrequencyResponse.of("loop", "", FrequencyResponse.decades(10, 1e5, 5), f -> {
            double x = f / 1259;
            return new Complex(0, -100 / f).divide(new Complex(1 - x * x, x / 300));
        });
        Margins margins = loop.margins();
        assertThat(margins.crossovers()).hasSize(3);
        // away from the peak the damping adds about a thousandth to x |1 - x^2|
        for (int k : new int[] {1, 2}) {
            double x = margins.crossovers().get(k).frequency() / 1259;
            assertThat(x * Math.abs(1 - x * x) * 1259 / 100).isCloseTo(1, within(2e-3));
        }
        assertThat(margins.gain().frequency().orElseThrow()).isCloseTo(1259, within(1e-6));
        assertThat(margins.gainMargin().orElseThrow()).isCloseTo(-20 * Math.log10(100 / 1259.0 * 300), within(1e-6));
    }

    /**
     * A stable buck whose phase lies below -180 degrees between two frequencies under its crossover was told with a gain margin
     * of -27.6 dB. By its multipliers it is stable, and stays so with more gain; with 27.6 dB less it is not.
     */
    @Test
    void aStableBuckHasNoNegativeGainMargin() {
        Margins margins = lowVoltage(1)
                .steadyState()
                .smallSignal()
                .loopGain(FrequencyResponse.decades(1e3, 400e3, 20))
                .margins();
        assertThat(margins.stable()).isTrue();
        assertThat(margins.gainMargin()).isEmpty();
        double reduction = margins.gainReductionMargin().orElseThrow();
        assertThat(reduction).isCloseTo(27.55, within(0.01));
        assertThat(margins.isConditionallyStable()).isTrue();
        // the ripple of the control voltage falls with the gain, and with it the slope at which the ramp meets it:
        // about half a
        // decibel, which no curve at one gain can hold
        assertThat(stable(-reduction + 0.5)).isTrue();
        assertThat(stable(-reduction - 1)).isFalse();
        assertThat(stable(10)).isTrue();
    }

    private static boolean stable(double decibels) {
        return lowVoltage(StrictMath.pow(10, decibels / 20))
                .steadyState()
                .periodic()
                .isStable();
    }

    private static Converter lowVoltage(double gain) {
        return PowerStage.buck()
                .input(5)
                .inductor(1e-6, 0)
                .outputCapacitor(200e-6, 0.8e-3)
                .transistor(0)
                .synchronousRectifier(0)
                .load(Load.current(5))
                .drive(VoltageMode.of(1e6, 1.8, 1, Compensator.type3(260910.5 * gain, 8000, 33.46e3, 298.9e3, 50e6))
                        .withRamp(0, 1));
    }
}
