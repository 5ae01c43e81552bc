package org.voltsecond.engine;

/**
 * A jump of the state on entering a configuration: {@code x+ = matrix x- + offset}, in SI units. Immutable.
 */
public final class AffineMap {
    private final int dimension;
    private final double[] matrix;
    private final double[] offset;

    private AffineMap(double[][] matrix, double[] offset) {
        this.dimension = offset.length;
        this.matrix = Matrices.flatten(matrix);
        this.offset = offset.clone();
    }

    /**
     * Returns the map {@code matrix x + offset}.
     *
     * @param matrix square, one row for each state; copied
     * @param offset one entry for each state; copied
     * @return the map
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
}
