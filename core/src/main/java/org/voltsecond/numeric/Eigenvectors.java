package org.voltsecond.numeric;

import java.util.Arrays;

/**
 * The eigenvectors to one simple eigenvalue, by inverse iteration. Immutable.
 *
 * <pre>{@code
 * double[][] tank = {{0, -2}, {2, 0}};
 * Eigenvectors of = Eigenvectors.of(tank, new Complex(0, 2));
 * Complex share = of.share(new double[] {1, 0}); // how much of the vector swings with it
 * double first = share.multiply(of.right()[0]).real(); // 0.5: the other half swings with the conjugate one
 * }</pre>
 */
public final class Eigenvectors {
    /** Beside the eigenvalue by so much of it, so that the matrix to be solved is regular: the square root of a unit in the last place. */
    private static final double BESIDE = 0x1p-26;

    /** Each iteration takes away another 26 bits of what is not the vector. */
    private static final int ITERATIONS = 4;

    private final Complex[] right;
    private final Complex[] left;

    private Eigenvectors(Complex[] right, Complex[] left) {
        this.right = right;
        this.left = left;
    }

    /**
     * Works out the vectors.
     *
     * @param matrix a square matrix
     * @param eigenvalue one of its eigenvalues, not zero, which no other is equal to
     * @return the vectors
     */
    public static Eigenvectors of(double[][] matrix, Complex eigenvalue) {
        return new Eigenvectors(
                iterated(matrix, eigenvalue), iterated(Dense.transpose(matrix, matrix.length), eigenvalue));
    }

    private static Complex[] iterated(double[][] matrix, Complex eigenvalue) {
        int n = matrix.length;
        Complex shift = eigenvalue.multiply(1 + BESIDE);
        Complex[] vector = new Complex[n];
        // any start will do that is not by chance without the vector
        Arrays.setAll(vector, k -> new Complex(1 + k / (double) n, 1 - k / (n + 1.0)));
        for (int step = 0; step < ITERATIONS; step++) {
            ComplexMatrix solved = new ComplexMatrix(n, 1);
            ComplexMatrix shifted = new ComplexMatrix(n, n);
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    shifted.add(i, j, matrix[i][j], 0);
                }
                shifted.add(i, i, -shift.real(), -shift.imaginary());
                solved.add(i, 0, vector[i].real(), vector[i].imaginary());
            }
            shifted.solve(solved);
            double largest = 0;
            for (int i = 0; i < n; i++) {
                largest = Math.max(largest, Math.hypot(solved.real(i, 0), solved.imaginary(i, 0)));
            }
            for (int i = 0; i < n; i++) {
                vector[i] = new Complex(solved.real(i, 0), solved.imaginary(i, 0)).divide(largest);
            }
        }
        return vector;
    }

    /** {@return the right one: the matrix times it is it times the eigenvalue; the largest entry of magnitude 1} */
    public Complex[] right() {
        return right.clone();
    }

    /**
     * Returns how much of the right vector is in another one, beside all other eigenvectors.
     *
     * @param vector as many entries as the matrix has rows
     * @return the factor of {@link #right()}
     */
    public Complex share(double[] vector) {
        Complex along = Complex.ZERO;
        Complex whole = Complex.ZERO;
        for (int k = 0; k < vector.length; k++) {
            along = along.add(left[k].multiply(vector[k]));
            whole = whole.add(left[k].multiply(right[k]));
        }
        return along.divide(whole);
    }
}
