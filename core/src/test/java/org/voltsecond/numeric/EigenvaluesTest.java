package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.QRDecomposition;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;

/** Eigenvalues of matrices that were made from them. */
class EigenvaluesTest {
    /** Some tens of units in the last place of matrices of the norm of one. */
    private static final double ROUNDING = 2e-14;

    /**
     * Diagonals with zeros, and pairs a +- jb as blocks, turned by a random rotation: such a matrix has eigenvalues of the best
     * condition. One in 160 of them, those with several zeros, made an earlier decomposition give up.
     */
    @Test
    void thoseOfARandomlyTurnedMatrixAreThoseOfItsBlocks() {
        Random random = new Random(12);
        for (int trial = 0; trial < 5000; trial++) {
            int n = 1 + random.nextInt(9);
            double[][] blocks = new double[n][n];
            List<Complex> expected = new ArrayList<>();
            for (int i = 0; i < n; i++) {
                double real = random.nextInt(4) == 0 ? 0 : 2 * random.nextDouble() - 1;
                blocks[i][i] = real;
                if (i + 1 < n && random.nextInt(3) == 0) {
                    double imaginary = random.nextDouble();
                    blocks[i][i + 1] = -imaginary;
                    blocks[i + 1][i] = imaginary;
                    blocks[i + 1][i + 1] = real;
                    i++;
                    expected.add(new Complex(real, imaginary));
                    expected.add(new Complex(real, -imaginary));
                } else {
                    expected.add(Complex.of(real));
                }
            }
            List<Complex> found = Eigenvalues.of(turned(blocks, random));
            assertThat(found).isSortedAccordingTo((x, y) -> Double.compare(y.magnitude(), x.magnitude()));
            for (Complex value : expected) {
                Complex nearest = found.stream()
                        .min((x, y) -> Double.compare(
                                x.subtract(value).magnitude(), y.subtract(value).magnitude()))
                        .orElseThrow();
                assertThat(nearest.subtract(value).magnitude()).isLessThan(ROUNDING);
            }
            assertThat(found).hasSameSizeAs(expected);
        }
    }

    private static double[][] turned(double[][] blocks, Random random) {
        double[][] noise = new double[blocks.length][blocks.length];
        for (double[] row : noise) {
            for (int j = 0; j < row.length; j++) {
                row[j] = random.nextGaussian();
            }
        }
        RealMatrix turn = new QRDecomposition(new Array2DRowRealMatrix(noise)).getQ();
        return turn.multiply(new Array2DRowRealMatrix(blocks))
                .multiplyTransposed(turn)
                .getData();
    }

    /** (x - 1)(x - 2)(x - 3), and x^3 - 1, which is a cyclic permutation that takes an unusual shift. */
    @Test
    void thoseOfACompanionMatrixAreTheRootsOfItsPolynomial() {
        List<Complex> roots = Eigenvalues.of(new double[][] {{0, 1, 0}, {0, 0, 1}, {6, -11, 6}});
        for (int k = 0; k < 3; k++) {
            assertThat(roots.get(k).real()).isCloseTo(3.0 - k, within(1e-13));
            assertThat(roots.get(k).imaginary()).isZero();
        }
        assertThat(Eigenvalues.of(new double[][] {{0, 1, 0}, {0, 0, 1}, {1, 0, 0}}))
                .allSatisfy(root -> assertThat(root.magnitude()).isCloseTo(1, within(1e-15)));
    }

    /** States of very different units: balancing gives each of them its digits. */
    @Test
    void badlyScaledStatesKeepTheirDigits() {
        List<Complex> values = Eigenvalues.of(new double[][] {{0.5, 1e12}, {-0.25e-12, 0.5}});
        assertThat(values.get(0).real()).isCloseTo(0.5, within(1e-15));
        assertThat(values.get(0).imaginary()).isCloseTo(0.5, within(1e-15));
    }

    @Test
    void whatForgetsEverythingHasZeros() {
        assertThat(Eigenvalues.of(new double[2][2])).containsExactly(Complex.ZERO, Complex.ZERO);
        assertThat(Eigenvalues.of(new double[][] {{0, 1e8, 3}, {0, 0, 1}, {0, 0, 0}}))
                .containsOnly(Complex.ZERO);
        assertThat(Eigenvalues.of(new double[0][0])).isEmpty();
    }

    @Test
    void whatIsNotFiniteIsRefused() {
        assertThatThrownBy(() -> Eigenvalues.of(new double[][] {{Double.NaN}}))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("finite");
    }
}
