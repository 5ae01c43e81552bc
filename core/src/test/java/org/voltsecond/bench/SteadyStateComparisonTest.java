package org.voltsecond.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** Captures made from shapes of which period, phase, mean, ripple and duty factor are known. */
class SteadyStateComparisonTest {
    private static final double T = 4e-6;

    /** 12 V for a share of the period that begins at a phase, else -0.4 V. */
    private static double square(double turns, double duty) {
        return turns - Math.floor(turns) < duty ? 12 : -0.4;
    }

    /** From 1 A to 3 A in a share of the period and back. */
    private static double triangle(double turns, double duty) {
        double phase = turns - Math.floor(turns);
        return 1 + 2 * (phase < duty ? phase / duty : (1 - phase) / (1 - duty));
    }

    private static Waveform node(double duty) {
        return Waveform.of(
                "switch node",
                Unit.VOLT,
                List.of(Piece.of(0, duty * T, new double[] {12}), Piece.of(duty * T, (1 - duty) * T, new double[] {-0.4
                })));
    }

    private static Waveform current(double duty) {
        return Waveform.of(
                "inductor current",
                Unit.AMPERE,
                List.of(
                        Piece.of(0, duty * T, new double[] {1, 2}),
                        Piece.of(duty * T, (1 - duty) * T, new double[] {3, -2})));
    }

    private static Capture capture(Unit unit, double interval, int size, double noise, DoubleUnaryOperator shape) {
        Random random = new Random(20260101);
        double[] values = new double[size];
        for (int i = 0; i < size; i++) {
            values[i] = shape.applyAsDouble(3e-3 + i * interval) + noise * random.nextGaussian();
        }
        return Capture.sampled("channel 1", unit, 3e-3, interval, values);
    }

    /** A probe on the wrong point shows a line; nothing can be aligned by that. */
    @Test
    void aConstantCaptureHasNothingToAlignBy() {
        SteadyStateComparison comparison =
                SteadyStateComparison.of(capture(Unit.VOLT, 10e-9, 10_000, 0, t -> 5), node(0.45));
        assertThat(comparison.alignment()).isEqualTo("nothing");
        assertThat(comparison.correlation()).isEmpty();
        assertThat(comparison.measured().mean()).isCloseTo(5, within(1e-12));
    }

    @Test
    void edgesGivePeriodPhaseAndDutyFactor() {
        double period = 1.004 * T;
        double phase = 0.37 * T;
        Capture capture = capture(Unit.VOLT, 10e-9, 10_000, 0.15, t -> 0.2 + square((t - phase) / period, 0.43));
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, node(0.45));
        assertThat(comparison.isAlignedByEdges()).isTrue();
        PeriodFigures measured = comparison.measured();
        assertThat(measured.frequency().getAsDouble()).isCloseTo(1 / period, within(1e-4 / period));
        assertThat(measured.dutyFactor().getAsDouble()).isCloseTo(0.43, within(0.001));
        assertThat(measured.mean()).isCloseTo(0.2 + 0.43 * 12 - 0.57 * 0.4, within(0.02));
        assertThat(measured.ripple()).isCloseTo(12.4, within(0.25));
        assertThat(comparison.simulated().dutyFactor().getAsDouble()).isCloseTo(0.45, within(1e-12));
        assertThat(comparison.simulated().frequency().getAsDouble()).isCloseTo(1 / T, within(1e-6));
        assertThat(comparison.simulated().mean()).isCloseTo(0.45 * 12 - 0.55 * 0.4, within(1e-12));
        double turns = (comparison.origin() - phase) / period;
        assertThat(turns - Math.rint(turns)).isCloseTo(0, within(0.003));
        assertThat(comparison.correlation().getAsDouble()).isGreaterThan(0.95);
    }

    /** The rising edge need not be where the simulated period begins. */
    @Test
    void originIsTheBeginOfTheSimulatedPeriodNotItsEdge() {
        Waveform late = Waveform.of(
                "switch node",
                Unit.VOLT,
                List.of(
                        Piece.of(0, 0.25 * T, new double[] {-0.4}),
                        Piece.of(0.25 * T, 0.5 * T, new double[] {12}),
                        Piece.of(0.75 * T, 0.25 * T, new double[] {-0.4})));
        Capture capture = capture(Unit.VOLT, 10e-9, 10_000, 0, t -> square(t / T - 0.25, 0.5));
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, late);
        assertThat(comparison.isAlignedByEdges()).isTrue();
        double turns = comparison.origin() / T;
        assertThat(turns - Math.rint(turns)).isCloseTo(0, within(0.003));
        assertThat(comparison.simulated().dutyFactor().getAsDouble()).isCloseTo(0.5, within(1e-12));
        assertThat(comparison.measured().dutyFactor().getAsDouble()).isCloseTo(0.5, within(1e-3));
    }

    @Test
    void withoutEdgesCorrelationAligns() {
        double period = 0.985 * T;
        double phase = 0.81 * T;
        Capture capture = capture(Unit.AMPERE, 20e-9, 20_000, 0.5, t -> triangle((t - phase) / period, 0.4));
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, current(0.4));
        assertThat(comparison.isAlignedByEdges()).isFalse();
        assertThat(comparison.measured().dutyFactor()).isEmpty();
        assertThat(comparison.simulated().dutyFactor()).isEmpty();
        assertThat(comparison.measured().frequency().getAsDouble()).isCloseTo(1 / period, within(2e-4 / period));
        assertThat(comparison.measured().mean()).isCloseTo(2, within(0.02));
        // Raw, the noise makes it more than twice as much; the average of a hundred periods leaves a little of it.
        assertThat(capture.maximum() - capture.minimum()).isGreaterThan(4.5);
        assertThat(comparison.measured().ripple()).isCloseTo(2, within(0.3));
        double turns = (comparison.origin() - phase) / period;
        assertThat(turns - Math.rint(turns)).isCloseTo(0, within(0.02));
        assertThat(comparison.correlation().getAsDouble()).isGreaterThan(0.98);
    }

    @Test
    void identicalSignalsDifferByNothing() {
        Capture capture = capture(Unit.AMPERE, T / 400, 8_001, 0, t -> triangle(t / T, 0.4));
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, current(0.4));
        assertThat(comparison.measured().frequency().getAsDouble()).isCloseTo(1 / T, within(1e-4 / T));
        assertThat(comparison.measured().ripple()).isCloseTo(2, within(0.01));
        assertThat(comparison.rmsDifference()).isLessThan(0.01);
        assertThat(comparison.correlation().getAsDouble()).isCloseTo(1, within(1e-4));
        Waveform captured = comparison.captured(3);
        Waveform simulated = comparison.simulated(3);
        assertThat(captured.startTime()).isCloseTo(simulated.startTime(), within(1e-3 * T));
        assertThat(captured.endTime()).isCloseTo(simulated.endTime(), within(1e-3 * T));
        for (double turns = 0.1; turns < 2.9; turns += 0.1) {
            assertThat(captured.at(turns * T)).isCloseTo(simulated.at(turns * T), within(0.02));
        }
    }

    @Test
    void noiseAloneTellsNoFrequency() {
        Capture capture = capture(Unit.AMPERE, 20e-9, 20_000, 0.5, t -> 2);
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, current(0.4));
        assertThat(comparison.measured().frequency()).isEmpty();
        assertThat(comparison.measured().mean()).isCloseTo(2, within(0.02));
    }

    @Test
    void fewPeriodsWithoutEdgesTellNoFrequency() {
        Capture capture = capture(Unit.AMPERE, 20e-9, 1_000, 0, t -> triangle(t / T, 0.4));
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, current(0.4));
        assertThat(comparison.measured().frequency()).isEmpty();
        assertThat(comparison.rmsDifference()).isLessThan(0.02);
    }

    @Test
    void flatSignalHasNoCorrelation() {
        Waveform flat = Waveform.of("output", Unit.VOLT, List.of(Piece.of(0, T, new double[] {5})));
        Capture capture = capture(Unit.VOLT, 20e-9, 2_000, 0.01, t -> 5.1);
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, flat);
        assertThat(comparison.correlation()).isEmpty();
        assertThat(comparison.measured().mean() - comparison.simulated().mean()).isCloseTo(0.1, within(0.002));
    }

    /** A probe that rings is still read by its levels; a pulse is one pulse however noisy. */
    @Test
    void ringingAndNoiseMakeNoEdgesOfTheirOwn() {
        Capture capture = capture(Unit.VOLT, 10e-9, 10_000, 0.5, t -> {
            double phase = t / T - Math.floor(t / T);
            double since = phase < 0.3 ? phase : phase - 0.3;
            double ring = 4 * Math.exp(-since / 0.03) * Math.sin(2 * Math.PI * since / 0.02);
            return square(t / T, 0.3) + (phase < 0.3 ? ring : -ring);
        });
        SteadyStateComparison comparison = SteadyStateComparison.of(capture, node(0.3));
        assertThat(comparison.isAlignedByEdges()).isTrue();
        assertThat(comparison.measured().frequency().getAsDouble()).isCloseTo(1 / T, within(1e-3 / T));
        assertThat(comparison.measured().dutyFactor().getAsDouble()).isCloseTo(0.3, within(0.005));
    }

    @Test
    void capturesThatDoNotServeAreRefused() {
        Capture brief = capture(Unit.VOLT, 10e-9, 600, 0, t -> square(t / T, 0.4));
        refused(brief, node(0.4), "less than 2.5 of the simulated periods");
        Capture coarse = capture(Unit.VOLT, T / 5, 600, 0, t -> square(t / T, 0.4));
        refused(coarse, node(0.4), "at least 8 are needed");
        Capture ampere = capture(Unit.AMPERE, 10e-9, 2_000, 0, t -> square(t / T, 0.4));
        refused(ampere, node(0.4), "is in A but switch node is in V");
    }

    private static void refused(Capture capture, Waveform period, String message) {
        assertThatThrownBy(() -> SteadyStateComparison.of(capture, period))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining(message);
    }
}
