package org.voltsecond.numeric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.LUDecomposition;
import org.junit.jupiter.api.Test;

class EliminationTest {
    @Test
    void agreesWithTheDecompositionOfALibrary() {
        Random random = new Random(4711);
        for (int trial = 0; trial < 2_000; trial++) {
            int n = 1 + trial % 7;
            double[][] rows = new double[n][n];
            double[] flat = new double[n * n];
            double[] right = new double[n];
            for (int i = 0; i < n; i++) {
                right[i] = random.nextGaussian();
                for (int j = 0; j < n; j++) {
                    // zeros on the diagonal force an exchange of rows
                    rows[i][j] = i == j && random.nextBoolean() ? 0 : random.nextGaussian();
                    flat[i * n + j] = rows[i][j];
                }
            }
            Elimination elimination = new Elimination(n, 1e-13);
            LUDecomposition decomposition = new LUDecomposition(new Array2DRowRealMatrix(rows), 1e-13);
            boolean regular = decomposition.getSolver().isNonSingular();
            assertThat(elimination.solve(flat, right)).isEqualTo(regular);
            if (regular) {
                double[] expected = decomposition
                        .getSolver()
                        .solve(new ArrayRealVector(right))
                        .toArray();
                assertThat(elimination.solution()).containsExactly(expected, within(0.0));
            }
        }
    }

    @Test
    void theInverseTimesTheMatrixIsOne() {
        Random random = new Random(4712);
        for (int trial = 0; trial < 2_000; trial++) {
            int n = 1 + trial % 7;
            double[] matrix = random.doubles((long) n * n, -1, 1).toArray();
            double[] inverse = new double[n * n];
            assertThat(new Elimination(n, 1e-13).invert(matrix, inverse)).isTrue();
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    double sum = 0;
                    double size = 0;
                    for (int k = 0; k < n; k++) {
                        sum += inverse[i * n + k] * matrix[k * n + j];
                        size += Math.abs(inverse[i * n + k]);
                    }
                    assertThat(sum).isCloseTo(i == j ? 1 : 0, within(1e-13 * size * n));
                }
            }
        }
    }

    @Test
    void whatIsSingularHasNoInverse() {
        double[] into = new double[9];
        assertThat(new Elimination(2, 1e-13).invert(new double[4], into)).isFalse();
        assertThat(new Elimination(2, 1e-13).invert(new double[] {1, 2, 2, 4}, into))
                .isFalse();
        assertThat(new Elimination(3, 1e-13).invert(new double[] {1, 2, 3, 4, 5, 6, 5, 7, 9}, into))
                .isFalse();
    }

    @Test
    void saysThatAMatrixIsSingular() {
        Elimination elimination = new Elimination(2, 1e-13);

        assertThat(elimination.solve(new double[] {1, 2, 2, 4}, new double[] {1, 1}))
                .isFalse();
        assertThat(elimination.solve(new double[] {1, 2, 2, 4 + 1e-9}, new double[] {1, 1}))
                .isTrue();
    }

    @Test
    void anEntryThatIsNoNumberMakesNoSolution() {
        Elimination elimination = new Elimination(2, 1e-13);

        assertThat(elimination.solve(new double[] {Double.NaN, 1, 1, 2}, new double[] {1, 1}))
                .isTrue();
        assertThat(elimination.solution()).contains(Double.NaN);
    }
}
