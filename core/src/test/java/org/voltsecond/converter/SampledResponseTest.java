package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.SampledControl;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;

/**
 * The frequency response beside digital control, against what multipliers and steady states say, which are worked out in
 * other ways.
 */
class SampledResponseTest {
    private static final double FREQUENCY = 300e3;

    /** With an integrator, sampled on the clock edge. */
    private static Converter integrating(double gain) {
        return driven(SampledControl.of(FREQUENCY, 1, 0.2, gain, -0.9 * gain).withDenominator(-1));
    }

    private static Converter driven(SampledControl regulator) {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(80e-3)
                .synchronousRectifier(20e-3)
                .load(Load.resistor(2.5))
                .drive(regulator);
    }

    private static Complex first(Converter converter) {
        return converter.steadyState().periodic().multipliers().stream()
                .filter(value -> value.imaginary() > 1e-6)
                .findFirst()
                .orElseThrow();
    }

    /** A multiplier exp(j theta) is a free oscillation of the frequency theta/(2 pi T): there the loop gain is -1. */
    @Test
    void theLoopGainIsMinusOneWhereAMultiplierLeavesTheUnitCircle() {
        double low = 0.001;
        double high = 0.5;
        assertThat(first(integrating(low)).magnitude()).isLessThan(1);
        assertThat(first(integrating(high)).magnitude()).isGreaterThan(1);
        for (int k = 0; k < 50; k++) {
            double middle = 0.5 * (low + high);
            if (first(integrating(middle)).magnitude() < 1) {
                low = middle;
            } else {
                high = middle;
            }
        }
        Converter critical = integrating(low);
        double oscillation = first(critical).argument() / (2 * Math.PI) * FREQUENCY;
        Complex gain =
                critical.steadyState().smallSignal().loopGain(oscillation).value(0);
        assertThat(gain.real()).isCloseTo(-1, within(1e-6));
        assertThat(gain.imaginary()).isCloseTo(0, within(1e-6));
    }

    /** At 0.01 Hz a line that changes slowly is followed from one steady state to the next. */
    @Test
    void slowChangesOfTheLineAreThoseOfSteadyStates() {
        Converter rail = driven(SampledControl.of(FREQUENCY, 1, 0.2, 0.2).withBias(0.4));
        double slow =
                rail.steadyState().smallSignal().lineToOutput(0.01).value(0).real();
        double step = 1e-4;
        assertThat(slow)
                .isCloseTo((output(rail, 12 + step) - output(rail, 12 - step)) / (2 * step), within(1e-6))
                .isGreaterThan(0.05);
    }

    private static double output(Converter rail, double input) {
        Converter there = rail.withInput(input);
        return there.steadyState().of(there.outputVoltage()).mean();
    }
}
