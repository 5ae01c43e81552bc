package org.voltsecond.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** Captures made from curves of which the shift is known; those with noise are made with a seed, none is measured. */
class TransientComparisonTest {
    private static final double TAU = 1e-3;
    private static final double END = 10e-3;
    private static final double STEP = 2e-3;

    /** A first-order step of 5 V at 2 ms. */
    private static double exponential(double time) {
        return time < STEP ? 0 : -5 * Math.expm1(-(time - STEP) / TAU);
    }

    /** The same in pieces of a third degree through its value and slope at both ends (Hermite): right to 1e-9 V. */
    private static Waveform run() {
        List<Piece> pieces = new ArrayList<>();
        pieces.add(Piece.of(0, STEP, new double[] {0}));
        int count = 800;
        double h = (END - STEP) / count;
        for (int i = 0; i < count; i++) {
            double start = STEP + i * h;
            double y0 = exponential(start);
            double y1 = exponential(start + h);
            double m0 = (5 - y0) * h / TAU;
            double m1 = (5 - y1) * h / TAU;
            pieces.add(Piece.of(start, h, new double[] {y0, m0, 3 * (y1 - y0) - 2 * m0 - m1, 2 * (y0 - y1) + m0 + m1}));
        }
        return Waveform.unbroken("output voltage", Unit.VOLT, pieces);
    }

    /** Begins at its own 3 s; the instant of the run there is told. */
    private static Capture capture(double at, double interval, int size, double noise, DoubleUnaryOperator curve) {
        Random random = new Random(20260101);
        double[] values = new double[size];
        for (int i = 0; i < size; i++) {
            values[i] = curve.applyAsDouble(at + i * interval) + noise * random.nextGaussian();
        }
        return Capture.sampled("channel 1", Unit.VOLT, 3, interval, values);
    }

    @Test
    void shiftOfAStepIsFoundWithoutNoise() {
        for (double at : new double[] {0.4321e-3, 1e-3, 2.6e-3}) {
            TransientComparison comparison =
                    TransientComparison.of(capture(at, 1e-6, 5_001, 0, TransientComparisonTest::exponential), run());
            assertThat(comparison.shift() + 3).as("begins at %s s", at).isCloseTo(at, within(1e-7));
            assertThat(comparison.isAlignedByEdges()).isFalse();
            assertThat(comparison.largestDifference()).isLessThan(1e-3);
            assertThat(comparison.rmsDifference()).isLessThan(5e-4);
            assertThat(comparison.measured().frequency()).isEmpty();
            assertThat(comparison.simulated().dutyFactor()).isEmpty();
        }
    }

    /** The bound of Cramer and Rao (from memory) for a known curve: noise over the root of the sum of squared slopes. */
    @Test
    void noiseMovesItByNoMoreThanItMust() {
        double interval = 1e-6;
        int size = 6_001;
        double noise = 0.05;
        double at = 1.2345e-3;
        double slopes = 0;
        for (int i = 0; i < size; i++) {
            double time = at + i * interval;
            double slope = time < STEP ? 0 : 5 / TAU * Math.exp(-(time - STEP) / TAU);
            slopes += slope * slope;
        }
        double bound = noise / Math.sqrt(slopes);
        TransientComparison comparison =
                TransientComparison.of(capture(at, interval, size, noise, TransientComparisonTest::exponential), run());
        assertThat(bound).isCloseTo(0.45e-6, within(0.05e-6));
        assertThat(comparison.shift() + 3).isCloseTo(at, within(4 * bound));
        assertThat(comparison.rmsDifference()).isCloseTo(noise, within(0.03 * noise));
        assertThat(comparison.largestDifference()).isBetween(3 * noise, 6 * noise);
        assertThat(comparison.measured().mean() - comparison.simulated().mean())
                .isCloseTo(0, within(4 * noise / Math.sqrt(size)));
    }

    @Test
    void offsetOfTheProbeMovesNothingAndIsTold() {
        Capture capture = capture(1.5e-3, 1e-6, 5_001, 0, time -> 0.25 + exponential(time));
        TransientComparison comparison = TransientComparison.of(capture, run());
        assertThat(comparison.shift() + 3).isCloseTo(1.5e-3, within(1e-7));
        assertThat(comparison.measured().mean() - comparison.simulated().mean()).isCloseTo(0.25, within(1e-3));
        assertThat(comparison.differences()).startsWith("mean +250 mV").contains("lowest +250 mV", "RMS");
    }

    /** The probe was waiting when the step came: the capture begins before the run does. */
    @Test
    void captureMayBeginBeforeTheRun() {
        TransientComparison comparison = TransientComparison.of(
                capture(-1.5e-3, 2e-6, 4_001, 0.02, TransientComparisonTest::exponential), run());
        assertThat(comparison.shift() + 3).isCloseTo(-1.5e-3, within(2e-6));
        assertThat(comparison.run().startTime()).isZero();
        assertThat(comparison.captured().startTime()).isCloseTo(0, within(1e-12));
        assertThat(comparison.run().endTime()).isCloseTo(6.5e-3, within(2e-6));
    }

    private static final double T = 4e-6;

    /** Pulses that widen from a duty cycle of 0.1 to 0.5 over 250 periods. */
    private static double duty(int period) {
        return 0.1 + 0.4 * period / 250;
    }

    private static double pulses(double time) {
        int period = (int) Math.floor(time / T);
        return time / T - period < duty(period) ? 12 : -0.4;
    }

    private static Waveform widening() {
        List<Piece> pieces = new ArrayList<>();
        for (int k = 0; k < 250; k++) {
            double on = duty(k) * T;
            pieces.add(Piece.of(k * T, on, new double[] {12}));
            pieces.add(Piece.of(k * T + on, T - on, new double[] {-0.4}));
        }
        return Waveform.of("switch node", Unit.VOLT, pieces);
    }

    @Test
    void edgesTellTheShiftOfPulsesThatWiden() {
        double at = 303.21e-6;
        TransientComparison comparison =
                TransientComparison.of(capture(at, 20e-9, 20_001, 0.2, TransientComparisonTest::pulses), widening());
        assertThat(comparison.isAlignedByEdges()).isTrue();
        assertThat(comparison.shift() + 3).isCloseTo(at, within(10e-9));
        assertThat(comparison.measured().frequency().orElseThrow()).isCloseTo(1 / T, within(1e-3 / T));
        assertThat(comparison.simulated().frequency().orElseThrow()).isCloseTo(1 / T, within(1e-6 / T));
        // the capture holds the periods 76 to 175: a mean of 0.1 + 0.4 * 125.5 / 250
        assertThat(comparison.simulated().dutyFactor().orElseThrow()).isCloseTo(0.3, within(2e-3));
        assertThat(comparison.measured().dutyFactor().orElseThrow()).isCloseTo(0.3, within(3e-3));
        assertThat(comparison.differences()).contains("frequency ", "duty factor ");
    }

    @Test
    void capturesThatDoNotServeAreRefused() {
        Waveform run = run();
        refused(capture(0, 1e-6, 25_000, 0, time -> 1), run, "lasts");
        refused(capture(0, 1e-9, 5_000, 0, time -> 1), run, "valid: from a thousandth of the run to twice the run");
        refused(capture(0, 1e-3, 6, 0, time -> 1), run, "has only 6 samples; at least 16 are needed");
        Capture ampere = Capture.sampled("probe", Unit.AMPERE, 0, 1e-4, new double[50]);
        refused(ampere, run, "is in A but output voltage is in V");
    }

    private static void refused(Capture capture, Waveform run, String message) {
        assertThatThrownBy(() -> TransientComparison.of(capture, run))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining(message);
    }
}
