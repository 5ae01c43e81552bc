package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.Regulator;
import org.voltsecond.converter.ErrorAmplifier.Branch;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;

/** Current mode whose command an amplifier with its parts makes, beside the transfer function that it is meant to have. */
class AmplifiedCurrentModeTest {
    private static final double FREQUENCY = 300e3;
    private static final double SENSE = 0.25;
    private static final double SLOPE = 0.2e6;
    private static final double R1 = 20e3;
    private static final double R2 = 10e3;
    private static final double C1 = 4.7e-9;
    private static final double C2 = 150e-12;
    private static final Compensator FUNCTION = Compensator.type2(
            1 / (R1 * (C1 + C2)), 1 / (2 * Math.PI * R2 * C1), (C1 + C2) / (2 * Math.PI * R2 * C1 * C2));

    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(80e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(2.5));
    }

    private static ErrorAmplifier amplifier(double gain, double bandwidth) {
        return new ErrorAmplifier(
                1, 0.2, OperationalAmplifier.of(gain, bandwidth, 0, 1), R1, new Branch(R2, C1), Branch.NONE, C2);
    }

    private static Converter parts(boolean peak, double gain, double bandwidth) {
        Regulator regulator = peak
                ? CurrentMode.withErrorAmplifier(CurrentMode.Extreme.PEAK, FREQUENCY, SENSE)
                        .withSlopeCompensation(SLOPE)
                : CurrentMode.withErrorAmplifier(CurrentMode.Extreme.VALLEY, FREQUENCY, SENSE)
                        .withSlopeCompensation(SLOPE);
        return stage().drive(regulator, amplifier(gain, bandwidth));
    }

    private static Converter function(boolean peak) {
        Regulator regulator = peak
                ? CurrentMode.peak(FREQUENCY, 1, 0.2, FUNCTION, SENSE).withSlopeCompensation(SLOPE)
                : CurrentMode.valley(FREQUENCY, 1, 0.2, FUNCTION, SENSE).withSlopeCompensation(SLOPE);
        return stage().drive(regulator);
    }

    /** The distance falls as 1 / bandwidth: two bandwidths tell what is left without it (Richardson). */
    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void itsLoopGainNearsThatOfItsTransferFunction(boolean peak) {
        double[] frequencies = {100, 1e3, 5e3, 20e3, 60e3, 140e3};
        FrequencyResponse expected = function(peak).steadyState().smallSignal().loopGain(frequencies);
        FrequencyResponse slow =
                parts(peak, 1e12, 2e9).steadyState().smallSignal().loopGain(frequencies);
        FrequencyResponse fast =
                parts(peak, 1e12, 4e9).steadyState().smallSignal().loopGain(frequencies);
        for (int i = 0; i < frequencies.length; i++) {
            double size = expected.value(i).magnitude();
            double distance = slow.value(i).subtract(expected.value(i)).magnitude() / size;
            Complex limit = fast.value(i).multiply(2).subtract(slow.value(i));
            assertThat(distance).isBetween(1e-8, 1e-3);
            assertThat(limit.subtract(expected.value(i)).magnitude() / size)
                    .as("at %s Hz", frequencies[i])
                    .isCloseTo(0, within(3e-3 * distance + 1e-8));
        }
    }

    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void itAnswersALoadStepAsItsTransferFunctionDoes(boolean peak) {
        double[] peaks = {2e8, 2e9, Double.NaN};
        for (int i = 0; i < 3; i++) {
            Converter rail = i < 2 ? parts(peak, 1e9, peaks[i]) : function(peak);
            ConverterTransient run =
                    rail.transientFromSteadyState(0.4e-3, Change.at(20e-6).load(Load.resistor(5)));
            assertThat(run.audit().residual()).isLessThan(1e-9);
            peaks[i] = run.of(rail.outputVoltage()).maximum();
        }
        assertThat(peaks[2]).isGreaterThan(5.01);
        assertThat(Math.abs(peaks[0] - peaks[2])).isBetween(1e-7, 2e-3);
        assertThat(Math.abs(peaks[1] - peaks[2])).isLessThan(0.2 * Math.abs(peaks[0] - peaks[2]));
    }

    /** The highest output of the amplifier is the highest current that is commanded, less the compensating slope. */
    @Test
    void itsLimitsAndItsSoftStartAreThoseOfTheAmplifier() {
        CurrentMode regulator = CurrentMode.withErrorAmplifier(CurrentMode.Extreme.PEAK, FREQUENCY, SENSE);
        ErrorAmplifier amplifier = amplifier(1e6, 50e6);
        Converter hard = stage().drive(regulator, amplifier);
        Converter soft = stage().drive(regulator, amplifier.withSoftStart(2e-3));
        double limited = hard.startUp(1e-3).of(hard.inductorCurrent()).maximum();
        assertThat(limited).isCloseTo(1 / SENSE, within(1e-9));
        assertThat(soft.startUp(4e-3).of(soft.inductorCurrent()).maximum()).isLessThan(0.75 * limited);
        assertThat(soft.startUp(4e-3).of(soft.outputVoltage()).at(4e-3)).isCloseTo(5, within(0.02));
    }

    @Test
    void whatIsPartOfTheCircuitIsNotSetInTheRegulator() {
        CurrentMode regulator = CurrentMode.withErrorAmplifier(CurrentMode.Extreme.PEAK, FREQUENCY, SENSE);
        assertThatThrownBy(() -> regulator.withSoftStart(1e-3)).hasMessageContaining("made by the circuit");
        assertThatThrownBy(() -> regulator.withControlLimits(0, 1)).hasMessageContaining("made by the circuit");
        assertThatThrownBy(() -> regulator.withReference(2)).hasMessageContaining("made by the circuit");
        assertThatThrownBy(() -> stage().drive(regulator)).hasMessageContaining("there is none");
        assertThatThrownBy(() -> stage().drive(
                                CurrentMode.withErrorAmplifier(CurrentMode.Extreme.VALLEY, FREQUENCY, 0),
                                amplifier(1e6, 50e6)))
                .hasMessageContaining("sense factor must be");
    }

    @Test
    void theStartOfTheRectifierNeedsTheSoftStartOfARegulator() {
        Regulator atStart = CurrentMode.withErrorAmplifier(CurrentMode.Extreme.PEAK, FREQUENCY, SENSE)
                .withProtection(
                        Protection.none().withSynchronousRectification(Rectification.DIODE_EMULATION_AT_START, 0));
        assertThatThrownBy(() -> stage().drive(atStart, amplifier(1e6, 50e6).withSoftStart(1e-3)))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("soft start is that of the error amplifier");
    }
}
