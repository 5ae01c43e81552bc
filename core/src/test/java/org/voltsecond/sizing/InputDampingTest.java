package org.voltsecond.sizing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.SourceInteraction;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.Load;
import org.voltsecond.units.PreferredSeries;
import org.voltsecond.units.Result;

/** The damping branch of an input filter: the formulas against the impedance itself, and what is proposed. */
class InputDampingTest {
    private static final double FREQUENCY = kilo(300);
    private static final double[] GRID = FrequencyResponse.decades(100, kilo(100), 40);

    private static PowerStage stage(InputFilter filter) {
        return PowerStage.buck()
                .input(12)
                .with(filter)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(1));
    }

    private static double peak(double branch, double ohm) {
        Converter converter = stage(InputFilter.of(micro(47), micro(4.7)).withDamping(ohm, branch))
                .drive(Drive.fixedDuty(0.4, FREQUENCY));
        return SourceInteraction.of(converter.steadyState(), GRID)
                .get()
                .sourceImpedance()
                .peak()
                .magnitude();
    }

    @ParameterizedTest
    @ValueSource(doubles = {4.7, 22, 100})
    void noOtherResistanceMakesTheImpedanceLower(double microfarad) {
        double branch = micro(microfarad);
        double best = InputDamping.optimalResistance(micro(47), micro(4.7), branch);
        double lowest = InputDamping.lowestPeak(micro(47), micro(4.7), branch);
        assertThat(peak(branch, best)).isCloseTo(lowest, within(1e-6 * lowest));
        assertThat(peak(branch, 0.97 * best)).isGreaterThan(1.0001 * lowest);
        assertThat(peak(branch, 1.03 * best)).isGreaterThan(1.0001 * lowest);
    }

    @Test
    void whatIsProposedIsStableAndKeepsTheImpedancesApart() {
        Compensator compensator = Compensator.type3(40e3, kilo(4), kilo(5), kilo(100), kilo(150));
        Converter ringing = stage(InputFilter.of(micro(47), micro(4.7)))
                .drive(VoltageMode.of(FREQUENCY, 1, 0.2, compensator)
                        .withRamp(0, 1)
                        .withMaximumDutyCycle(0.95));
        ConverterSteadyState steady = ringing.steadyState();
        assertThat(steady.periodic().isStable()).isFalse();
        InputDamping proposed = InputDamping.of(
                        steady, SourceInteraction.of(steady, GRID).get())
                .get();
        assertThat(PreferredSeries.E6.nearest(proposed.capacitance())).isEqualTo(proposed.capacitance());
        assertThat(PreferredSeries.E24.nearest(proposed.resistance())).isEqualTo(proposed.resistance());
        ConverterSteadyState damped = stage(InputFilter.of(micro(47), micro(4.7))
                        .withDamping(proposed.resistance(), proposed.capacitance()))
                .drive(ringing.regulator())
                .steadyState();
        assertThat(damped.periodic().isStable()).isTrue();
        SourceInteraction after = SourceInteraction.of(damped, GRID).get();
        assertThat(after.isMet()).isTrue();
        assertThat(after.openLoopSeparation().decibels())
                .isCloseTo(proposed.interaction().openLoopSeparation().decibels(), within(1e-6));
    }

    /** A filter whose inductance needs more than fifty times its capacitance is better changed itself, and that is said. */
    @Test
    void whereNoBranchIsEnoughThatIsSaid() {
        Converter converter = stage(InputFilter.of(milli(1), micro(1))).drive(Drive.fixedDuty(0.4, FREQUENCY));
        ConverterSteadyState steady = converter.steadyState();
        Result<InputDamping> found =
                InputDamping.of(steady, SourceInteraction.of(steady, GRID).get());
        assertThat(found.exists()).isFalse();
        assertThat(found.reason())
                .contains("no branch of up to 50 times the 1 µF")
                .contains("1 mH");
    }
}
