package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.SingularValueDecomposition;
import org.voltsecond.numeric.Dense;
import org.voltsecond.numeric.RoundOff;

/**
 * The null vectors of K on both sides. They are cuts (groups of nodes that only inductors, current sources and open
 * devices tie to the rest) and loops (of capacitances, voltage sources and parts without resistance). Without controlled
 * sources these are all: {@code i' R i = 0} along a null vector. With controlled sources a numerical rank decides whether
 * there are others, which amplification brings about.
 */
final class NullVectors {
    /** Vectors w with w' K = 0. */
    final List<double[]> left;
    /** Vectors n with K n = 0. */
    final List<double[]> right;

    private NullVectors(List<double[]> left, List<double[]> right) {
        this.left = left;
        this.right = right;
    }

    static NullVectors of(Equations equations) {
        if (!equations.elements().controlled()) {
            List<double[]> both = structural(equations.k, equations.nodes); // K is symmetric
            return new NullVectors(both, both);
        }
        List<double[]> left = structural(Dense.transpose(equations.k, equations.size), equations.nodes);
        List<double[]> right = structural(equations.k, equations.nodes);
        NullVectors found = new NullVectors(left, right);
        return left.size() == right.size() && isRegular(border(equations.k, left, right))
                ? found
                : numerical(equations);
    }

    /** Cuts: voltages that no branch meets. Loops: currents without any voltage that close upon themselves. */
    private static List<double[]> structural(double[][] k, int nodes) {
        int size = k.length;
        List<double[]> vectors = new ArrayList<>();
        double[][] rows = new double[size - nodes][];
        for (int b = nodes; b < size; b++) {
            rows[b - nodes] = java.util.Arrays.copyOf(k[b], nodes);
        }
        for (double[] voltages : Dense.nullSpace(rows, nodes)) {
            vectors.add(java.util.Arrays.copyOf(voltages, size));
        }
        List<Integer> free = new ArrayList<>();
        for (int b = nodes; b < size; b++) {
            if (meetsNoVoltage(k, nodes, b)) {
                free.add(b);
            }
        }
        double[][] columns = new double[nodes][free.size()];
        for (int node = 0; node < nodes; node++) {
            for (int j = 0; j < free.size(); j++) {
                columns[node][j] = k[node][free.get(j)];
            }
        }
        for (double[] currents : Dense.nullSpace(columns, free.size())) {
            double[] vector = new double[size];
            for (int j = 0; j < free.size(); j++) {
                vector[free.get(j)] = currents[j];
            }
            vectors.add(vector);
        }
        return vectors;
    }

    private static boolean meetsNoVoltage(double[][] k, int nodes, int branch) {
        for (int row = nodes; row < k.length; row++) {
            if (k[row][branch] != 0) {
                return false;
            }
        }
        return true;
    }

    /** A square matrix with more columns and as many more rows. */
    static double[][] border(double[][] k, List<double[]> columns, List<double[]> rows) {
        int size = k.length;
        double[][] bordered = new double[size + rows.size()][size + columns.size()];
        for (int i = 0; i < size; i++) {
            System.arraycopy(k[i], 0, bordered[i], 0, size);
            for (int e = 0; e < columns.size(); e++) {
                bordered[i][size + e] = columns.get(e)[i];
            }
        }
        for (int e = 0; e < rows.size(); e++) {
            System.arraycopy(rows.get(e), 0, bordered[size + e], 0, size);
        }
        return bordered;
    }

    private static boolean isRegular(double[][] matrix) {
        double[] singular = decompose(equilibrated(matrix, new double[matrix.length], new double[matrix.length]))
                .getSingularValues();
        return singular.length == 0 || singular[singular.length - 1] > RoundOff.OF_A_RANK * singular[0];
    }

    private static SingularValueDecomposition decompose(double[][] matrix) {
        return new SingularValueDecomposition(new Array2DRowRealMatrix(matrix, false));
    }

    private static NullVectors numerical(Equations equations) {
        int n = equations.size;
        double[] rows = new double[n];
        double[] columns = new double[n];
        SingularValueDecomposition svd = decompose(equilibrated(equations.k, rows, columns));
        double[] singular = svd.getSingularValues();
        List<double[]> left = new ArrayList<>();
        List<double[]> right = new ArrayList<>();
        for (int j = 0; j < n; j++) {
            if (!(singular[j] > RoundOff.OF_A_RANK * singular[0])) {
                left.add(scaled(svd.getU().getColumn(j), rows));
                right.add(scaled(svd.getV().getColumn(j), columns));
            }
        }
        return new NullVectors(left, right);
    }

    private static double[] scaled(double[] vector, double[] factors) {
        double[] result = new double[vector.length];
        double largest = 0;
        for (int i = 0; i < result.length; i++) {
            result[i] = vector[i] * factors[i];
            largest = Math.max(largest, Math.abs(result[i]));
        }
        for (int i = 0; i < result.length; i++) {
            result[i] /= largest;
        }
        return result;
    }

    /** Scales rows and columns so that their largest entries come near 1; the factors are written. */
    private static double[][] equilibrated(double[][] matrix, double[] rows, double[] columns) {
        int n = matrix.length;
        double[][] a = Dense.copy(matrix);
        java.util.Arrays.fill(rows, 1);
        java.util.Arrays.fill(columns, 1);
        for (int pass = 0; pass < 5; pass++) {
            for (int i = 0; i < n; i++) {
                scaleRow(a, i, rows);
            }
            a = Dense.transpose(a, n);
            for (int j = 0; j < n; j++) {
                scaleRow(a, j, columns);
            }
            a = Dense.transpose(a, n);
        }
        return a;
    }

    private static void scaleRow(double[][] a, int row, double[] factors) {
        double largest = Dense.largest(a[row]);
        if (largest > 0) {
            double factor = Math.scalb(1.0, -Math.getExponent(largest) / 2);
            factors[row] *= factor;
            for (int j = 0; j < a[row].length; j++) {
                a[row][j] *= factor;
            }
        }
    }
}
