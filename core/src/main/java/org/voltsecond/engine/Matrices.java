package org.voltsecond.engine;

/** Small dense matrices as row-major arrays. */
final class Matrices {
    private Matrices() {}

    static double[] flatten(double[][] rows) {
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

    /** The smaller of the two sum norms: an upper bound of the spectral radius that is cheap and safe. */
    static double norm(double[] a, int n) {
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

    /** The sum of the magnitudes: not a number, or infinite, if an entry is. */
    static double size(double[] x) {
        double sum = 0;
        for (double value : x) {
            sum += Math.abs(value);
        }
        return sum;
    }

    /** The sum of {@code n} products of entries from two places on; without a loop for the few states of most systems. */
    static double dot(double[] a, int at, double[] b, int from, int n) {
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

    static double[] multiply(double[] a, double[] b, int n) {
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

    static double[] multiply(double[] a, double[] x) {
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
