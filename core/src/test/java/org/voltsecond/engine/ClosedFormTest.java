package org.voltsecond.engine;

import static java.lang.Math.abs;
import static java.lang.Math.cos;
import static java.lang.Math.exp;
import static java.lang.Math.expm1;
import static java.lang.Math.sin;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.engine.TestLaw.above;
import static org.voltsecond.engine.TestLaw.below;
import static org.voltsecond.engine.TestLaw.configuration;
import static org.voltsecond.engine.TestLaw.ones;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Systems whose solution is known in closed form, looked at in many points of every interval. */
class ClosedFormTest {
    private static final int POINTS = 21;

    /** The largest distance between a state and its closed form over all intervals. */
    private static double error(Trajectory run, int state, DoubleUnaryOperator exact) {
        double worst = 0;
        for (Interval interval : run.intervals()) {
            for (int i = 0; i < POINTS; i++) {
                double since = interval.duration() * i / (POINTS - 1);
                double value = interval.stateAt(since)[state];
                worst = Math.max(worst, abs(value - exact.applyAsDouble(interval.start() + since)));
            }
        }
        return worst;
    }

    private static Trajectory run(double[][] a, double[] b, double clockPeriod, double[] start, double duration) {
        Configuration only = configuration("only", clockPeriod, a, b, List.of());
        return Simulation.of(TestLaw.single(only, ones(b.length), clockPeriod)).record(start, duration);
    }

    @ParameterizedTest
    @CsvSource({"1e-6, 1e-3", "1e-3, 1e-3", "5e-2, 1e-3", "1, 1e-3"})
    void capacitorChargesThroughResistor(double clockPeriod, double timeConstant) {
        double volt = 12;
        double duration = 30 * Math.min(clockPeriod, timeConstant);
        Trajectory run = run(
                new double[][] {{-1 / timeConstant}},
                new double[] {volt / timeConstant},
                clockPeriod,
                new double[1],
                duration);
        assertThat(error(run, 0, t -> -volt * expm1(-t / timeConstant))).isLessThan(3e-14 * volt);
    }

    @Test
    void inductorCurrentDiesOut() {
        double ohm = 3;
        double henry = 22e-6;
        Trajectory run = run(new double[][] {{-ohm / henry}}, new double[1], 5e-6, new double[] {7}, 100e-6);
        assertThat(error(run, 0, t -> 7 * exp(-ohm / henry * t))).isLessThan(7e-14);
        // relative accuracy holds as well, since nothing is added
        double[] end = run.finalState();
        assertThat(end[0] / (7 * exp(-ohm / henry * 100e-6))).isCloseTo(1, within(1e-13));
    }

    @Test
    void undampedOscillatorKeepsItsEnergyOverTenThousandCycles() {
        double omega = 2 * Math.PI * 5e3;
        double clockPeriod = 1e-5;
        Configuration swing =
                configuration("swing", clockPeriod, new double[][] {{0, omega}, {-omega, 0}}, new double[2], List.of());
        double[] end = Simulation.of(TestLaw.single(swing, ones(2), clockPeriod))
                .finalState(new double[] {3, 4}, 10_000 / 5e3);
        assertThat(Math.hypot(end[0], end[1])).isCloseTo(5, within(1e-11));
        // the phase after whole cycles: round-off of 200,000 steps, nothing that grows with their number squared
        assertThat(end[0]).isCloseTo(3, within(1e-9));
        assertThat(end[1]).isCloseTo(4, within(1e-9));
    }

    @Test
    void dampedResonantCircuit() {
        double henry = 22e-6;
        double farad = 47e-6;
        double ohm = 0.2;
        double volt = 12;
        double alpha = ohm / (2 * henry);
        double omega = Math.sqrt(1 / (henry * farad) - alpha * alpha);
        double[] scale = {Math.sqrt(henry), Math.sqrt(farad)};
        Configuration only = Configuration.builder("resonant", scale, 2e-6)
                .dynamics(new double[][] {{-ohm / henry, -1 / henry}, {1 / farad, 0}}, new double[] {volt / henry, 0})
                .build();
        Trajectory run = Simulation.of(TestLaw.single(only, scale, 2e-6)).record(new double[2], 1e-3);
        DoubleUnaryOperator voltage =
                t -> volt * (1 - exp(-alpha * t) * (cos(omega * t) + alpha / omega * sin(omega * t)));
        DoubleUnaryOperator current = t -> volt / (omega * henry) * exp(-alpha * t) * sin(omega * t);
        assertThat(error(run, 1, voltage)).isLessThan(1e-13 * volt);
        assertThat(error(run, 0, current)).isLessThan(1e-13 * volt / (omega * henry));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 5, 8})
    void integratorChainsGivePowersOfTime(int n) {
        double[][] a = new double[n][n];
        for (int i = 1; i < n; i++) {
            a[i][i - 1] = 1;
        }
        double[] b = new double[n];
        b[0] = 1;
        Trajectory run = run(a, b, 0.75, new double[n], 6);
        double factorial = 1;
        for (int i = 0; i < n; i++) {
            int power = i + 1;
            factorial *= power;
            double last = factorial;
            double size = Math.pow(6, power) / last;
            assertThat(error(run, i, t -> Math.pow(t, power) / last)).isLessThan(1e-14 * Math.max(1, size));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 5, 8})
    void withoutAnyDynamicsTheStateRestsOrRamps(int n) {
        double[] b = new double[n];
        double[] start = new double[n];
        for (int i = 0; i < n; i++) {
            b[i] = i;
            start[i] = 1 - i;
        }
        Trajectory run = run(new double[n][n], b, 1e-5, start, 1e-3);
        for (int i = 0; i < n; i++) {
            int index = i;
            assertThat(error(run, i, t -> 1 - index + index * t)).isLessThan(1e-14 * Math.max(1, i));
        }
        assertThat(run.finalState()[0]).isEqualTo(1);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 5, 8})
    void chainsOfCoupledDecaysAgreeWithTheirModes(int n) {
        // A = P D P^-1 with the reflection P = I - 2 v v^T / v.v, which is its own inverse
        double[] rates = {-1, -3.5, -0.2, -7, -2, -11, -0.05, -5};
        double norm = n * (n + 1.0) * (2 * n + 1) / 6;
        double[][] p = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                p[i][j] = (i == j ? 1 : 0) - 2 * (i + 1.0) * (j + 1.0) / norm;
            }
        }
        double[][] a = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                for (int k = 0; k < n; k++) {
                    a[i][j] += p[i][k] * rates[k] * p[k][j];
                }
            }
        }
        double[] start = new double[n];
        start[0] = 1;
        Trajectory run = run(a, new double[n], 0.3, start, 3);
        for (int i = 0; i < n; i++) {
            int row = i;
            DoubleUnaryOperator exact = t -> {
                double sum = 0;
                for (int k = 0; k < n; k++) {
                    sum += p[row][k] * exp(rates[k] * t) * p[k][0];
                }
                return sum;
            };
            assertThat(error(run, i, exact)).isLessThan(1e-14);
        }
    }

    @Test
    void rampComparatorSwitchesWhereTheRampMeetsTheState() {
        // x' = 1 from 0.2 on; the guard 0.9 - x - 4 t falls through zero at t = 0.14
        double clockPeriod = 1;
        Guard comparator = new Guard("ramp below control", AffineForm.of(new double[] {-1}, 0.9, -4));
        Configuration rise =
                configuration("rise", clockPeriod, new double[1][1], new double[] {1}, List.of(comparator));
        Configuration fall = configuration("fall", clockPeriod, new double[1][1], new double[] {-1}, List.of());
        Phase rising = new Phase(rise, clockPeriod, Double.POSITIVE_INFINITY);
        Phase falling = new Phase(fall, clockPeriod, Double.POSITIVE_INFINITY);
        Trajectory run = Simulation.of(TestLaw.ring(ones(1), clockPeriod, List.of(rising, falling)))
                .record(new double[] {0.2}, 3);
        assertThat(run.size()).isEqualTo(6);
        double level = 0.2;
        for (int period = 0; period < 3; period++) {
            double on = (0.9 - level) / 5;
            Interval first = run.interval(2 * period);
            assertThat(first.duration()).isCloseTo(on, within(1e-15));
            assertThat(first.cause()).isEqualTo(Cause.guard(0));
            level += on - (1 - on);
            assertThat(run.interval(2 * period + 1).endState()[0]).isCloseTo(level, within(2e-15));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e-9, 1e-3, 1, 40, 1e4})
    void hystereticOscillatorSwitchesAtItsClosedFormTimes(double clockPeriod) {
        // charges towards 1 up to 0.7, discharges towards 0 down to 0.3: ln(7/3) each way, with no regard to the clock
        Configuration up =
                configuration("up", clockPeriod, new double[][] {{-1}}, new double[] {1}, List.of(below(1, 0, 0.7)));
        Configuration down =
                configuration("down", clockPeriod, new double[][] {{-1}}, new double[1], List.of(above(1, 0, 0.3)));
        double never = Double.POSITIVE_INFINITY;
        TestLaw law =
                TestLaw.ring(ones(1), clockPeriod, List.of(new Phase(up, never, never), new Phase(down, never, never)));
        Trajectory run = Simulation.of(law).record(new double[] {0.3}, 20);
        double half = Math.log(7.0 / 3);
        assertThat(run.size()).isEqualTo((int) (20 / half) + 1);
        for (int i = 1; i < run.size(); i++) {
            assertThat(run.interval(i).start()).isCloseTo(i * half, within(1e-14 * (i + 1)));
        }
    }
}
