package org.voltsecond.numeric;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Small dense matrices as arrays of rows. Elimination keeps matrices of 0 and +-1 that come from the graph of a circuit
 * exact, so that ranks and null spaces of such circuits are decided without a threshold that could be wrong.
 *
 * <pre>{@code
 * List<double[]> basis = Dense.nullSpace(new double[][] {{1, 1}}, 2);
 * double first = basis.get(0)[0]; // -1
 * double second = basis.get(0)[1]; // 1
 * }</pre>
 */
public final class Dense {
    private Dense() {}

    /**
     * Multiplies two matrices.
     *
     * @param a the left one
     * @param b the right one
     * @param columns number of its columns, which tells them where it has no rows
     * @return the product, new arrays
     */
    public static double[][] multiply(double[][] a, double[][] b, int columns) {
        double[][] product = new double[a.length][columns];
        for (int i = 0; i < a.length; i++) {
            addMultiple(product[i], a[i], b);
        }
        return product;
    }

    /**
     * Adds {@code row b} to a sum.
     *
     * @param sum what is added to
     * @param row factors of the rows
     * @param b the rows
     */
    public static void addMultiple(double[] sum, double[] row, double[][] b) {
        for (int k = 0; k < b.length; k++) {
            if (row[k] != 0) {
                for (int j = 0; j < sum.length; j++) {
                    sum[j] += row[k] * b[k][j];
                }
            }
        }
    }

    /**
     * Adds {@code row b} to a sum, and the size of the largest term to sizes, against which {@link #snap} tells
     * round-off.
     *
     * @param sum what is added to
     * @param sizes the largest magnitude so far of the terms of each entry
     * @param row factors of the rows
     * @param b the rows
     */
    public static void addMultiple(double[] sum, double[] sizes, double[] row, double[][] b) {
        for (int k = 0; k < b.length; k++) {
            if (row[k] != 0) {
                for (int j = 0; j < sum.length; j++) {
                    double term = row[k] * b[k][j];
                    sum[j] += term;
                    sizes[j] = Math.max(sizes[j], Math.abs(term));
                }
            }
        }
    }

    /**
     * Sets to zero what is round-off beside the largest of the terms that it was added up from.
     *
     * @param sum the sum, overwritten
     * @param sizes the largest magnitude of the terms of each entry
     * @return the sum
     */
    public static double[] snap(double[] sum, double[] sizes) {
        for (int j = 0; j < sum.length; j++) {
            sum[j] = Math.abs(sum[j]) <= RoundOff.OF_A_SUM * sizes[j] ? 0 : sum[j];
        }
        return sum;
    }

    /**
     * Returns the sum of the products of entries.
     *
     * @param a numbers
     * @param b as many or more
     * @return the sum
     */
    public static double dot(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    /**
     * Returns a row with all signs turned.
     *
     * @param row the row
     * @return a new row
     */
    public static double[] negative(double[] row) {
        double[] result = new double[row.length];
        for (int j = 0; j < row.length; j++) {
            result[j] = -row[j];
        }
        return result;
    }

    /**
     * Mirrors a matrix at its diagonal.
     *
     * @param a the matrix
     * @param columns number of its columns, which tells them where it has no rows
     * @return new arrays
     */
    public static double[][] transpose(double[][] a, int columns) {
        double[][] result = new double[columns][a.length];
        for (int i = 0; i < a.length; i++) {
            for (int j = 0; j < columns; j++) {
                result[j][i] = a[i][j];
            }
        }
        return result;
    }

    private static void subtract(double[][] a, double[][] x, int row, int pivotRow, int column) {
        double factor = a[row][column] / a[pivotRow][column];
        if (factor != 0) {
            addRow(a[row], -factor, a[pivotRow]);
            addRow(x[row], -factor, x[pivotRow]);
            a[row][column] = 0;
        }
    }

    private static void addRow(double[] row, double factor, double[] other) {
        for (int j = 0; j < row.length; j++) {
            row[j] += factor * other[j];
        }
    }

    /**
     * Returns a basis of the vectors that a matrix takes to zero.
     *
     * @param matrix the matrix
     * @param columns number of its columns
     * @return the basis; empty if there is none but zero
     */
    public static List<double[]> nullSpace(double[][] matrix, int columns) {
        double[][] a = copy(matrix);
        int[] pivotOfColumn = reduce(a, new double[a.length][0], columns);
        List<double[]> basis = new ArrayList<>();
        for (int free = 0; free < columns; free++) {
            if (pivotOfColumn[free] < 0) {
                double[] vector = new double[columns];
                vector[free] = 1;
                for (int j = 0; j < columns; j++) {
                    if (pivotOfColumn[j] >= 0) {
                        vector[j] = -a[pivotOfColumn[j]][free];
                    }
                }
                basis.add(vector);
            }
        }
        return basis;
    }

    /**
     * Vectors split by what a map makes of them.
     *
     * @param independent combinations whose images are independent; each image has a 1 in a column where the others have 0
     * @param pivots that column for each of them
     * @param vanishing combinations whose image is zero
     */
    public record Split(List<double[]> independent, List<Integer> pivots, List<double[]> vanishing) {}

    /**
     * Splits vectors by what a map makes of them.
     *
     * @param vectors the vectors
     * @param images what the map makes of each
     * @param imageSize number of entries of an image
     * @return combinations of the vectors
     */
    public static Split split(List<double[]> vectors, double[][] images, int imageSize) {
        double[][] a = copy(images);
        double[][] combined = vectors.stream().map(double[]::clone).toArray(double[][]::new);
        int[] pivotOfColumn = reduce(a, combined, imageSize);
        Split split = new Split(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
        boolean[] used = new boolean[combined.length];
        for (int column = 0; column < imageSize; column++) {
            if (pivotOfColumn[column] >= 0) {
                used[pivotOfColumn[column]] = true;
                split.independent().add(combined[pivotOfColumn[column]]);
                split.pivots().add(column);
            }
        }
        for (int i = 0; i < combined.length; i++) {
            if (!used[i]) {
                split.vanishing().add(combined[i]);
            }
        }
        return split;
    }

    /** Gauss-Jordan elimination to pivots of 1; returns the pivot's row for each column, -1 for none. */
    private static int[] reduce(double[][] a, double[][] follow, int columns) {
        double threshold = 0;
        for (double[] row : a) {
            threshold = Math.max(threshold, RoundOff.OF_AN_ELIMINATION * largest(row));
        }
        int[] pivotOfColumn = new int[columns];
        Arrays.fill(pivotOfColumn, -1);
        boolean[] used = new boolean[a.length];
        for (int column = 0; column < columns; column++) {
            int best = -1;
            for (int i = 0; i < a.length; i++) {
                boolean larger = best < 0 || Math.abs(a[i][column]) > Math.abs(a[best][column]);
                if (!used[i] && Math.abs(a[i][column]) > threshold && larger) {
                    best = i;
                }
            }
            if (best >= 0) {
                used[best] = true;
                pivotOfColumn[column] = best;
                clearColumn(a, follow, best, column);
            }
        }
        return pivotOfColumn;
    }

    private static void clearColumn(double[][] a, double[][] follow, int pivot, int column) {
        double scale = 1 / a[pivot][column];
        for (int j = 0; j < a[pivot].length; j++) {
            a[pivot][j] *= scale;
        }
        for (int j = 0; j < follow[pivot].length; j++) {
            follow[pivot][j] *= scale;
        }
        for (int i = 0; i < a.length; i++) {
            if (i != pivot) {
                subtract(a, follow, i, pivot, column);
            }
        }
    }

    /**
     * Returns the largest magnitude.
     *
     * @param row numbers
     * @return the largest of their magnitudes; 0 if there are none
     */
    public static double largest(double[] row) {
        double largest = 0;
        for (double value : row) {
            largest = Math.max(largest, Math.abs(value));
        }
        return largest;
    }

    /**
     * Copies a matrix.
     *
     * @param a the matrix
     * @return new arrays
     */
    public static double[][] copy(double[][] a) {
        double[][] result = new double[a.length][];
        for (int i = 0; i < a.length; i++) {
            result[i] = a[i].clone();
        }
        return result;
    }
}
