package org.voltsecond.numeric;

/**
 * Solves small systems of linear equations by Gaussian elimination with partial pivoting, in scratch space of its own. A
 * named numeric kernel.
 *
 * <pre>{@code
 * Elimination elimination = new Elimination(2, 1e-13);
 * boolean solved = elimination.solve(new double[] {2, 0, 1, 1}, new double[] {6, 5}); // true
 * double second = elimination.solution()[1]; // 2
 * }</pre>
 */
public final class Elimination {
    private final int n;
    private final double smallestPivot;
    private final double[] work;
    private final double[] vector;

    /**
     * Makes room.
     *
     * @param n number of equations
     * @param smallestPivot a pivot below this counts as zero
     */
    public Elimination(int n, double smallestPivot) {
        this.n = n;
        this.smallestPivot = smallestPivot;
        work = new double[n * n];
        vector = new double[n];
    }

    /**
     * Solves a system.
     *
     * @param matrix the matrix, row after row
     * @param right the right-hand side
     * @return whether there is one solution; false if the matrix is singular. Of what is not a number, neither is the
     *     solution
     */
    public boolean solve(double[] matrix, double[] right) {
        System.arraycopy(matrix, 0, work, 0, n * n);
        System.arraycopy(right, 0, vector, 0, n);
        for (int column = 0; column < n; column++) {
            int pivot = pivotOf(column);
            if (Math.abs(work[pivot * n + column]) < smallestPivot) {
                return false;
            }
            if (pivot != column) {
                swap(pivot, column);
            }
            eliminate(column);
        }
        substitute();
        return true;
    }

    /**
     * Inverts a matrix.
     *
     * @param matrix the matrix, row after row
     * @param into takes its inverse, row after row
     * @return whether there is one; false if the matrix is singular
     */
    public boolean invert(double[] matrix, double[] into) {
        if (n == 2) {
            return invertPlanar(matrix, into);
        }
        double[] unit = new double[n];
        for (int column = 0; column < n; column++) {
            unit[column] = 1;
            if (!solve(matrix, unit)) {
                return false;
            }
            unit[column] = 0;
            for (int row = 0; row < n; row++) {
                into[row * n + column] = vector[row];
            }
        }
        return true;
    }

    private boolean invertPlanar(double[] m, double[] into) {
        double determinant = m[0] * m[3] - m[1] * m[2];
        double largest = Math.max(Math.max(Math.abs(m[0]), Math.abs(m[1])), Math.max(Math.abs(m[2]), Math.abs(m[3])));
        if (determinant == 0 || Math.abs(determinant) < smallestPivot * largest) {
            return false;
        }
        into[0] = m[3] / determinant;
        into[1] = -m[1] / determinant;
        into[2] = -m[2] / determinant;
        into[3] = m[0] / determinant;
        return true;
    }

    /**
     * Returns what the last {@link #solve} found.
     *
     * @return the solution, a new array
     */
    public double[] solution() {
        return vector.clone();
    }

    /**
     * Writes what the last {@link #solve} found.
     *
     * @param into takes the solution
     */
    public void solution(double[] into) {
        System.arraycopy(vector, 0, into, 0, n);
    }

    private int pivotOf(int column) {
        int best = column;
        for (int row = column + 1; row < n; row++) {
            if (Math.abs(work[row * n + column]) > Math.abs(work[best * n + column])) {
                best = row;
            }
        }
        return best;
    }

    private void swap(int a, int b) {
        for (int j = 0; j < n; j++) {
            double entry = work[a * n + j];
            work[a * n + j] = work[b * n + j];
            work[b * n + j] = entry;
        }
        double entry = vector[a];
        vector[a] = vector[b];
        vector[b] = entry;
    }

    private void eliminate(int column) {
        for (int row = column + 1; row < n; row++) {
            double factor = work[row * n + column] / work[column * n + column];
            for (int j = column + 1; j < n; j++) {
                work[row * n + j] -= factor * work[column * n + j];
            }
            vector[row] -= factor * vector[column];
        }
    }

    private void substitute() {
        for (int row = n - 1; row >= 0; row--) {
            double sum = vector[row];
            for (int j = n - 1; j > row; j--) {
                sum -= work[row * n + j] * vector[j];
            }
            vector[row] = sum / work[row * n + row];
        }
    }
}
