package org.voltsecond.numeric;

import java.util.Arrays;

/**
 * Elimination of a square matrix with pivots chosen relative to the size of their rows, and solutions refined until they
 * stand. An entry that is zero in exact arithmetic keeps shrinking under refinement: it is set to zero. For systems that are
 * solved once and read to the last bit; {@link Elimination} is for those that are solved again and again.
 *
 * <pre>{@code
 * double[][] x = RefinedSolver.of(new double[][] {{2, 0}, {1, 1}}).solve(new double[][] {{6}, {5}}, 1);
 * double second = x[1][0]; // 2
 * }</pre>
 */
public final class RefinedSolver {
    private static final int REFINEMENTS = 2;
    /** An entry that the last refinement still changes by more than this fraction of itself is round-off. */
    private static final double UNSTEADY = 0.25;

    private final double[][] matrix;
    private final double[][] lu;
    private final int[] order;

    private RefinedSolver(double[][] matrix) {
        this.matrix = matrix;
        lu = Dense.copy(matrix);
        order = new int[matrix.length];
        double[] size = new double[matrix.length];
        for (int i = 0; i < order.length; i++) {
            order[i] = i;
            size[i] = Dense.largest(lu[i]);
        }
        for (int k = 0; k < order.length; k++) {
            swap(k, pivotRow(size, k), size);
            for (int i = k + 1; i < order.length; i++) {
                eliminate(i, k);
            }
        }
    }

    /**
     * Factors a matrix.
     *
     * @param matrix a square matrix; kept, not copied
     * @return what solves systems with it; of a singular matrix the solutions are not finite
     */
    public static RefinedSolver of(double[][] matrix) {
        return new RefinedSolver(matrix);
    }

    private int pivotRow(double[] size, int k) {
        int best = k;
        for (int i = k + 1; i < lu.length; i++) {
            if (Math.abs(lu[i][k]) * size[best] > Math.abs(lu[best][k]) * size[i]) {
                best = i;
            }
        }
        return best;
    }

    private void swap(int i, int j, double[] size) {
        double[] row = lu[i];
        lu[i] = lu[j];
        lu[j] = row;
        double kept = size[i];
        size[i] = size[j];
        size[j] = kept;
        int index = order[i];
        order[i] = order[j];
        order[j] = index;
    }

    private void eliminate(int row, int pivot) {
        double factor = lu[row][pivot] / lu[pivot][pivot];
        lu[row][pivot] = factor;
        if (factor != 0) {
            for (int j = pivot + 1; j < lu.length; j++) {
                lu[row][j] -= factor * lu[pivot][j];
            }
        }
    }

    /**
     * Solves for several right sides, which are the columns. The refinement carries twice the digits: a current that
     * follows from a small difference of large voltages is as exact as the others.
     *
     * @param right the right sides
     * @param columns how many there are
     * @return the solutions, new arrays
     */
    public double[][] solve(double[][] right, int columns) {
        double[][] high = solveOnce(right, columns);
        double[][] low = new double[high.length][columns];
        double[][] before = high;
        double[][] change = high;
        for (int pass = 0; pass < REFINEMENTS; pass++) {
            before = Dense.copy(high);
            change = solveOnce(residual(right, high, low, columns), columns);
            add(change, high, low);
        }
        for (int i = 0; i < high.length; i++) {
            for (int j = 0; j < columns; j++) {
                if (Math.abs(change[i][j]) > UNSTEADY * Math.abs(before[i][j])) {
                    high[i][j] = 0;
                }
            }
        }
        return high;
    }

    private static void add(double[][] change, double[][] high, double[][] low) {
        for (int i = 0; i < high.length; i++) {
            for (int j = 0; j < high[i].length; j++) {
                double rest = low[i][j] + change[i][j];
                double sum = high[i][j] + rest;
                low[i][j] = rest - (sum - high[i][j]);
                high[i][j] = sum;
            }
        }
    }

    private double[][] residual(double[][] right, double[][] high, double[][] low, int columns) {
        double[][] result = Dense.copy(right);
        double[] lost = new double[columns];
        for (int i = 0; i < result.length; i++) {
            Arrays.fill(lost, 0);
            for (int k = 0; k < result.length; k++) {
                if (matrix[i][k] != 0) {
                    subtractExactly(result[i], lost, matrix[i][k], high[k], low[k]);
                }
            }
            for (int j = 0; j < columns; j++) {
                result[i][j] += lost[j];
            }
        }
        return result;
    }

    /** Subtracts products and keeps what rounding loses (T. Ogita, S. Rump, S. Oishi, Accurate Sum and Dot Product, 2005). */
    private static void subtractExactly(double[] sum, double[] lost, double factor, double[] high, double[] low) {
        for (int j = 0; j < sum.length; j++) {
            double product = -factor * high[j];
            double productError = Math.fma(-factor, high[j], -product);
            double next = sum[j] + product;
            double part = next - sum[j];
            double sumError = (sum[j] - (next - part)) + (product - part);
            sum[j] = next;
            lost[j] += sumError + productError - factor * low[j];
        }
    }

    private double[][] solveOnce(double[][] right, int columns) {
        int n = lu.length;
        double[][] x = new double[n][];
        for (int i = 0; i < n; i++) {
            x[i] = right[order[i]].clone();
            for (int k = 0; k < i; k++) {
                subtract(x[i], lu[i][k], x[k]);
            }
        }
        for (int i = n - 1; i >= 0; i--) {
            for (int k = i + 1; k < n; k++) {
                subtract(x[i], lu[i][k], x[k]);
            }
            for (int j = 0; j < columns; j++) {
                x[i][j] /= lu[i][i];
            }
        }
        return x;
    }

    private static void subtract(double[] row, double factor, double[] other) {
        if (factor != 0) {
            for (int j = 0; j < row.length; j++) {
                row[j] -= factor * other[j];
            }
        }
    }
}
