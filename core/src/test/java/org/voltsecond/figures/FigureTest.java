package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** A figure is a value or a reason, and one measurement has one name. */
class FigureTest {
    private static final Converter BUCK = PowerStage.buck()
            .input(12)
            .inductor(micro(22), 0)
            .outputCapacitor(micro(47), 0)
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.5, kilo(300)));

    @Test
    void aSheetTellsWhatTheSteadyStateHas() {
        ConverterSteadyState steady = BUCK.steadyState();
        FigureSheet<ConverterSteadyState> sheet = FigureSheet.of(steady);
        // ideal buck: the duty cycle of the input; ripple current (Vin - V) D T / L, ripple voltage T / (8 C) of that
        // (Erickson and Maksimovic, Fundamentals of Power Electronics, chapter 2; quoted from memory)
        assertThat(sheet.get(Figures.DUTY_CYCLE).get()).isEqualTo(0.5);
        assertThat(sheet.get(Figures.INDUCTOR_RIPPLE).get())
                .isCloseTo(6 * 0.5 / kilo(300) / micro(22), org.assertj.core.data.Offset.offset(1e-3));
        assertThat(sheet.get(Figures.EFFICIENCY).get()).isCloseTo(1, org.assertj.core.data.Offset.offset(1e-9));
    }

    @Test
    void whatDoesNotExistHasAReason() {
        ConverterSteadyState off = BUCK.withDutyCycle(0).steadyState();
        Result<Double> efficiency = FigureSheet.of(off).get(Figures.EFFICIENCY);
        assertThat(efficiency.exists()).isFalse();
        assertThat(efficiency).hasToString("none: the source delivers no power");
        assertThat(Figures.EFFICIENCY.in(off)).isNaN();
        assertThatThrownBy(efficiency::get).hasMessage("the source delivers no power");
    }

    @Test
    void oneMeasurementHasOneName() {
        StageFigure found = StageFigure.of(Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);
        assertThat(found).isEqualTo(Figures.OUTPUT_RIPPLE);
        assertThat(found.key()).isEqualTo("output_ripple");
        assertThat(Figures.stage()).extracting(StageFigure::key).doesNotHaveDuplicates();
        assertThat(StageFigure.of(StageMeasurement.of(Measure.ON_TIME)).key()).isEqualTo("on_time");
    }

    @Test
    void aFigureOfOnesOwnSaysWhatIsMissing() {
        Figure<ConverterSteadyState> none = Figure.of("heat of the sink", Unit.WATT, steady -> Double.NaN);
        assertThat(none.key()).isEqualTo("heat_of_the_sink");
        assertThat(none.of(BUCK.steadyState())).hasToString("none: this steady state has no heat of the sink");
    }

    @Test
    void resultsGoOnOrCarryTheReasonOn() {
        assertThat(Result.of(2).map(two -> two + 1)).isEqualTo(Result.of(3));
        assertThat(Result.<Integer>missing("nothing").map(two -> two + 1)).isEqualTo(Result.missing("nothing"));
        assertThat(Result.of(2).flatMap(two -> Result.missing("no"))).isEqualTo(Result.missing("no"));
        assertThat(Result.finite(Double.POSITIVE_INFINITY, "too large").orElse(0.0))
                .isZero();
    }
}
