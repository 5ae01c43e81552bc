package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSmallSignal;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;

/** On which turn a phase is told: transfer functions of which the phase follows from poles and zeros. */
class ResponsePhaseTest {
    private static final double[] GRID = FrequencyResponse.decades(1, 1e5, 40);

    private static Complex s(double frequency) {
        return new Complex(0, 2 * Math.PI * frequency);
    }

    private static double degrees(double tangent) {
        return Math.toDegrees(Math.atan(tangent));
    }

    /** An inductor with a zero before a double pole: from 90.08 degrees over a little more to 90 + 90 - 180 = 0. */
    private static Complex impedance(double frequency) {
        Complex s = s(frequency);
        double own = 2 * Math.PI * 1e3;
        Complex pair = s.divide(own).add(1);
        return s.multiply(1e-6).multiply(s.divide(2 * Math.PI * 300).add(1)).divide(pair.multiply(pair));
    }

    @Test
    void anImpedanceThatBeginsJustAboveNinetyDegreesIsToldFromThere() {
        FrequencyResponse usual = FrequencyResponse.of("z", "Ω", GRID, ResponsePhaseTest::impedance);
        assertThat(usual.phase(0)).as("the usual range of a loop gain").isBetween(-270.0, -269.0);
        FrequencyResponse told = usual.withFirstPhaseAbove(-180);
        for (int i = 0; i < GRID.length; i++) {
            double f = GRID[i];
            double expected = 90 + degrees(f / 300) - 2 * degrees(f / 1000);
            assertThat(told.phase(i)).isCloseTo(expected, within(1e-9));
            assertThat(told.value(i)).isEqualTo(usual.value(i));
        }
        assertThat(told.peak()).isEqualTo(usual.peak());
    }

    @Test
    void onAnyThreadTheValuesAreTheSameToTheBitAndTheFirstFailureIsTold() {
        FrequencyResponse one = FrequencyResponse.of("z", "Ω", GRID, ResponsePhaseTest::impedance);
        FrequencyResponse many = FrequencyResponse.ofAnyThread("z", "Ω", GRID, ResponsePhaseTest::impedance);
        for (int i = 0; i < GRID.length; i++) {
            assertThat(many.value(i)).isEqualTo(one.value(i));
            assertThat(many.phase(i)).isEqualTo(one.phase(i));
        }
        assertThatThrownBy(() -> FrequencyResponse.ofAnyThread("z", "Ω", GRID, f -> {
                    throw new IllegalStateException("at " + f);
                }))
                .isInstanceOf(IllegalStateException.class)
                .hasMessage("at " + GRID[0]);
    }

    @ParameterizedTest
    @CsvSource({"-180, 90", "-270, 90", "-90, 90", "0, 90", "90.5, 450", "-450, -270", "-1000, -990"})
    void theFirstPhaseLiesAboveWhatIsAskedFor(double above, double expected) {
        FrequencyResponse inductor = FrequencyResponse.of("z", "Ω", GRID, f -> s(f).multiply(1e-6));
        assertThat(inductor.withFirstPhaseAbove(above).phase(0)).isCloseTo(expected, within(1e-9));
        assertThat(inductor.withFirstPhaseAbove(above).phase(GRID.length - 1)).isCloseTo(expected, within(1e-9));
    }

    @Test
    void aNumberThatIsNoneIsRefused() {
        FrequencyResponse inductor = FrequencyResponse.of("z", "Ω", GRID, f -> s(f).multiply(1e-6));
        assertThatThrownBy(() -> inductor.withFirstPhaseAbove(Double.NaN)).hasMessageContaining("above NaN degrees");
    }

    /** K / s (1 + s / 1000)^-2: crossover and margin from the formula; a double integrator begins at -180. */
    @Test
    void aLoopGainKeepsItsRangeAndItsMargins() {
        FrequencyResponse loop = FrequencyResponse.of("loop gain", "", GRID, f -> {
            Complex pole = s(f).divide(1000).add(1);
            return Complex.of(400).divide(s(f).multiply(pole).multiply(pole));
        });
        assertThat(loop.phase(0)).isCloseTo(-90 - 2 * degrees(2 * Math.PI / 1000), within(1e-9));
        // |L| = 1 where w (1 + w² / 1e6) = 400, w = 356.1 rad/s by that cubic
        double crossover = 2 * Math.PI * loop.margins().crossoverFrequency().orElseThrow();
        assertThat(crossover * (1 + crossover * crossover / 1e6)).isCloseTo(400, within(1e-6));
        assertThat(loop.margins().phaseMargin().orElseThrow())
                .isCloseTo(90 - 2 * degrees(crossover / 1000), within(1e-6));
        assertThat(loop.margins().gainMargin().orElseThrow())
                .as("at 1000 rad/s 400 / 2000")
                .isCloseTo(20 * Math.log10(5), within(1e-6));
        assertThat(loop.withFirstPhaseAbove(-180).margins()).isEqualTo(loop.margins());
        assertThat(loop.withFirstPhaseAbove(90).margins()).isEqualTo(loop.margins());
        FrequencyResponse twice = FrequencyResponse.of(
                "loop gain",
                "",
                GRID,
                f -> Complex.ONE
                        .divide(s(f).multiply(s(f)))
                        .multiply(s(f).divide(100).add(1)));
        assertThat(twice.phase(0)).isCloseTo(-180 + degrees(2 * Math.PI / 100), within(1e-9));
    }

    /** An integrator holds the output at low frequency: impedance and line response rise with s there, at 90 degrees. */
    @Test
    void responsesOfARegulatedRailBeginAtNinetyDegrees() {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(22e-6, 0.03)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(0.08)
                .rectifier(0.4, 0.02)
                .load(Load.resistor(2.5))
                .drive(VoltageMode.of(300e3, 1, 0.2, Compensator.type2(1500, 4557, 100e3))
                        .withRamp(0, 1)
                        .withMaximumDutyCycle(0.95));
        ConverterSmallSignal small = rail.steadyState().smallSignal();
        double[] grid = FrequencyResponse.decades(20, 50e3, 10);
        for (FrequencyResponse response :
                new FrequencyResponse[] {small.outputImpedance(grid), small.lineToOutput(grid)}) {
            assertThat(response.phase(0)).as(response.name()).isCloseTo(90, within(5.0));
            assertThat(IntStream.range(0, grid.length).mapToDouble(response::phase))
                    .as(response.name())
                    .allMatch(phase -> Math.abs(phase) <= 180);
        }
        assertThat(small.loopGain(grid).phase(0)).isCloseTo(-90, within(5.0));
    }
}
