package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Objects;
import java.util.Random;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Bounds of forms beside fast modes, held against the exact flow at many instants. */
class FastModesTest {
    /** A tank (and, for odd seeds, a fast real mode) that rings and dies out beside slow states, all seen in mixed coordinates. */
    private static double[][] mixed(Random random, boolean withReal, double damping) {
        double[][] modes = new double[5][5];
        modes[0][0] = -damping;
        modes[0][1] = -200;
        modes[1][0] = 200;
        modes[1][1] = -damping;
        modes[2][2] = withReal ? -150 : -0.8;
        modes[3][4] = 0.9;
        modes[4][3] = -0.7;
        modes[4][4] = -0.2;
        RealMatrix mix = MatrixUtils.createRealIdentityMatrix(5);
        for (int i = 0; i < 5; i++) {
            for (int j = 0; j < 5; j++) {
                mix.addToEntry(i, j, 0.4 * (random.nextDouble() - 0.5));
            }
        }
        return mix.multiply(MatrixUtils.createRealMatrix(modes))
                .multiply(MatrixUtils.inverse(mix))
                .getData();
    }

    /** The state after a time, by steps of the Taylor series of Hipparchus' matrices: an independent flow. */
    private static double[] after(RealMatrix step, double[] state) {
        double[] with = java.util.Arrays.copyOf(state, 6);
        with[5] = 1;
        return java.util.Arrays.copyOf(step.operate(with), 5);
    }

    private static RealMatrix step(double[][] a, double[] b, double time) {
        RealMatrix rate = MatrixUtils.createRealMatrix(6, 6);
        rate.setSubMatrix(a, 0, 0);
        for (int i = 0; i < 5; i++) {
            rate.setEntry(i, 5, b[i]);
        }
        RealMatrix term = MatrixUtils.createRealIdentityMatrix(6);
        RealMatrix sum = term;
        for (int k = 1; k < 30; k++) {
            term = term.multiply(rate).scalarMultiply(time / k);
            sum = sum.add(term);
        }
        return sum;
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8})
    void noFormIsBeyondItsBound(long seed) {
        Random random = new Random(seed);
        double[][] a = mixed(random, seed % 2 == 1, (double) (seed % 3));
        double[] b = random.doubles(5).map(x -> 3 * x - 1).toArray();
        FastModes modes = Objects.requireNonNull(FastModes.of(a, b));
        assertThat(modes.count()).isEqualTo(seed % 2 == 1 ? 2 : 1);
        double[] factors = random.doubles(5).map(x -> x - 0.5).toArray();
        FastModes.Form form = modes.form(factors, 0.3);
        double[] shares = new double[modes.count()];
        double time = 0.0004;
        RealMatrix step = step(a, b, time);
        double tightest = Double.POSITIVE_INFINITY;
        for (int draw = 0; draw < 20; draw++) {
            double[] start = random.doubles(5).map(x -> 2 * x - 1).toArray();
            int steps = 50 + random.nextInt(600);
            double span = steps * time;
            modes.shares(start, shares);
            double largest = modes.largest(start, shares, span);
            double[] state = start;
            double lowest = Double.POSITIVE_INFINITY;
            for (int k = 0; k <= steps; k++) {
                lowest = Math.min(lowest, 0.3 + Dense.dot(factors, state));
                assertThat(Dense.largest(state)).isLessThan(largest);
                state = k < steps ? after(step, state) : state;
            }
            double chord = Math.min(form.slow(start), form.slow(state));
            double bound = chord - form.swing(shares) - form.departure(largest, span);
            assertThat(bound).isLessThanOrEqualTo(lowest);
            tightest = Math.min(tightest, lowest - bound);
        }
        // the bound is of use: short spans come within a part of what swings
        assertThat(tightest).isLessThan(0.2);
    }

    /** By hand: x = cos 100 t beside z = 2 exp(-t). */
    @Test
    void aTankBesideADecayIsSplitByHand() {
        double[][] tank = {{0, -100, 0}, {100, 0, 0}, {0, 0, -1}};
        FastModes modes = Objects.requireNonNull(FastModes.of(tank, new double[3]));
        FastModes.Form form = modes.form(new double[] {1, 0, 1}, 0.5);
        double[] shares = new double[1];
        modes.shares(new double[] {1, 0, 2}, shares);
        assertThat(form.swing(shares)).isCloseTo(1, within(1e-12));
        assertThat(form.slow(new double[] {1, 0, 2})).isCloseTo(2.5, within(1e-12));
        double largest = modes.largest(new double[] {1, 0, 2}, shares, 0.01);
        assertThat(largest).isBetween(2.0, 40.0);
        // z'' is at most the largest state
        assertThat(form.departure(largest, 0.01)).isCloseTo(1e-4 / 8 * largest, within(1e-9));
        assertThat(modes.largest(new double[] {1, 0, 2}, shares, 1.1)).isInfinite();
    }

    @Test
    void whatGrowsOrIsNotMuchFasterIsNoFastMode() {
        double[] none = new double[3];
        assertThat(FastModes.of(new double[][] {{0.1, -100, 0}, {100, 0.1, 0}, {0, 0, -1}}, none))
                .isNull();
        assertThat(FastModes.of(new double[][] {{-9, 0, 0}, {0, -3, 0}, {0, 0, -1}}, none))
                .isNull();
        assertThat(FastModes.of(new double[3][3], none)).isNull();
    }

    /** Two equal tanks have no vectors of their own; whatever is taken for them, no bound is finite and wrong. */
    @Test
    void equalModesGiveNoFalseBound() {
        double[][] a = {{0, -100, 0, 0, 0}, {100, 0, 0, 0, 0}, {0, 0, 0, -100, 0}, {0, 0, 100, 0, 0}, {0, 0, 0, 0, -1}};
        FastModes modes = FastModes.of(a, new double[5]);
        double[] start = {1, 0, -1, 0.5, 2};
        if (modes != null) {
            double[] shares = new double[modes.count()];
            modes.shares(start, shares);
            FastModes.Form form = modes.form(new double[] {1, 0, 0, 0, 0}, 0);
            double largest = modes.largest(start, shares, 0.1);
            double bound = form.slow(start) - form.swing(shares) - form.departure(largest, 0.1);
            assertThat(bound).isLessThanOrEqualTo(-1);
        }
    }
}
