package org.voltsecond.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Limiter;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.Occasions;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.losses.HeatedBody;
import org.voltsecond.review.Rating.Measure;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Span;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Tolerance;

/** Stresses, corners, regulation and dropout against closed forms. */
class ReviewTest {
    private static final OperatingCorners CORNERS = OperatingCorners.between(new Span(9, 15), new Span(0.2, 2));
    private static final Rating BLOCKED = Rating.of("transistor", Measure.VOLTAGE, 60, "Q1");

    /** A stage without drops: what is left of its closed forms is the ripple of a large capacitor. */
    private static Converter ideal(PowerStage stage, double duty) {
        return stage.input(12)
                .inductor(micro(22), 0)
                .outputCapacitor(0.1, 0)
                .transistor(0)
                .rectifier(0, 0)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(duty, kilo(300)));
    }

    private static StressCheck only(Review review) {
        assertThat(review.stresses()).hasSize(1);
        return review.stresses().get(0);
    }

    private static StressCheck worst(Converter converter, OperatingCorners corners, Rating rating) {
        return only(Review.of(ReviewPlan.of(corners, rating), converter, null));
    }

    /** The transistor of a buck stage blocks the input, and so does its rectifier: at the highest input 15 V. */
    @Test
    void aBuckStageBlocksTheHighestInput() {
        Converter buck = ideal(PowerStage.buck(), 0.45);
        StressCheck check = worst(buck, CORNERS, BLOCKED.derated(0.2));
        assertThat(check.check().value().get()).isCloseTo(15, within(1e-9));
        assertThat(check.where()).startsWith("corner 15 V, ");
        assertThat(check.rating().allowed()).isCloseTo(12, within(1e-12));
        assertThat(check.isMet()).isFalse();
        assertThat(check.verdict()).isEqualTo("not met, by 3.000 V (25.0 %)");
        Rating reverse = Rating.of("rectifier", Measure.VOLTAGE, 20, "D1");
        assertThat(worst(buck, CORNERS, reverse).check().value().get()).isCloseTo(15, within(1e-9));
        assertThat(worst(buck, CORNERS, reverse).isMet()).isTrue();
    }

    /**
     * The transistor of a boost stage blocks the output, V / (1 - D), with half its ripple of I D / (f C): to the curve that the ripple of
     * the inductor current gives it, some hundredth.
     */
    @Test
    void aBoostStageBlocksItsOutput() {
        Converter boost = ideal(PowerStage.boost(), 0.5);
        double output = 15 / 0.5;
        double ripple = output / 2.5 * 0.5 / (kilo(300) * 0.1);
        StressCheck check = worst(boost, OperatingCorners.between(new Span(9, 15), new Span(9.6, 9.6)), BLOCKED);
        assertThat(check.check().value().get()).isCloseTo(output + 0.5 * ripple, within(0.01 * ripple));
        assertThat(check.where()).isEqualTo("corner 15 V, 9.6 A");
    }

    /** That of an inverting stage blocks input and output together, V / (1 - D). */
    @Test
    void anInvertingStageBlocksInputAndOutput() {
        Converter inverting = ideal(PowerStage.invertingBuckBoost(), 0.4);
        StressCheck check = worst(inverting, OperatingCorners.between(new Span(9, 15), new Span(2, 2)), BLOCKED);
        assertThat(check.check().value().get()).isCloseTo(15 / 0.6, within(2e-4));
        assertThat(check.where()).isEqualTo("corner 15 V, 2 A");
    }

    /** Currents of a buck stage: triangles between I - r/2 and I + r/2, with r = V D (1 - D) / (f L). */
    @Test
    void currentsOfABuckStage() {
        Converter buck = ideal(PowerStage.buck(), 0.5);
        double ripple = 15 * 0.25 / (kilo(300) * micro(22));
        double mean = 7.5 / (6 / 2.0);
        double square = mean * mean + ripple * ripple / 12;
        assertThat(value(buck, Measure.CURRENT, "L1")).isCloseTo(mean + 0.5 * ripple, within(1e-5));
        assertThat(value(buck, Measure.RMS, "L1")).isCloseTo(Math.sqrt(square), within(1e-5));
        assertThat(value(buck, Measure.RMS, "Q1")).isCloseTo(Math.sqrt(0.5 * square), within(1e-5));
        assertThat(value(buck, Measure.MEAN, "D1")).isCloseTo(0.5 * mean, within(1e-5));
        assertThat(value(buck, Measure.RMS, "C1")).isCloseTo(ripple / Math.sqrt(12), within(1e-5));
    }

    private static double value(Converter converter, Measure measure, String part) {
        return worst(converter, CORNERS, Rating.of(part, measure, 10, part))
                .check()
                .value()
                .get();
    }

    @Test
    void theWorstOfSeveralPartsCounts() {
        Converter buck = ideal(PowerStage.buck(), 0.25);
        Rating both = Rating.of("semiconductors", Measure.RMS, 10, "Q1", "D1");
        StressCheck check = both.check(Occasions.of(buck.steadyState()));
        assertThat(check.part()).isEqualTo("D1");
        assertThat(check.toString())
                .startsWith("semiconductors RMS current of D1 1.")
                .contains(", 10.00 A rated: met, ");
    }

    /** A start from rest takes the inductor current far above that of any steady state. */
    @Test
    void aRunCountsToo() {
        Converter buck = ideal(PowerStage.buck(), 0.45).withOutputCapacitor(micro(47), 0);
        TransientFigures start = TransientFigures.of(buck.startUp(milli(1)), 0.02);
        Rating rating = Rating.of("inductor", Measure.CURRENT, 20, "L1");
        Review review = Review.of(ReviewPlan.of(CORNERS, rating), buck, start);
        assertThat(only(review).where()).isEqualTo("start");
        assertThat(only(review).check().value().get())
                .isEqualTo(start.start().get().peakInductorCurrent());
        TransientFigures step = TransientFigures.of(
                buck.transientFromSteadyState(milli(1), Change.at(milli(0.2)).input(24)), 0.02);
        assertThat(only(Review.of(ReviewPlan.of(CORNERS, BLOCKED), buck, step)).where())
                .isEqualTo("after the change at 200 µs");
    }

    /** With ideal parts and continuous conduction the output of a buck stage is D V whatever the load. */
    @Test
    void cornersHaveTheirFigures() {
        List<CornerState> states =
                OperatingCorners.between(new Span(9, 15), new Span(1, 2)).states(ideal(PowerStage.buck(), 0.45));
        assertThat(states.stream().map(CornerState::where))
                .containsExactly(
                        "corner 9 V, 1 A",
                        "corner 9 V, 2 A",
                        "corner 12 V, 1 A",
                        "corner 12 V, 2 A",
                        "corner 15 V, 1 A",
                        "corner 15 V, 2 A");
        for (CornerState state : states) {
            var steady = state.steady().get();
            assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
            assertThat(Figures.OUTPUT_VOLTAGE.in(steady))
                    .isCloseTo(0.45 * state.corner().inputVoltage(), within(1e-8));
            var told = CornerState.figures(List.of());
            assertThat(told.get(5).in(steady)).isCloseTo(state.corner().inputVoltage(), within(1e-9));
            assertThat(told.get(3).in(steady) - told.get(4).in(steady))
                    .isCloseTo(Figures.INDUCTOR_RIPPLE.in(steady), within(1e-12));
            assertThat(told.get(6).in(steady)).isCloseTo(0, within(1e-9));
        }
    }

    /** With the output held the duty cycle is that of the ideal ratio at each input. */
    @Test
    void anOutputMayBeHeldAtTheCorners() {
        Converter buck = ideal(PowerStage.buck(), 0.45);
        OperatingCorners held =
                OperatingCorners.between(new Span(9, 15), new Span(1, 2)).holding(5);
        for (CornerState state : held.states(buck)) {
            assertThat(Figures.DUTY_CYCLE.in(state.steady().get()))
                    .isCloseTo(5 / state.corner().inputVoltage(), within(1e-6));
        }
        // regulation is that of the duty cycle of the design all the same: D (15 - 9)
        Review review = Review.of(ReviewPlan.of(held, BLOCKED), buck, null);
        assertThat(Objects.requireNonNull(review.regulation()).line().get().change())
                .isCloseTo(2.7, within(1e-8));
        assertThat(review.dropout().reason()).contains("a fixed duty cycle regulates nothing");
    }

    /**
     * A synchronous buck stage is D V in series with D R_on + (1 - D) R_2 + R_L, for the mean. Ideal but for that of the ripple in a large
     * inductor.
     */
    @Test
    void loadRegulationIsThatOfTheResistances() {
        double duty = 0.45;
        double series = duty * milli(80) + (1 - duty) * milli(20) + milli(30);
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(milli(10), milli(30))
                .outputCapacitor(milli(1), 0)
                .transistor(milli(80))
                .synchronousRectifier(milli(20))
                .load(Load.current(2))
                .drive(Drive.fixedDuty(duty, kilo(300)));
        LineAndLoad moved = LineAndLoad.of(buck, CORNERS);
        assertThat(moved.load().get().change()).isCloseTo(-1.8 * series, within(1e-6));
        assertThat(moved.load().get().share()).isCloseTo(-1.8 * series / (duty * 12 - 2 * series), within(1e-6));
        assertThat(moved.line().get().change()).isCloseTo(duty * 6, within(1e-6));
    }

    private static Converter regulated(double maximumDuty) {
        return PowerStage.buck()
                .input(12)
                .inductor(milli(1), milli(30))
                .outputCapacitor(micro(47), 0)
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.current(2))
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                        .withRamp(0, 1)
                        .withMaximumDutyCycle(maximumDuty));
    }

    /** At the largest duty cycle: D (V - I R_on) = V_o + I R_L + (1 - D) (V_F + I R_D), and the output falls below. */
    @Test
    void dropoutFollowsFromTheLargestDutyCycle() {
        double duty = 0.9;
        double lowest = (5 + 2 * milli(30) + (1 - duty) * (0.4 + 2 * milli(20))) / duty + 2 * milli(80);
        Dropout dropout = Dropout.of(regulated(duty)).get();
        assertThat(dropout.inputVoltage()).isCloseTo(lowest, within(2e-5));
        assertThat(dropout.below()).isLessThan(dropout.inputVoltage()).isCloseTo(lowest, within(2e-5));
        assertThat(dropout.heldBy()).contains(Limiter.MAXIMUM_DUTY_CYCLE);
        LineAndLoad held = LineAndLoad.of(regulated(duty), CORNERS);
        assertThat(held.line().get().change()).isZero();
        assertThat(held.load().get().change()).isZero();
    }

    @Test
    void thereIsNoDropoutOfWhatIsNotRegulated() {
        assertThat(Dropout.of(regulated(0.9).withInput(5.2)).reason())
                .contains("not in regulation at its own input of 5.2 V");
        Converter current = ideal(PowerStage.buck(), 0.45).withRegulator(CurrentMode.peak(kilo(300), 1.5));
        assertThat(Dropout.of(current).reason()).contains("holds a current");
    }

    /** The ripple of the inductor current is largest with the least inductance; the on-resistance does next to nothing to it. */
    @Test
    void cornersOfTolerancesCount() {
        Converter buck = ideal(PowerStage.buck(), 0.5);
        ReviewPlan plan = new ReviewPlan(
                CORNERS,
                List.of(Rating.of("inductor", Measure.CURRENT, 4, "L1")),
                List.of(Tolerance.relative(buck, StageValue.INDUCTANCE, 0.2)),
                List.of(),
                null);
        StressCheck check = only(Review.of(plan, buck, null));
        double ripple = 15 * 0.25 / (kilo(300) * 0.8 * micro(22));
        assertThat(check.check().value().get()).isCloseTo(2.5 + 0.5 * ripple, within(1e-5));
        assertThat(check.where()).isEqualTo("corner 15 V, 2 A, inductance 17.60 µH");
    }

    /** T = Ta + R I² R_on D without a coefficient, largest at the lowest input, where the duty cycle is. */
    @Test
    void temperaturesAreRatedToo() {
        Converter buck = ideal(PowerStage.buck(), 0.45).withTransistor(milli(80));
        Rating hot = Rating.of("transistor", Measure.TEMPERATURE, 50, "Q1");
        HeatModel heat = HeatModel.at(40, HeatedBody.of("Q1", 60));
        StressCheck check = only(
                Review.of(new ReviewPlan(CORNERS.holding(5), List.of(hot), List.of(), List.of(), heat), buck, null));
        assertThat(check.where()).isEqualTo("corner 9 V, 2 A");
        double loss = check.check().value().get() - 40;
        assertThat(loss).isCloseTo(60 * 4 * milli(80) * 5.0 / 9, within(0.5));
        assertThat(check.isMet()).isFalse();
        StressCheck unknown = hot.check(Occasions.of(buck.steadyState()));
        assertThat(unknown.verdict()).contains("no thermal resistance is given");
    }

    @Test
    void valuesAreChecked() {
        assertThatThrownBy(() -> Rating.of("transistor", Measure.VOLTAGE, 0, "Q1"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("more than 0 V");
        assertThatThrownBy(() -> BLOCKED.derated(1.1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new OperatingCorners(new Span(15, 9), new Span(0, 2), -5))
                .isInstanceOf(SizingException.class)
                .hasMessageContaining("input voltage")
                .hasMessageContaining("load current")
                .hasMessageContaining("output voltage");
    }
}
