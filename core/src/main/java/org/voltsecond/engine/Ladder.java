package org.voltsecond.engine;

import java.util.Arrays;

/**
 * Transitions over spans of 2, 4, 8... bases of a flow, found by squaring, each at the nodes of an interpolation
 * polynomial. With it a walk can take long steps once the fast part of a stiff flow has died out. Levels are worked out
 * when first needed; every thread gets the same bits. A named numeric kernel.
 */
final class Ladder {
    /** Degree of the interpolation polynomial: high enough for 13 digits, low enough to keep them in monomial form. */
    static final int DEGREE = 8;

    static final int HIGHEST = 60;
    /** Chebyshev-Lobatto nodes on [0, 1], both ends included. */
    private static final double[] NODES = nodes();
    /** Takes values at the nodes to Chebyshev coefficients. */
    private static final double[][] TO_CHEBYSHEV = toChebyshev();
    /** Takes Chebyshev coefficients to monomial ones in u. */
    private static final double[][] TO_MONOMIAL = toMonomial();

    private final Flow flow;
    private final int n;
    private volatile double[][][] levels;

    Ladder(Flow flow) {
        this.flow = flow;
        this.n = flow.n;
        levels = new double[0][][];
    }

    private static double[] nodes() {
        double[] nodes = new double[DEGREE + 1];
        for (int i = 0; i <= DEGREE; i++) {
            nodes[i] = 0.5 - 0.5 * StrictMath.cos(StrictMath.PI * i / DEGREE);
        }
        return nodes;
    }

    private static double[][] toChebyshev() {
        double[][] matrix = new double[DEGREE + 1][DEGREE + 1];
        for (int k = 0; k <= DEGREE; k++) {
            for (int i = 0; i <= DEGREE; i++) {
                double ends = (i == 0 || i == DEGREE ? 0.5 : 1) * (k == 0 || k == DEGREE ? 0.5 : 1);
                // node i sits at x = -cos(pi i / n)
                matrix[k][i] = ends * 2 / DEGREE * StrictMath.cos(StrictMath.PI * k * (DEGREE - i) / DEGREE);
            }
        }
        return matrix;
    }

    /** T_k(2u - 1) by its recurrence T_{k+1} = 2 (2u - 1) T_k - T_{k-1}; column k holds T_k. */
    private static double[][] toMonomial() {
        double[][] matrix = new double[DEGREE + 1][DEGREE + 1];
        matrix[0][0] = 1;
        matrix[0][1] = -1;
        matrix[1][1] = 2;
        for (int k = 1; k < DEGREE; k++) {
            for (int power = 0; power <= DEGREE; power++) {
                double shifted = power > 0 ? matrix[power - 1][k] : 0;
                matrix[power][k + 1] = 4 * shifted - 2 * matrix[power][k] - matrix[power][k - 1];
            }
        }
        return matrix;
    }

    private double[][] first() {
        double[][] changes = new double[DEGREE + 1][];
        for (int i = 0; i <= DEGREE; i++) {
            changes[i] = Leg.changeOver(flow, NODES[i] * flow.base);
        }
        return changes;
    }

    /** The change of the state over the whole of level {@code level}, and over the part up to each node. */
    private double[][] level(int level) {
        double[][][] known = levels;
        if (level < known.length) {
            return known[level];
        }
        double[][][] more = new double[level + 1][][];
        System.arraycopy(known, 0, more, 0, known.length);
        for (int k = known.length; k <= level; k++) {
            more[k] = k == 0 ? first() : twice(more[k - 1]);
        }
        levels = more;
        return more[level];
    }

    private double[][] twice(double[][] changes) {
        double[][] result = new double[changes.length][];
        for (int i = 0; i < result.length; i++) {
            result[i] = new double[n * (n + 1)];
            Flow.after(changes[i], changes[i], n, result[i]);
        }
        return result;
    }

    /** Writes the states at all nodes of a level, node by node. */
    void statesAtNodes(int level, double[] z, double[] into) {
        double[][] changes = level(level);
        for (int i = 0; i <= DEGREE; i++) {
            for (int s = 0; s < n; s++) {
                into[i * n + s] = z[s] + row(changes[i], s, z);
            }
        }
    }

    /** The change of the state over a level, not to be written. */
    double[] change(int level) {
        return level(level)[DEGREE];
    }

    void advance(int level, double[] z, double[] into) {
        double[] change = level(level)[DEGREE];
        for (int s = 0; s < n; s++) {
            into[s] = z[s] + row(change, s, z);
        }
    }

    /** Writes the change of the state over a level. */
    void change(int level, double[] z, double[] into) {
        double[] change = level(level)[DEGREE];
        for (int s = 0; s < n; s++) {
            into[s] = row(change, s, z);
        }
    }

    private double row(double[] change, int s, double[] z) {
        double sum = change[s * (n + 1) + n];
        for (int j = 0; j < n; j++) {
            sum += change[s * (n + 1) + j] * z[j];
        }
        return sum;
    }

    /** Chebyshev coefficient {@code k} of values given at the nodes. */
    static double chebyshev(int k, double[] values) {
        double sum = 0;
        for (int i = 0; i <= DEGREE; i++) {
            sum += TO_CHEBYSHEV[k][i] * values[i];
        }
        return sum;
    }

    /** Writes Chebyshev coefficient {@code k} of each state of which the values at the nodes are given, node by node. */
    static void chebyshev(int k, double[] nodes, double[] into) {
        Arrays.fill(into, 0);
        for (int i = 0; i <= DEGREE; i++) {
            double factor = TO_CHEBYSHEV[k][i];
            int at = i * into.length;
            for (int s = 0; s < into.length; s++) {
                into[s] += factor * nodes[at + s];
            }
        }
    }

    /** Writes the monomial coefficients in u of the polynomial through values given at the nodes. */
    static void monomial(double[] values, double[] into) {
        double[] chebyshev = new double[DEGREE + 1];
        for (int k = 0; k <= DEGREE; k++) {
            chebyshev[k] = chebyshev(k, values);
        }
        for (int power = 0; power <= DEGREE; power++) {
            double sum = 0;
            for (int k = DEGREE; k >= power; k--) {
                sum += TO_MONOMIAL[power][k] * chebyshev[k];
            }
            into[power] = sum;
        }
    }

    /** Writes the same of each of {@code n} states given node by node, power by power. */
    static void monomial(double[] nodes, int n, double[] into) {
        double[] values = new double[DEGREE + 1];
        double[] coefficients = new double[DEGREE + 1];
        for (int i = 0; i < n; i++) {
            for (int k = 0; k <= DEGREE; k++) {
                values[k] = nodes[k * n + i];
            }
            monomial(values, coefficients);
            for (int k = 0; k <= DEGREE; k++) {
                into[k * n + i] = coefficients[k];
            }
        }
    }
}
