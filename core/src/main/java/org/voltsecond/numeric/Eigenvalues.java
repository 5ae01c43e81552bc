package org.voltsecond.numeric;

import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.EigenDecompositionNonSymmetric;

/**
 * The eigenvalues of a small real matrix. <b>Accuracy</b>: round-off of the size of the matrix, so that a simple eigenvalue
 * much smaller than the largest keeps fewer digits.
 *
 * <pre>{@code
 * List<Complex> values = Eigenvalues.of(new double[][] {{0, -4}, {1, 0}}); // 2j and -2j
 * double first = values.get(0).imaginary(); // 2
 * }</pre>
 */
public final class Eigenvalues {
    private Eigenvalues() {}

    /**
     * Works out all eigenvalues.
     *
     * @param matrix a square matrix, row after row
     * @return as many as there are rows, by falling magnitude; of a pair the one above the real axis first
     */
    public static List<Complex> of(double[][] matrix) {
        if (Stream.of(matrix).allMatch(row -> Dense.largest(row) == 0)) {
            // the decomposition refuses a matrix of zeros
            return Collections.nCopies(matrix.length, Complex.ZERO);
        }
        return Stream.of(new EigenDecompositionNonSymmetric(new Array2DRowRealMatrix(matrix, false)).getEigenvalues())
                .map(value -> new Complex(value.getReal(), value.getImaginary()))
                .sorted(Comparator.comparingDouble(Complex::magnitude)
                        .reversed()
                        .thenComparing(
                                Comparator.comparingDouble(Complex::imaginary).reversed()))
                .toList();
    }
}
