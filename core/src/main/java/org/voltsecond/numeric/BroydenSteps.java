package org.voltsecond.numeric;

/**
 * Steps that lead a state to where a map brings it back, and a parameter to where something that follows from both has a wanted
 * value: Newton's method, with the derivative brought up to date by what each step has met in place of a new one (C. G. Broyden, A
 * class of methods for solving nonlinear simultaneous equations, Math. Comp. 19:577-593, 1965; in the form that keeps the steps: C. T.
 * Kelley, Iterative Methods for Linear and Nonlinear Equations, SIAM 1995; both from memory). A named numeric kernel. One instance
 * serves one thread.
 *
 * <pre>{@code
 * BroydenSteps steps = new BroydenSteps(1, 20);
 * boolean solvable = steps.renew(new double[][] {{0.5, 0}, {0, 0}}, false, new double[] {1, 1}); // x becomes x / 2 + 1
 * double step = steps.next(new double[] {1, 0})[0]; // 2
 * }</pre>
 */
public final class BroydenSteps {
    /** A pivot of this size is none, of a matrix whose diagonal is about 1. */
    private static final double NO_PIVOT = 1e-12;

    private final int n;
    private final int rows;
    private final double[] matrix;
    private final int[] order;
    private final double[] move;
    private final double[][] steps;
    private final double[] lengths;
    private final double[] weights;
    private boolean bordered;
    private int taken;

    /**
     * Makes room.
     *
     * @param states how many states
     * @param most how many steps there may be between two derivatives
     */
    public BroydenSteps(int states, int most) {
        n = states;
        rows = n + 1;
        matrix = new double[rows * rows];
        order = new int[n];
        move = new double[rows];
        steps = new double[most + 1][rows];
        lengths = new double[most + 1];
        weights = new double[rows];
    }

    /**
     * Takes a new derivative.
     *
     * @param by for each state at the start, and then the parameter: the derivatives of each state after the map, and then of what
     *     follows
     * @param withParameter whether the parameter is free
     * @param sizes of each state and of the parameter, which tell how much a change counts
     * @return false where no step is determined, or what follows does not rise with the parameter: minus the last pivot is that
     *     derivative along the states that come back
     */
    public boolean renew(double[][] by, boolean withParameter, double[] sizes) {
        bordered = withParameter;
        taken = 0;
        for (int i = 0; i < rows; i++) {
            weights[i] = sizes[i] > 0 ? 1 / (sizes[i] * sizes[i]) : 1;
            for (int p = 0; p < rows; p++) {
                matrix[i * rows + p] = (i == p && i < n ? 1 : 0) - by[p][i];
            }
        }
        int size = bordered ? rows : n;
        for (int c = 0; c < size; c++) {
            int pivot = pivot(c);
            double value = matrix[pivot * rows + c];
            if (!(c < n ? Math.abs(value) > NO_PIVOT : value < 0)) {
                return false;
            }
            swap(c, pivot);
            for (int r = c + 1; r < size; r++) {
                double factor = matrix[r * rows + c] / value;
                matrix[r * rows + c] = factor;
                for (int k = c + 1; k < size; k++) {
                    matrix[r * rows + k] -= factor * matrix[c * rows + k];
                }
            }
        }
        return true;
    }

    /** What follows stays in the last row. */
    private int pivot(int column) {
        int pivot = column;
        for (int r = column + 1; r < n; r++) {
            pivot = Math.abs(matrix[r * rows + column]) > Math.abs(matrix[pivot * rows + column]) ? r : pivot;
        }
        return pivot;
    }

    private void swap(int row, int with) {
        if (row < n) {
            order[row] = with;
        }
        for (int k = 0; k < rows && with != row; k++) {
            double swapped = matrix[row * rows + k];
            matrix[row * rows + k] = matrix[with * rows + k];
            matrix[with * rows + k] = swapped;
        }
    }

    /**
     * Returns the step from where the map was applied last; it counts as taken.
     *
     * @param residual by how much each state after the map is above that before it, and what follows above what is wanted
     * @return the change of each state, and of the parameter; valid until the next call
     */
    public double[] next(double[] residual) {
        substitute(residual);
        for (int k = 0; k < taken; k++) {
            double along = 0;
            for (int i = 0; i < rows; i++) {
                along += steps[k][i] * move[i] * weights[i];
            }
            boolean last = k == taken - 1;
            for (int i = 0; i < rows; i++) {
                move[i] = last ? move[i] / (1 - along / lengths[k]) : move[i] + steps[k + 1][i] * along / lengths[k];
            }
        }
        double length = 0;
        for (int i = 0; i < rows; i++) {
            length += move[i] * move[i] * weights[i];
        }
        System.arraycopy(move, 0, steps[taken], 0, rows);
        lengths[taken++] = length;
        return move;
    }

    private void substitute(double[] right) {
        int size = bordered ? rows : n;
        System.arraycopy(right, 0, move, 0, rows);
        for (int c = 0; c < n; c++) {
            double swapped = move[c];
            move[c] = move[order[c]];
            move[order[c]] = swapped;
        }
        for (int r = 1; r < size; r++) {
            for (int c = 0; c < r; c++) {
                move[r] -= matrix[r * rows + c] * move[c];
            }
        }
        for (int r = size - 1; r >= 0; r--) {
            for (int c = r + 1; c < size; c++) {
                move[r] -= matrix[r * rows + c] * move[c];
            }
            move[r] /= matrix[r * rows + r];
        }
        if (!bordered) {
            move[n] = 0;
        }
    }
}
