package org.voltsecond.numeric;

import java.util.Arrays;

/**
 * What a linear system {@code dx/dt = A x} shows of its state at many frequencies: the row {@code g (j omega - A)^-1}, each in a number
 * of operations that grows with the square of the states. The matrix is brought once to Hessenberg form, with the row as the first
 * direction (the observer form; P. Van Dooren, The generalized eigenstructure problem in linear system theory, IEEE Trans. Automatic
 * Control 26(1):111-129, 1981, from memory), so that states that it does not show fall away. A named numeric kernel; the same bits on
 * every Java machine.
 *
 * <p><b>Accuracy</b>: a few units of round-off of the norm of the balanced matrix over the distance of {@code j omega} from its
 * eigenvalues.
 *
 * <pre>{@code
 * Resolvent decay = Resolvent.of(new double[][] {{-3}}, new double[] {1}); // 1 / (j omega + 3)
 * double[] seen = decay.coordinates(new double[] {10}); // of the state 10
 * decay.at(4);
 * double size = Math.hypot(decay.real(seen), decay.imaginary(seen)); // 2
 * }</pre>
 */
public final class Resolvent {
    /** How many states are seen: what couples to the next is nothing but round-off. */
    private final int n;
    /** Upper Hessenberg form of the transposed matrix, over the states that are seen. */
    private final double[][] h;
    /** Row k: the k-th direction in the states as they were given. */
    private final double[][] basis;

    private final double size;
    /** The answer of {@link #at}, and the room in which it is worked out. */
    private final double[] re;

    private final double[] im;
    private final double[][] workRe;
    private final double[][] workIm;

    private Resolvent(int n, double[][] h, double[][] basis, double size) {
        this.n = n;
        this.h = h;
        this.basis = basis;
        this.size = size;
        re = new double[n];
        im = new double[n];
        workRe = new double[n][n];
        workIm = new double[n][n];
    }

    /**
     * Prepares a system. What is returned belongs to one thread.
     *
     * @param a the square matrix, 1/s; copied
     * @param g one factor for each state
     * @return the row at frequencies to be asked for with {@link #at}
     */
    public static Resolvent of(double[][] a, double[] g) {
        int n = g.length;
        double[][] work = Dense.copy(a);
        double[] scale = Eigenvalues.balance(work);
        double[][] t = Dense.transpose(work, n);
        double[] row = g.clone();
        double[][] q = new double[n][n];
        for (int i = 0; i < n; i++) {
            row[i] *= scale[i];
            q[i][i] = 1;
        }
        double norm = 0;
        for (double[] each : t) {
            norm = Math.max(norm, Matrices.size(each));
        }
        int seen = reflect(row, 0, t, q) == 0 ? 0 : 1;
        while (seen > 0 && seen < n) {
            double[] column = new double[n];
            for (int i = seen; i < n; i++) {
                column[i] = t[i][seen - 1];
            }
            if (Matrices.size(column) <= RoundOff.UNIT * norm) {
                break;
            }
            reflect(column, seen, t, q);
            for (int i = seen + 1; i < n; i++) {
                t[i][seen - 1] = 0;
            }
            seen++;
        }
        for (double[] each : q) {
            for (int j = 0; j < n; j++) {
                each[j] /= scale[j];
            }
        }
        return new Resolvent(seen, t, q, n == 0 ? 0 : row[0]);
    }

    /**
     * Reflects the last coordinates so that a vector points along the first of them (Householder); the vector, the matrix from both
     * sides and the directions go along.
     */
    private static double reflect(double[] vector, int from, double[][] t, double[][] q) {
        int n = vector.length;
        double largest = Dense.largest(vector);
        if (largest == 0) {
            return 0;
        }
        double square = 0;
        double[] v = new double[n];
        for (int i = from; i < n; i++) {
            v[i] = vector[i] / largest;
            square += v[i] * v[i];
        }
        double length = Math.copySign(Math.sqrt(square), v[from]);
        double first = v[from] + length;
        double factor = 1 / (length * first);
        v[from] = first;
        for (int j = 0; j < n; j++) {
            double sum = 0;
            double turned = 0;
            for (int i = from; i < n; i++) {
                sum += v[i] * t[i][j];
                turned += v[i] * q[i][j];
            }
            for (int i = from; i < n; i++) {
                t[i][j] -= factor * sum * v[i];
                q[i][j] -= factor * turned * v[i];
            }
        }
        for (double[] row : t) {
            double sum = 0;
            for (int i = from; i < n; i++) {
                sum += v[i] * row[i];
            }
            for (int i = from; i < n; i++) {
                row[i] -= factor * sum * v[i];
            }
        }
        Arrays.fill(vector, from, n, 0);
        vector[from] = -length * largest;
        return vector[from];
    }

    /**
     * Turns a state into the coordinates in which the row is worked out.
     *
     * @param state one entry for each state
     * @return its coordinates
     */
    public double[] coordinates(double[] state) {
        double[] result = new double[n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < state.length; j++) {
                result[i] += basis[i][j] * state[j];
            }
        }
        return result;
    }

    /**
     * Works out the row at a frequency.
     *
     * @param omega angular frequency, rad/s
     * @return by how much the row is larger than where all rates are far below the frequency: near an eigenvalue the frequency over the
     *     distance from it; not finite on one
     */
    public double at(double omega) {
        Arrays.fill(re, 0);
        Arrays.fill(im, 0);
        if (n == 0) {
            return 1;
        }
        re[0] = size;
        for (int i = 0; i < n; i++) {
            for (int j = Math.max(0, i - 1); j < n; j++) {
                workRe[i][j] = -h[i][j];
                workIm[i][j] = i == j ? omega : 0;
            }
        }
        for (int k = 0; k < n - 1; k++) {
            eliminate(k);
        }
        for (int i = n - 1; i >= 0; i--) {
            double[] rowRe = workRe[i];
            double[] rowIm = workIm[i];
            double a = re[i];
            double b = im[i];
            for (int j = i + 1; j < n; j++) {
                a -= rowRe[j] * re[j] - rowIm[j] * im[j];
                b -= rowRe[j] * im[j] + rowIm[j] * re[j];
            }
            double square = rowRe[i] * rowRe[i] + rowIm[i] * rowIm[i];
            re[i] = (a * rowRe[i] + b * rowIm[i]) / square;
            im[i] = (b * rowRe[i] - a * rowIm[i]) / square;
        }
        return omega * Math.max(Dense.largest(re), Dense.largest(im)) / Math.abs(size);
    }

    /** Takes the entry below the diagonal away, with the larger of the two rows as pivot. */
    private void eliminate(int k) {
        double pivotSize = Math.abs(workRe[k][k]) + Math.abs(workIm[k][k]);
        if (Math.abs(workRe[k + 1][k]) > pivotSize) {
            swap(workRe, k);
            swap(workIm, k);
            swap(re, k);
            swap(im, k);
        }
        double[] pivotRe = workRe[k];
        double[] pivotIm = workIm[k];
        double[] rowRe = workRe[k + 1];
        double[] rowIm = workIm[k + 1];
        double square = pivotRe[k] * pivotRe[k] + pivotIm[k] * pivotIm[k];
        double a = (rowRe[k] * pivotRe[k] + rowIm[k] * pivotIm[k]) / square;
        double b = (rowIm[k] * pivotRe[k] - rowRe[k] * pivotIm[k]) / square;
        for (int j = k + 1; j < n; j++) {
            rowRe[j] -= a * pivotRe[j] - b * pivotIm[j];
            rowIm[j] -= a * pivotIm[j] + b * pivotRe[j];
        }
        re[k + 1] -= a * re[k] - b * im[k];
        im[k + 1] -= a * im[k] + b * re[k];
    }

    private static void swap(double[][] rows, int k) {
        double[] row = rows[k];
        rows[k] = rows[k + 1];
        rows[k + 1] = row;
    }

    private static void swap(double[] entries, int k) {
        double entry = entries[k];
        entries[k] = entries[k + 1];
        entries[k + 1] = entry;
    }

    /**
     * Multiplies the row that was worked out last by a state.
     *
     * @param coordinates those of the state
     * @return the real part of the product, s times the unit of what the row shows
     */
    public double real(double[] coordinates) {
        return product(re, coordinates);
    }

    /**
     * Multiplies the row that was worked out last by a state.
     *
     * @param coordinates those of the state
     * @return the imaginary part of the product
     */
    public double imaginary(double[] coordinates) {
        return product(im, coordinates);
    }

    private double product(double[] row, double[] coordinates) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
            sum += row[i] * coordinates[i];
        }
        return sum;
    }
}
