package org.voltsecond.analysis;

/** A small dense matrix of complex numbers, row by row. A named numeric kernel. */
final class ComplexMatrix {
    final int rows;
    final int columns;
    final double[] re;
    final double[] im;

    ComplexMatrix(int rows, int columns) {
        this.rows = rows;
        this.columns = columns;
        re = new double[rows * columns];
        im = new double[rows * columns];
    }

    static ComplexMatrix identity(int n) {
        ComplexMatrix result = new ComplexMatrix(n, n);
        result.addToDiagonal(1);
        return result;
    }

    ComplexMatrix times(ComplexMatrix right) {
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

    /** Adds (a + j b) times a row of another matrix to a row of this one. */
    void addRow(int row, double a, double b, ComplexMatrix other, int otherRow) {
        int to = row * columns;
        int from = otherRow * other.columns;
        for (int j = 0; j < columns; j++) {
            re[to + j] += a * other.re[from + j] - b * other.im[from + j];
            im[to + j] += a * other.im[from + j] + b * other.re[from + j];
        }
    }

    void add(int row, int column, double a, double b) {
        re[row * columns + column] += a;
        im[row * columns + column] += b;
    }

    ComplexMatrix addToDiagonal(double value) {
        for (int i = 0; i < rows; i++) {
            re[i * columns + i] += value;
        }
        return this;
    }

    ComplexMatrix plus(ComplexMatrix other) {
        ComplexMatrix sum = new ComplexMatrix(rows, columns);
        for (int k = 0; k < re.length; k++) {
            sum.re[k] = re[k] + other.re[k];
            sum.im[k] = im[k] + other.im[k];
        }
        return sum;
    }

    ComplexMatrix scaled(double factor) {
        ComplexMatrix result = new ComplexMatrix(rows, columns);
        for (int k = 0; k < re.length; k++) {
            result.re[k] = factor * re[k];
            result.im[k] = factor * im[k];
        }
        return result;
    }

    /** Largest sum of the sizes of a row. */
    double norm() {
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
     */
    void solve(ComplexMatrix right) {
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
