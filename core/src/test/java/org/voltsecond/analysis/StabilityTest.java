package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.reference.PublishedBuck;
import org.voltsecond.stage.Load;

/** Which instability is near, and what comes of it. */
class StabilityTest {
    @ParameterizedTest
    @CsvSource({"20, 1", "24.4, 1", "24.6, 2", "28, 2", "31.0, 2", "31.2, 4", "32.0, 4", "32.12, 8"})
    void periodsDoubleWhereTheMultipliersSay(double input, int periods) {
        Bifurcation seen = sweep(new double[] {20, input}, 4000, 64);
        assertThat(seen.points().get(1).periods()).isEqualTo(periods);
        assertThat(seen.points().get(0).periods()).isEqualTo(1);
    }

    @Test
    void noPeriodIsLeftInChaos() {
        Bifurcation seen = sweep(new double[] {24, 33}, 2000, 400);
        assertThat(seen.points().get(1).periods()).isZero();
        assertThat(seen.points().get(1).samples()).hasSize(400);
        assertThat(seen.signal()).isEqualTo("output voltage");
        assertThat(seen.unit()).isEqualTo("V");
    }

    private static Bifurcation sweep(double[] inputs, int settling, int samples) {
        return Bifurcation.sweep(
                inputs,
                v -> PublishedBuck.at(v).driven(),
                driven -> PublishedBuck.at(20).outputVoltage(),
                settling,
                samples);
    }

    @Test
    void samplesOfASteadyStateAreItsStartValue() {
        double start = PublishedBuck.at(22)
                .steadyState()
                .of(PublishedBuck.at(22).outputVoltage())
                .at(0);
        assertThat(sweep(new double[] {22}, 400, 3).points().get(0).samples())
                .allSatisfy(sample -> assertThat(sample).isCloseTo(start, within(1e-10)));
    }

    @Test
    void namesThePeriodDoublingAhead() {
        Instability near = nearest(PublishedBuck.at(24.5));
        assertThat(near.kind()).isEqualTo(Instability.Kind.PERIOD_DOUBLING);
        assertThat(near.frequency()).isEqualTo(1250);
        assertThat(near.multiplier().real()).isCloseTo(-0.99624, within(0.51e-5));
        assertThat(near.damping()).isCloseTo(-Math.log(0.99624) / Math.PI, within(1e-5));
        assertThat(nearest(PublishedBuck.at(25)).damping()).isNegative();
        assertThat(nearest(PublishedBuck.at(24)).kind()).isEqualTo(Instability.Kind.PERIOD_DOUBLING);
    }

    /** With a ramp of half the falling slope every duty cycle is stable (Fundamentals of Power Electronics, sec. 18.2). */
    @Test
    void namesTheSubharmonicOfPeakCurrentMode() {
        DoubleFunction<Converter> boost = ramp -> PowerStage.boost()
                .input(20)
                .inductor(200e-6)
                .outputCapacitor(200e-6)
                .load(Load.resistor(25))
                .drive(CurrentMode.peak(100e3, 5.5).withSlopeCompensation(ramp));
        Instability without = nearest(boost.apply(0));
        assertThat(without.kind()).isEqualTo(Instability.Kind.PERIOD_DOUBLING);
        assertThat(without.damping()).isNegative();
        assertThat(nearest(boost.apply(150e3)).damping()).isPositive();
    }

    /**
     * A loop gain T0 = 7/3 about a filter of 1006.58 Hz and Q0 = 9.4868 (phase margin 4.7 degrees) moves its resonance to
     * f0 sqrt(1 + T0), with Q = Q0 sqrt(1 + T0): R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, sec. 9.4.
     */
    @Test
    void namesTheSlowOscillationOfALoopWithoutMargin() {
        Instability near = nearest(PowerStage.buck()
                .input(28)
                .inductor(50e-6)
                .outputCapacitor(500e-6)
                .load(Load.resistor(3))
                .synchronousRectifier(0)
                .drive(VoltageMode.of(100e3, 5, 1 / 3.0, Compensator.proportional(1, 15 / 7.0))
                        .withRamp(0, 4)));
        assertThat(near.kind()).isEqualTo(Instability.Kind.SLOW_OSCILLATION);
        assertThat(near.frequency()).isCloseTo(1006.58 * Math.sqrt(10 / 3.0), within(5.0));
        double damping = 1 / (2 * 9.4868 * Math.sqrt(10 / 3.0));
        assertThat(near.damping()).isCloseTo(damping, within(0.005 * damping));
    }

    @Test
    void whatMerelyCreepsIsWellDamped() {
        Instability near = nearest(PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6)
                .load(Load.resistor(500))
                .drive(Drive.fixedDuty(0.3, 100e3)));
        assertThat(near.kind()).isEqualTo(Instability.Kind.SADDLE_NODE);
        assertThat(near.damping()).isEqualTo(1);
        assertThat(near.frequency()).isZero();
    }

    private static Instability nearest(Converter converter) {
        return Instability.nearestTo(converter.steadyState().periodic());
    }

    @Test
    void aSweepWithoutValuesOrClockIsRefused() {
        assertThatThrownBy(() -> sweep(new double[0], 1, 1)).hasMessageContaining("at least 1 value");
        DrivenCircuit free = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6, 0.05)
                .load(Load.resistor(2.5))
                .drive(Hysteretic.voltageBand(200e3, 5, 1, 0.02))
                .driven();
        assertThatThrownBy(
                        () -> Bifurcation.sweep(new double[] {1}, v -> free, driven -> driven.nodeVoltage("out"), 1, 1))
                .hasMessageContaining("no clock");
    }
}
