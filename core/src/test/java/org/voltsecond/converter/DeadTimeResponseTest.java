package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Load;

/**
 * A dead time counts from the instant at which a comparator switches, so that it moves with that instant. Held against
 * differences of steady states, which know nothing of moving instants.
 */
class DeadTimeResponseTest {
    private static final double STEP = 1e-4;

    private static Converter rail(double deadTime, double input, double reference) {
        VoltageMode regulator = VoltageMode.of(300e3, reference, 0.2, Compensator.proportional(4, 0.4));
        return PowerStage.buck()
                .input(input)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(80e-3)
                .bodyDiode(0.8, 20e-3)
                .synchronousRectifier(20e-3, 0.8, 20e-3)
                .load(Load.resistor(2.5))
                .drive(regulator.withProtection(
                        Protection.none().withSynchronousRectification(Rectification.FORCED, deadTime)));
    }

    private static double output(Converter converter) {
        return converter.steadyState().of(converter.outputVoltage()).mean();
    }

    @ParameterizedTest
    @ValueSource(doubles = {50e-9, 200e-9})
    void slowChangesOfTheLineAreThoseOfSteadyStates(double deadTime) {
        double slow = rail(deadTime, 12, 1)
                .steadyState()
                .smallSignal()
                .lineToOutput(0.01)
                .value(0)
                .real();
        double expected = (output(rail(deadTime, 12 + STEP, 1)) - output(rail(deadTime, 12 - STEP, 1))) / (2 * STEP);
        assertThat(slow).isCloseTo(expected, within(1e-6)).isGreaterThan(0.01);
    }

    @ParameterizedTest
    @ValueSource(doubles = {50e-9, 200e-9})
    void derivativesAreThoseOfSteadyStates(double deadTime) {
        double found = rail(deadTime, 12, 1)
                .steadyState()
                .sensitivities()
                .of(StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE))
                .withRespectTo(Parameter.reference());
        double expected = (output(rail(deadTime, 12, 1 + STEP)) - output(rail(deadTime, 12, 1 - STEP))) / (2 * STEP);
        assertThat(found).isCloseTo(expected, within(1e-6 * expected));
    }
}
