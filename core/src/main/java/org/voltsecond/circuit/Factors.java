package org.voltsecond.circuit;

/**
 * Elimination of a square matrix with pivots chosen relative to the size of their rows, and solutions refined until they
 * stand. An entry that is zero in exact arithmetic keeps shrinking under refinement: it is set to zero.
 */
final class Factors {
    private static final int REFINEMENTS = 2;
    /** An entry that the last refinement still changes by more than this fraction of itself is round-off. */
    private static final double UNSTEADY = 0.25;

    private final double[][] matrix;
    private final double[][] lu;
    private final int[] order;

    private Factors(double[][] matrix) {
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

    static Factors of(double[][] matrix) {
        return new Factors(matrix);
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

    /** Solves for several right sides, which are the columns. */
    double[][] solve(double[][] right, int columns) {
        double[][] solution = solveOnce(right, columns);
        double[][] change = solution;
        double[][] before = solution;
        for (int pass = 0; pass < REFINEMENTS; pass++) {
            before = Dense.copy(solution);
            change = solveOnce(residual(right, solution, columns), columns);
            for (int i = 0; i < solution.length; i++) {
                for (int j = 0; j < columns; j++) {
                    solution[i][j] += change[i][j];
                }
            }
        }
        for (int i = 0; i < solution.length; i++) {
            for (int j = 0; j < columns; j++) {
                if (Math.abs(change[i][j]) > UNSTEADY * Math.abs(before[i][j])) {
                    solution[i][j] = 0;
                }
            }
        }
        return solution;
    }

    private double[][] residual(double[][] right, double[][] solution, int columns) {
        double[][] result = Dense.copy(right);
        for (int i = 0; i < result.length; i++) {
            for (int k = 0; k < result.length; k++) {
                double factor = matrix[i][k];
                if (factor != 0) {
                    for (int j = 0; j < columns; j++) {
                        result[i][j] -= factor * solution[k][j];
                    }
                }
            }
        }
        return result;
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
