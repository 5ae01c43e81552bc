package org.voltsecond.engine;

import java.util.Arrays;
import org.voltsecond.numeric.Matrices;

/**
 * A jump of the state on entering a configuration: {@code x+ = matrix x- + offset}, in SI units. Immutable.
 *
 * <pre>{@code
 * AffineMap bounce = AffineMap.of(new double[][] {{1, 0}, {0, -0.8}}, new double[] {0, 0}); // height, speed
 * double speed = bounce.apply(new double[] {0, -3})[1]; // 2.4
 * }</pre>
 */
public final class AffineMap {
    private final int dimension;
    private final double[] matrix;
    private final double[] offset;

    private AffineMap(double[][] matrix, double[] offset) {
        this.dimension = offset.length;
        this.matrix = Matrices.flatten(matrix);
        this.offset = offset.clone();
        double size = Matrices.size(this.matrix) + Matrices.size(this.offset);
        if (matrix.length != dimension || !(size < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "a jump must have a matrix of as many rows as the offset has entries, all"
                            + " finite, but has " + matrix.length + " rows and " + dimension
                            + " entries, the sum of all sizes being "
                            + size);
        }
    }

    /**
     * Returns the map {@code matrix x + offset}.
     *
     * @param matrix square, one row for each state; copied
     * @param offset one entry for each state; copied
     * @return the map
     * @throws IllegalArgumentException if shapes do not fit together or a number is not finite
     */
    public static AffineMap of(double[][] matrix, double[] offset) {
        return new AffineMap(matrix, offset);
    }

    /**
     * Returns the number of states.
     *
     * @return the number of states
     */
    public int dimension() {
        return dimension;
    }

    /**
     * Returns one entry of the matrix.
     *
     * @param row index of the resulting state
     * @param column index of the state before
     * @return the entry
     */
    public double entry(int row, int column) {
        return matrix[row * dimension + column];
    }

    /**
     * Returns one entry of the offset.
     *
     * @param row index of the resulting state
     * @return the entry
     */
    public double offset(int row) {
        return offset[row];
    }

    /**
     * Applies the map.
     *
     * @param state the state before, SI units
     * @return the state after, a new array
     */
    public double[] apply(double[] state) {
        double[] result = offset.clone();
        for (int i = 0; i < dimension; i++) {
            for (int j = 0; j < dimension; j++) {
                result[i] += matrix[i * dimension + j] * state[j];
            }
        }
        return result;
    }

    /**
     * Returns what this map makes of what another one makes.
     *
     * @param first the map that comes first
     * @return both in one
     */
    public AffineMap after(AffineMap first) {
        double[][] product = new double[dimension][dimension];
        double[] sum = offset.clone();
        for (int i = 0; i < dimension; i++) {
            for (int k = 0; k < dimension; k++) {
                double factor = matrix[i * dimension + k];
                sum[i] += factor * first.offset[k];
                for (int j = 0; j < dimension; j++) {
                    product[i][j] += factor * first.matrix[k * dimension + j];
                }
            }
        }
        return new AffineMap(product, sum);
    }

    @Override
    public String toString() {
        return "matrix by rows " + Arrays.toString(matrix) + ", offset " + Arrays.toString(offset);
    }
}
