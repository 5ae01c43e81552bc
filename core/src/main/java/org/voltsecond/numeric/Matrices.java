package org.voltsecond.numeric;

/**
 * Small dense matrices row after row in one array, as the hot loops want them; {@link Dense} has them as arrays of rows. The
 * order of each sum is fixed, since the bits of waveforms depend on it. A named numeric kernel.
 *
 * <pre>{@code
 * double[] turn = {0, -1, 1, 0}; // by 90 degrees
 * double[] half = Matrices.multiply(turn, turn, 2);
 * double first = half[0]; // -1
 * }</pre>
 */
public final class Matrices {
    private Matrices() {}

    /**
     * Puts the rows of a square matrix into one array.
     *
     * @param rows the rows
     * @return their entries, row after row
     * @throws IllegalArgumentException if there are not as many columns as rows
     */
    public static double[] flatten(double[][] rows) {
        int n = rows.length;
        double[] flat = new double[n * n];
        for (int i = 0; i < n; i++) {
            if (rows[i].length != n) {
                throw new IllegalArgumentException(
                        "a matrix must be square but row " + i + " of " + n + " has " + rows[i].length + " entries");
            }
            System.arraycopy(rows[i], 0, flat, i * n, n);
        }
        return flat;
    }

    /**
     * Returns the smaller of the two sum norms: an upper bound of the spectral radius that is cheap and safe.
     *
     * @param a a matrix
     * @param n number of its rows
     * @return the smaller one of the largest sum of magnitudes in a row and that in a column
     */
    public static double norm(double[] a, int n) {
        double rows = 0;
        double columns = 0;
        for (int i = 0; i < n; i++) {
            double row = 0;
            double column = 0;
            for (int j = 0; j < n; j++) {
                row += Math.abs(a[i * n + j]);
                column += Math.abs(a[j * n + i]);
            }
            rows = Math.max(rows, row);
            columns = Math.max(columns, column);
        }
        return Math.min(rows, columns);
    }

    /**
     * Returns the sum of the magnitudes.
     *
     * @param x numbers
     * @return their sum; not a number, or infinite, if one of them is
     */
    public static double size(double[] x) {
        double sum = 0;
        for (double value : x) {
            sum += Math.abs(value);
        }
        return sum;
    }

    /**
     * Returns the sum of products of entries from two places on; without a loop for the few states of most systems.
     *
     * @param a first factors
     * @param at index of the first of them
     * @param b second factors
     * @param from index of the first of them
     * @param n number of products
     * @return the sum
     */
    public static double dot(double[] a, int at, double[] b, int from, int n) {
        return switch (n) {
            case 2 -> a[at] * b[from] + a[at + 1] * b[from + 1];
            case 3 -> a[at] * b[from] + a[at + 1] * b[from + 1] + a[at + 2] * b[from + 2];
            case 4 -> a[at] * b[from] + a[at + 1] * b[from + 1] + (a[at + 2] * b[from + 2] + a[at + 3] * b[from + 3]);
            default -> sumOfProducts(a, at, b, from, n);
        };
    }

    private static double sumOfProducts(double[] a, int at, double[] b, int from, int n) {
        double sum = 0;
        for (int j = 0; j < n; j++) {
            sum += a[at + j] * b[from + j];
        }
        return sum;
    }

    /**
     * Multiplies two square matrices.
     *
     * @param a the left one
     * @param b the right one
     * @param n number of their rows
     * @return the product, a new array
     */
    public static double[] multiply(double[] a, double[] b, int n) {
        double[] product = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int k = 0; k < n; k++) {
                double factor = a[i * n + k];
                for (int j = 0; j < n; j++) {
                    product[i * n + j] += factor * b[k * n + j];
                }
            }
        }
        return product;
    }

    /**
     * Multiplies a matrix and a vector.
     *
     * @param a a square matrix
     * @param x a vector
     * @return the product, a new array
     */
    public static double[] multiply(double[] a, double[] x) {
        int n = x.length;
        double[] product = new double[n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                product[i] += a[i * n + j] * x[j];
            }
        }
        return product;
    }
}
