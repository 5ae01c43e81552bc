package org.voltsecond.numeric;

/**
 * A small dense matrix of complex numbers, row by row, that may be changed in place; it belongs to one thread. A named numeric
 * kernel.
 *
 * <pre>{@code
 * ComplexMatrix left = ComplexMatrix.identity(1).scaled(2);
 * ComplexMatrix right = new ComplexMatrix(1, 1);
 * right.add(0, 0, 0, 6);
 * left.solve(right);
 * double solution = right.imaginary(0, 0); // 3
 * }</pre>
 */
public final class ComplexMatrix {
    private final int rows;
    private final int columns;
    private final double[] re;
    private final double[] im;

    /**
     * Makes a matrix of zeros.
     *
     * @param rows number of rows
     * @param columns number of columns
     */
    public ComplexMatrix(int rows, int columns) {
        this.rows = rows;
        this.columns = columns;
        re = new double[rows * columns];
        im = new double[rows * columns];
    }

    /**
     * Returns the number of columns.
     *
     * @return the number
     */
    public int columns() {
        return columns;
    }

    /**
     * Returns the real part of an entry.
     *
     * @param row from 0
     * @param column from 0
     * @return its real part
     */
    public double real(int row, int column) {
        return re[row * columns + column];
    }

    /**
     * Returns the imaginary part of an entry.
     *
     * @param row from 0
     * @param column from 0
     * @return its imaginary part
     */
    public double imaginary(int row, int column) {
        return im[row * columns + column];
    }

    /**
     * Returns a matrix of one column.
     *
     * @param n how many rows
     * @param real real parts
     * @param imaginary imaginary parts
     * @param factor by which the imaginary parts are multiplied
     * @return a new matrix
     */
    public static ComplexMatrix column(int n, double[] real, double[] imaginary, double factor) {
        ComplexMatrix column = new ComplexMatrix(n, 1);
        for (int i = 0; i < n; i++) {
            column.add(i, 0, real[i], imaginary[i] * factor);
        }
        return column;
    }

    /**
     * Makes a matrix that changes nothing.
     *
     * @param n number of rows and columns
     * @return ones on the diagonal, zeros elsewhere
     */
    public static ComplexMatrix identity(int n) {
        ComplexMatrix result = new ComplexMatrix(n, n);
        result.addToDiagonal(1);
        return result;
    }

    /**
     * Multiplies two matrices.
     *
     * @param right the right one; as many rows as this has columns
     * @return the product, a new matrix
     */
    public ComplexMatrix times(ComplexMatrix right) {
        ComplexMatrix product = new ComplexMatrix(rows, right.columns);
        for (int i = 0; i < rows; i++) {
            for (int k = 0; k < columns; k++) {
                double a = re[i * columns + k];
                double b = im[i * columns + k];
                if (a != 0 || b != 0) {
                    product.addRow(i, a, b, right, k);
                }
            }
        }
        return product;
    }

    /**
     * Adds (a + j b) times a row of another matrix to a row of this one.
     *
     * @param row which row of this, from 0
     * @param a real part of the factor
     * @param b imaginary part of the factor
     * @param other the other matrix; as many columns
     * @param otherRow which row of it, from 0
     */
    public void addRow(int row, double a, double b, ComplexMatrix other, int otherRow) {
        int to = row * columns;
        int from = otherRow * other.columns;
        for (int j = 0; j < columns; j++) {
            re[to + j] += a * other.re[from + j] - b * other.im[from + j];
            im[to + j] += a * other.im[from + j] + b * other.re[from + j];
        }
    }

    /**
     * Adds to an entry.
     *
     * @param row from 0
     * @param column from 0
     * @param a real part of what is added
     * @param b imaginary part
     */
    public void add(int row, int column, double a, double b) {
        re[row * columns + column] += a;
        im[row * columns + column] += b;
    }

    /**
     * Adds a real number to every entry of the diagonal.
     *
     * @param value the number
     * @return this matrix
     */
    public ComplexMatrix addToDiagonal(double value) {
        for (int i = 0; i < rows; i++) {
            re[i * columns + i] += value;
        }
        return this;
    }

    /**
     * Adds two matrices.
     *
     * @param other the other one; of the same size
     * @return the sum, a new matrix
     */
    public ComplexMatrix plus(ComplexMatrix other) {
        ComplexMatrix sum = new ComplexMatrix(rows, columns);
        for (int k = 0; k < re.length; k++) {
            sum.re[k] = re[k] + other.re[k];
            sum.im[k] = im[k] + other.im[k];
        }
        return sum;
    }

    /**
     * Multiplies by a real number.
     *
     * @param factor the number
     * @return a new matrix
     */
    public ComplexMatrix scaled(double factor) {
        ComplexMatrix result = new ComplexMatrix(rows, columns);
        for (int k = 0; k < re.length; k++) {
            result.re[k] = factor * re[k];
            result.im[k] = factor * im[k];
        }
        return result;
    }

    /**
     * Returns the largest sum of the sizes of a row.
     *
     * @return the sum of the magnitudes of real and imaginary parts; at least the spectral radius
     */
    public double norm() {
        double largest = 0;
        for (int i = 0; i < rows; i++) {
            double sum = 0;
            for (int j = 0; j < columns; j++) {
                sum += Math.abs(re[i * columns + j]) + Math.abs(im[i * columns + j]);
            }
            largest = Math.max(largest, sum);
        }
        return largest;
    }

    /**
     * Solves this matrix times x = right by elimination with partial pivoting; both are overwritten, the solution stands
     * in the right side. A singular matrix gives values that are not finite.
     *
     * @param right the right sides, one in each column; as many rows as this has
     */
    public void solve(ComplexMatrix right) {
        int n = rows;
        for (int k = 0; k < n; k++) {
            int pivot = k;
            for (int i = k + 1; i < n; i++) {
                pivot = size(i, k) > size(pivot, k) ? i : pivot;
            }
            swapRows(k, pivot);
            right.swapRows(k, pivot);
            for (int i = 0; i < n; i++) {
                if (i != k && size(i, k) != 0) {
                    eliminate(right, i, k);
                }
            }
        }
        for (int k = 0; k < n; k++) {
            double[] inverse = inverse(re[k * columns + k], im[k * columns + k]);
            ComplexMatrix row = new ComplexMatrix(1, right.columns);
            row.addRow(0, inverse[0], inverse[1], right, k);
            System.arraycopy(row.re, 0, right.re, k * right.columns, right.columns);
            System.arraycopy(row.im, 0, right.im, k * right.columns, right.columns);
        }
    }

    private void eliminate(ComplexMatrix right, int row, int pivot) {
        double[] inverse = inverse(re[pivot * columns + pivot], im[pivot * columns + pivot]);
        double a = re[row * columns + pivot];
        double b = im[row * columns + pivot];
        double factorRe = -(a * inverse[0] - b * inverse[1]);
        double factorIm = -(a * inverse[1] + b * inverse[0]);
        addRow(row, factorRe, factorIm, this, pivot);
        right.addRow(row, factorRe, factorIm, right, pivot);
        re[row * columns + pivot] = 0;
        im[row * columns + pivot] = 0;
    }

    private static double[] inverse(double a, double b) {
        double square = a * a + b * b;
        return new double[] {a / square, -b / square};
    }

    private double size(int row, int column) {
        return Math.abs(re[row * columns + column]) + Math.abs(im[row * columns + column]);
    }

    private void swapRows(int first, int second) {
        for (int j = 0; j < columns && first != second; j++) {
            int a = first * columns + j;
            int b = second * columns + j;
            double keep = re[a];
            re[a] = re[b];
            re[b] = keep;
            keep = im[a];
            im[a] = im[b];
            im[b] = keep;
        }
    }
}
