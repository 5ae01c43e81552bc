package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.NyquistCriterion.Growth;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.Eigenvalues;

/**
 * Margins of random loops, L = K n(s) / d(s), held against the roots of d + k K n: the eigenvalues of a companion matrix tell
 * without any curve at which gain k the loop becomes unstable, and how many roots lie to the right.
 */
class NyquistProperties {
    /** The curve goes this many times below the slowest corner and above the fastest. */
    private static final double BEYOND = 1000;

    /** Loops in the build; the campaign is {@code -Dvoltsecond.loops=1000}. */
    private static final int LOOPS = Integer.getInteger("voltsecond.loops", 120);

    /** A change of the gain, dB, that is small beside any margin that counts and large beside rounding. */
    private static final double NUDGE = 1e-5;

    private record Loop(double[] zeros, double[] poles, int openGrowing) {
        static Loop random(Random random) {
            int unstablePairs = random.nextInt(5) == 0 ? 1 : 0;
            List<double[]> poles = new ArrayList<>();
            int integrators = random.nextInt(3) == 0 ? 2 : random.nextInt(2);
            for (int i = 0; i < integrators; i++) {
                poles.add(new double[] {0, 1});
            }
            for (int i = 0; i < 1 + random.nextInt(3); i++) {
                poles.add(pair(random, false));
            }
            if (unstablePairs == 1) {
                poles.add(pair(random, true));
            }
            List<double[]> zeros = new ArrayList<>();
            zeros.add(new double[] {StrictMath.pow(10, 6 * random.nextDouble() - 2)});
            for (int i = 0; i < random.nextInt(4) && degree(zeros) + 2 < degree(poles); i++) {
                zeros.add(random.nextBoolean() ? pair(random, random.nextInt(4) == 0) : real(random));
            }
            return new Loop(product(zeros), product(poles), 2 * unstablePairs);
        }

        private static int degree(List<double[]> factors) {
            return factors.stream().mapToInt(factor -> factor.length - 1).sum();
        }

        private static double[] real(Random random) {
            return new double[] {1, 1 / corner(random)};
        }

        /** 1 + s / (Q w) + s^2 / w^2. */
        private static double[] pair(Random random, boolean right) {
            double corner = corner(random);
            double quality = StrictMath.pow(10, 2 * random.nextDouble() - 0.7);
            return new double[] {1, (right ? -1 : 1) / (quality * corner), 1 / (corner * corner)};
        }

        private static double corner(Random random) {
            return StrictMath.pow(10, 2 * random.nextDouble());
        }

        private static double[] product(List<double[]> factors) {
            double[] result = {1};
            for (double[] factor : factors) {
                double[] next = new double[result.length + factor.length - 1];
                for (int i = 0; i < result.length; i++) {
                    for (int j = 0; j < factor.length; j++) {
                        next[i + j] += result[i] * factor[j];
                    }
                }
                result = next;
            }
            return result;
        }

        Complex at(double frequency) {
            Complex s = new Complex(0, frequency);
            return value(zeros, s).divide(value(poles, s));
        }

        private static Complex value(double[] coefficients, Complex s) {
            Complex sum = Complex.ZERO;
            for (int k = coefficients.length - 1; k >= 0; k--) {
                sum = sum.multiply(s).add(coefficients[k]);
            }
            return sum;
        }

        /** The roots of the closed loop to the right of the imaginary axis, with the gain raised by some decibels. */
        int growing(double decibels) {
            double[] p = poles.clone();
            for (int k = 0; k < zeros.length; k++) {
                p[k] += StrictMath.pow(10, decibels / 20) * zeros[k];
            }
            int n = p.length - 1;
            // in units of a mean frequency, so that the matrix has entries of about one size
            double unit = StrictMath.pow(Math.abs(p[0] / p[n]), 1.0 / n);
            for (int k = 0; k <= n; k++) {
                p[k] *= StrictMath.pow(unit, k);
            }
            double[][] companion = new double[n][n];
            for (int i = 0; i < n; i++) {
                companion[i][n - 1] = -p[i] / p[n];
                if (i > 0) {
                    companion[i][i - 1] = 1;
                }
            }
            return (int) Eigenvalues.of(companion).stream()
                    .filter(root -> root.real() > 0)
                    .count();
        }

        FrequencyResponse response() {
            DoubleFunction<Complex> law = this::at;
            FrequencyResponse curve =
                    FrequencyResponse.of("loop gain", "", FrequencyResponse.decades(1 / BEYOND, 100 * BEYOND, 20), law);
            // the curve alone may tell where the open loop is stable
            return openGrowing == 0 ? curve : curve.closing(new Growth(growing(0), 0, Double.POSITIVE_INFINITY));
        }
    }

    @Test
    void marginsAreWhereTheRootsPassTheAxis() {
        Random random = new Random(8);
        int[] seen = new int[4];
        for (int trial = 0; trial < LOOPS; trial++) {
            Loop loop = Loop.random(random);
            Margins margins = loop.response().margins();
            String which = "loop " + trial + " " + Arrays.toString(loop.zeros) + " over " + Arrays.toString(loop.poles)
                    + ": " + margins;
            assertThat(margins.stable()).as(which).isEqualTo(loop.growing(0) == 0);
            holds(which, loop, margins.stable(), margins.gainMargin(), 1);
            holds(which, loop, margins.stable(), margins.gainReductionMargin(), -1);
            crossoversAreAll(which, loop, margins);
            seen[
                    margins.stable()
                            ? margins.isConditionallyStable() ? 2 : 1
                            : margins.gainMargin().isPresent() ? 3 : 0]++;
        }
        assertThat(seen)
                .as("unstable for good, stable, conditionally stable, too much gain")
                .doesNotContain(0);
    }

    /** A change of the gain by the margin, and no smaller one, takes the loop across the limit of stability. */
    private static void holds(String which, Loop loop, boolean stable, OptionalDouble margin, int towards) {
        double bound = margin.orElse(40);
        assertThat(bound > 0 || !stable).as(which).isTrue();
        int side = stable ? towards : -towards;
        double size = Math.abs(bound);
        for (int step = 1; step < 30; step++) {
            double change = side * size * step / 30;
            assertThat(loop.growing(change) == 0)
                    .as(which + " with %s dB", change)
                    .isEqualTo(stable);
        }
        if (margin.isPresent()) {
            assertThat(loop.growing(side * (size - NUDGE)) == 0).as(which).isEqualTo(stable);
            assertThat(loop.growing(side * (size + NUDGE)) == 0).as(which).isEqualTo(!stable);
        }
    }

    /** A walk along the curve with steps of a two-thousandth of a decade meets just these crossovers. */
    private static void crossoversAreAll(String which, Loop loop, Margins margins) {
        List<Double> found = new ArrayList<>();
        double before = loop.at(1 / BEYOND).magnitude();
        for (int k = 1; k <= 16_000; k++) {
            double frequency = StrictMath.pow(10, k / 2_000.0) / BEYOND;
            double here = loop.at(frequency).magnitude();
            if (before >= 1 != here >= 1) {
                found.add(frequency);
            }
            before = here;
        }
        assertThat(margins.crossovers()).as(which).hasSameSizeAs(found);
        for (int k = 0; k < found.size(); k++) {
            Margins.Crossover crossover = margins.crossovers().get(k);
            assertThat(crossover.frequency()).as(which).isCloseTo(found.get(k), within(1.5e-3 * found.get(k)));
            Complex value = loop.at(crossover.frequency());
            assertThat(value.magnitude()).as(which).isCloseTo(1, within(1e-9));
            assertThat(crossover.phaseMargin())
                    .isCloseTo(Math.toDegrees(value.negate().argument()), within(1e-9));
        }
    }
}
