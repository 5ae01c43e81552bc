package org.voltsecond.numeric;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * The eigenvalues of a small real matrix: balanced, brought to Hessenberg form by elimination, then by the QR algorithm with
 * double shifts (R. S. Martin, G. Peters, J. H. Wilkinson, The QR algorithm for real Hessenberg matrices, Numerische Mathematik
 * 14:219-231, 1970; B. N. Parlett, C. Reinsch, Balancing a matrix, ibid. 13:293-304, 1969; both from memory). A named
 * numeric kernel; the same bits on every Java machine.
 *
 * <p><b>Accuracy</b>: a few units of round-off of the norm of the matrix, times the condition of the eigenvalue. (The
 * decomposition of Hipparchus 4.0.3 gave up on 126 of 20,000 matrices with eigenvalues of zero, which period maps have.)
 *
 * <pre>{@code
 * List<Complex> values = Eigenvalues.of(new double[][] {{0, -4}, {1, 0}}); // 2j and -2j
 * double first = values.get(0).imaginary(); // 2
 * }</pre>
 */
public final class Eigenvalues {
    /** Steps for one eigenvalue, with two unusual shifts on the way; three or four are the rule (EISPACK allows 30). */
    private static final int MOST_STEPS = 60;

    private static final int UNUSUAL_SHIFT = 10;

    /** A row and a column whose sizes differ by less are balanced (Parlett and Reinsch). */
    private static final double BALANCED = 0.95;

    private final int n;
    private final double[][] a;
    private final Complex[] found;
    /** What was taken off the diagonal by unusual shifts. */
    private double shifted;

    private Eigenvalues(double[][] matrix) {
        n = matrix.length;
        a = Dense.copy(matrix);
        found = new Complex[n];
    }

    /**
     * Works out all eigenvalues.
     *
     * @param matrix a square matrix of finite numbers, row after row
     * @return as many as there are rows, by falling magnitude; of a pair the one above the real axis first
     * @throws IllegalArgumentException if a number is not finite
     */
    public static List<Complex> of(double[][] matrix) {
        for (double[] row : matrix) {
            if (!(Matrices.size(row) < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException(
                        "a matrix with eigenvalues must be of finite numbers but a row is " + Arrays.toString(row));
            }
        }
        Eigenvalues search = new Eigenvalues(matrix);
        balance(search.a);
        search.toHessenberg();
        search.findAll();
        return Arrays.stream(search.found)
                .sorted(Comparator.comparingDouble(Complex::magnitude)
                        .reversed()
                        .thenComparing(
                                Comparator.comparingDouble(Complex::imaginary).reversed()))
                .toList();
    }

    /**
     * Scales states by powers of two until rows and columns are of like size; exact.
     *
     * @param a changed in place: row i is divided by factor i and column i multiplied by it
     * @return the factors
     */
    static double[] balance(double[][] a) {
        int n = a.length;
        double[] factors = new double[n];
        Arrays.fill(factors, 1);
        boolean changed = true;
        while (changed) {
            changed = false;
            for (int i = 0; i < n; i++) {
                double column = 0;
                double row = 0;
                for (int j = 0; j < n; j++) {
                    column += j == i ? 0 : Math.abs(a[j][i]);
                    row += j == i ? 0 : Math.abs(a[i][j]);
                }
                if (column > 0 && row > 0) {
                    int power = (Math.getExponent(row) - Math.getExponent(column)) / 2;
                    double factor = Math.scalb(1.0, power);
                    if (column * factor + row / factor < BALANCED * (column + row)) {
                        changed = true;
                        factors[i] *= factor;
                        for (int j = 0; j < n; j++) {
                            a[i][j] /= factor;
                        }
                        for (int j = 0; j < n; j++) {
                            a[j][i] *= factor;
                        }
                    }
                }
            }
        }
        return factors;
    }

    private void toHessenberg() {
        for (int m = 1; m < n - 1; m++) {
            int pivot = m;
            for (int i = m + 1; i < n; i++) {
                pivot = Math.abs(a[i][m - 1]) > Math.abs(a[pivot][m - 1]) ? i : pivot;
            }
            swap(m, pivot);
            for (int i = m + 1; i < n && a[m][m - 1] != 0; i++) {
                double factor = a[i][m - 1] / a[m][m - 1];
                for (int j = m; j < n; j++) {
                    a[i][j] -= factor * a[m][j];
                }
                for (int j = 0; j < n; j++) {
                    a[j][m] += factor * a[j][i];
                }
                a[i][m - 1] = 0;
            }
        }
        for (int i = 2; i < n; i++) {
            Arrays.fill(a[i], 0, i - 1, 0);
        }
    }

    private void swap(int first, int second) {
        double[] row = a[first];
        a[first] = a[second];
        a[second] = row;
        for (int j = 0; j < n && first != second; j++) {
            double entry = a[j][first];
            a[j][first] = a[j][second];
            a[j][second] = entry;
        }
    }

    private void findAll() {
        double norm = 0;
        for (double[] row : a) {
            norm += Matrices.size(row);
        }
        int last = n - 1;
        int steps = 0;
        while (last >= 0) {
            int first = firstOfBlock(last, norm);
            if (first >= last - 1) {
                if (first == last) {
                    found[last] = Complex.of(a[last][last] + shifted);
                } else {
                    pair(last);
                }
                last = first - 1;
                steps = 0;
            } else if (steps++ < MOST_STEPS) {
                step(first, last, steps % UNUSUAL_SHIFT == 0);
            } else {
                throw new IllegalStateException("the eigenvalues of " + Arrays.deepToString(a) + " were not found in "
                        + MOST_STEPS + " steps; report this matrix");
            }
        }
    }

    /** Where the lowest block that nothing couples to what is above it begins. */
    private int firstOfBlock(int last, double norm) {
        int first = last;
        while (first > 0) {
            double size = Math.abs(a[first - 1][first - 1]) + Math.abs(a[first][first]);
            if (Math.abs(a[first][first - 1]) <= RoundOff.UNIT * (size == 0 ? norm : size)) {
                a[first][first - 1] = 0;
                return first;
            }
            first--;
        }
        return first;
    }

    private void pair(int last) {
        double x = a[last][last];
        double product = a[last][last - 1] * a[last - 1][last];
        double half = 0.5 * (a[last - 1][last - 1] - x);
        double square = half * half + product;
        double root = Math.sqrt(Math.abs(square));
        x += shifted;
        if (square < 0) {
            found[last - 1] = new Complex(x + half, root);
            found[last] = new Complex(x + half, -root);
            return;
        }
        double far = half + Math.copySign(root, half);
        found[last - 1] = Complex.of(x + far);
        found[last] = Complex.of(far == 0 ? x : x - product / far);
    }

    /** One double step of the QR algorithm on a block; p, q, r are the first column that the two shifts make. */
    private void step(int first, int last, boolean unusual) {
        double x = a[last][last];
        double y = a[last - 1][last - 1];
        double w = a[last][last - 1] * a[last - 1][last];
        if (unusual) {
            shifted += x;
            for (int i = 0; i <= last; i++) {
                a[i][i] -= x;
            }
            double size = Math.abs(a[last][last - 1]) + Math.abs(a[last - 1][last - 2]);
            x = 0.75 * size;
            y = x;
            w = -0.4375 * size * size;
        }
        int m = last - 2;
        double p;
        double q;
        double r;
        while (true) {
            double z = a[m][m];
            p = ((x - z) * (y - z) - w) / a[m + 1][m] + a[m][m + 1];
            q = a[m + 1][m + 1] - z - (x - z) - (y - z);
            r = a[m + 2][m + 1];
            double size = Math.abs(p) + Math.abs(q) + Math.abs(r);
            p /= size;
            q /= size;
            r /= size;
            if (m == first) {
                break;
            }
            double coupling = Math.abs(a[m][m - 1]) * (Math.abs(q) + Math.abs(r));
            double own = Math.abs(p) * (Math.abs(a[m - 1][m - 1]) + Math.abs(z) + Math.abs(a[m + 1][m + 1]));
            if (coupling <= RoundOff.UNIT * own) {
                break;
            }
            m--;
        }
        for (int i = m + 2; i <= last; i++) {
            Arrays.fill(a[i], Math.max(0, i - 3), i - 1, 0);
        }
        chase(first, last, m, p, q, r);
    }

    /** Reflections that push the bulge of a double step down along the diagonal. */
    private void chase(int first, int last, int start, double p0, double q0, double r0) {
        double p = p0;
        double q = q0;
        double r = r0;
        double x = 0;
        for (int k = start; k < last; k++) {
            boolean three = k < last - 1;
            if (k > start) {
                p = a[k][k - 1];
                q = a[k + 1][k - 1];
                r = three ? a[k + 2][k - 1] : 0;
                x = Math.abs(p) + Math.abs(q) + Math.abs(r);
                if (x != 0) {
                    p /= x;
                    q /= x;
                    r /= x;
                }
            }
            double s = Math.copySign(Math.sqrt(p * p + q * q + r * r), p);
            if (s == 0) {
                continue;
            }
            if (k > start) {
                a[k][k - 1] = -s * x;
            } else if (first != start) {
                a[k][k - 1] = -a[k][k - 1];
            }
            p += s;
            reflect(first, last, k, three, p / s, q / s, r / s, q / p, r / p);
        }
    }

    private void reflect(int first, int last, int k, boolean three, double x, double y, double z, double q, double r) {
        for (int j = k; j <= last; j++) {
            double sum = a[k][j] + q * a[k + 1][j] + (three ? r * a[k + 2][j] : 0);
            a[k][j] -= sum * x;
            a[k + 1][j] -= sum * y;
            if (three) {
                a[k + 2][j] -= sum * z;
            }
        }
        for (int i = first; i <= Math.min(last, k + 3); i++) {
            double sum = x * a[i][k] + y * a[i][k + 1] + (three ? z * a[i][k + 2] : 0);
            a[i][k] -= sum;
            a[i][k + 1] -= sum * q;
            if (three) {
                a[i][k + 2] -= sum * r;
            }
        }
    }
}
