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
        int n = lu.length;
        double[] high = new double[n * columns];
        double[] low = new double[n * columns];
        double[] residual = new double[n * columns];
        double[] change = new double[n * columns];
        double[] before = high;
        for (int i = 0; i < n; i++) {
            System.arraycopy(right[i], 0, residual, i * columns, columns);
        }
        solveOnce(residual, high, columns);
        double[] lost = new double[columns];
        for (int pass = 0; pass < REFINEMENTS; pass++) {
            before = high.clone();
            findResidual(right, high, low, residual, lost, columns);
            solveOnce(residual, change, columns);
            add(change, high, low);
        }
        double[][] result = new double[n][columns];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < columns; j++) {
                int at = i * columns + j;
                boolean unsteady = Math.abs(change[at]) > UNSTEADY * Math.abs(before[at]);
                result[i][j] = unsteady ? 0 : high[at];
            }
        }
        return result;
    }

    private static void add(double[] change, double[] high, double[] low) {
        for (int at = 0; at < high.length; at++) {
            double rest = low[at] + change[at];
            double sum = high[at] + rest;
            low[at] = rest - (sum - high[at]);
            high[at] = sum;
        }
    }

    /** With the rows at their places, keeping what rounding loses. */
    private void findResidual(
            double[][] right, double[] high, double[] low, double[] into, double[] lost, int columns) {
        for (int i = 0; i < lu.length; i++) {
            Arrays.fill(lost, 0);
            System.arraycopy(right[i], 0, into, i * columns, columns);
            double[] row = matrix[i];
            for (int k = 0; k < row.length; k++) {
                if (row[k] != 0) {
                    subtractExactly(into, i * columns, lost, row[k], high, low, k * columns);
                }
            }
            for (int j = 0; j < columns; j++) {
                into[i * columns + j] += lost[j];
            }
        }
    }

    /** Subtracts products and keeps what rounding loses (T. Ogita, S. Rump, S. Oishi, Accurate Sum and Dot Product, 2005). */
    private static void subtractExactly(
            double[] sum, int at, double[] lost, double factor, double[] high, double[] low, int from) {
        for (int j = 0; j < lost.length; j++) {
            double product = -factor * high[from + j];
            double productError = Machine.lostByProduct(-factor, high[from + j], product);
            double next = sum[at + j] + product;
            double part = next - sum[at + j];
            double sumError = (sum[at + j] - (next - part)) + (product - part);
            sum[at + j] = next;
            lost[j] += sumError + productError - factor * low[from + j];
        }
    }

    private void solveOnce(double[] right, double[] x, int columns) {
        int n = lu.length;
        for (int i = 0; i < n; i++) {
            System.arraycopy(right, order[i] * columns, x, i * columns, columns);
            for (int k = 0; k < i; k++) {
                subtract(x, i * columns, lu[i][k], k * columns, columns);
            }
        }
        for (int i = n - 1; i >= 0; i--) {
            for (int k = i + 1; k < n; k++) {
                subtract(x, i * columns, lu[i][k], k * columns, columns);
            }
            double pivot = lu[i][i];
            for (int j = i * columns; j < (i + 1) * columns; j++) {
                x[j] /= pivot;
            }
        }
    }

    private static void subtract(double[] x, int row, double factor, int other, int columns) {
        if (factor != 0) {
            for (int j = 0; j < columns; j++) {
                x[row + j] -= factor * x[other + j];
            }
        }
    }
}
