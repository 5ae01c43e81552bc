package org.voltsecond.engine;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

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
    /** Found where a walk takes very many steps; two threads at once find the same. */
    private volatile EventSearch.@Nullable Clearance clearance;

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

    EventSearch.Clearance clearance() {
        EventSearch.Clearance known = clearance;
        if (known == null) {
            known = new EventSearch.Clearance(flow);
            clearance = known;
        }
        return known;
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

    /** Adds the change of the state over any duration, which keeps digits that the state itself would round away. */
    static void addChangeAfter(Flow flow, double[] start, double duration, double[] sum) {
        double rest = duration;
        double[] from = start.clone();
        double[] part = new double[from.length];
        while (rest > 0) {
            double length = Math.min(rest, flow.base);
            if (rest > flow.base) {
                int level = Math.min(HIGHEST, Math.getExponent(rest / flow.base));
                flow.ladder().change(level, from, part);
                length = flow.base * Math.scalb(1.0, level);
            } else {
                flow.changeAt(from, rest / flow.base, part);
            }
            for (int i = 0; i < part.length; i++) {
                sum[i] += part[i];
                from[i] += part[i];
            }
            rest -= length;
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

    /**
     * Integrals of all products of two of y = (scaled state, 1, time since the clock edge) over many spans of the flow, added up. With P
     * the map of y over a span, what Y = y y' at its start comes to over twice the span is what Y + P Y P' comes to over the span
     * (C. F. Van Loan, Computing integrals involving the matrix exponential, IEEE Trans. Automatic Control 23 (1978) 395-404, from
     * memory). All of it is linear in Y: a span is cut into spans of the ladder, the Y of each are added up by its level, and only the
     * sums are carried down the ladder, where a series is left. So a span takes some steps of its state, however stiff it is or long it
     * rings. The sums keep what rounding takes away (the error of a sum: D. E. Knuth, Seminumerical Algorithms, from memory).
     */
    static final class Moments {
        /** The shortest span is a base halved so many times: 3/64 of the reciprocal of the norm of the matrix at most. */
        private static final int HALVED = 6;
        /** (2 x 3/64)^11 / 12! is far below round-off. */
        private static final int TERMS = 11;

        private final Flow flow;
        private final int n;
        private final int size;
        /** Sums of Y by level, from the shortest on, each followed by what its rounding took away. */
        private final double[][] levels = new double[HALVED + HIGHEST + 1][];
        /** Of the rests that are shorter still: sums of Y times each power of their share of the shortest span. */
        private final double[][] rests = new double[TERMS][];

        private final double[][] changes = new double[HALVED + HIGHEST + 1][];
        private final double[] y;
        private final double[] step;
        private int used;

        Moments(Flow flow) {
            this.flow = flow;
            n = flow.n;
            size = n + 2;
            y = new double[size];
            step = new double[n];
        }

        void add(double[] z, double sinceTick, double duration, int times) {
            System.arraycopy(z, 0, y, 0, n);
            y[n] = 1;
            y[n + 1] = sinceTick;
            double bases = duration / flow.base;
            long whole = (long) bases;
            double parts = Math.scalb(bases - whole, HALVED);
            long halves = (long) parts;
            double rest = parts - halves;
            double power = times * rest;
            for (int k = 0; k < TERMS && rest > 0; k++) {
                rests[k] = plusProducts(rests[k], power);
                power *= rest;
            }
            flow.changeAt(y, Math.scalb(rest, -HALVED), Math.min(flow.degree, TERMS), step);
            move(Math.scalb(rest, -HALVED));
            long spans = (whole << HALVED) + halves;
            for (int level = 0; spans >> level > 0; level++) {
                if ((spans >> level & 1) != 0) {
                    levels[level] = plusProducts(levels[level], times);
                    used = Math.max(used, level + 1);
                    double[] change = change(level);
                    for (int i = 0; i < n; i++) {
                        double sum = change[i * (n + 1) + n];
                        for (int j = 0; j < n; j++) {
                            sum += change[i * (n + 1) + j] * y[j];
                        }
                        step[i] = sum;
                    }
                    move(Math.scalb(1.0, level - HALVED));
                }
            }
        }

        private void move(double bases) {
            for (int i = 0; i < n; i++) {
                y[i] += step[i];
            }
            y[n + 1] += bases * flow.base;
        }

        private double[] change(int level) {
            double[] known = changes[level];
            if (known == null) {
                known = level < HALVED ? new double[n * (n + 1)] : flow.ladder().change(level - HALVED);
                if (level < HALVED) {
                    flow.changeOver(Math.scalb(1.0, level - HALVED), known);
                }
                changes[level] = known;
            }
            return known;
        }

        /** Adds factor y y' to the sums, the upper triangle row by row. */
        private double[] plusProducts(double @Nullable [] known, double factor) {
            double[] sums = known == null ? new double[size * (size + 1)] : known;
            int at = 0;
            for (int i = 0; i < size; i++) {
                double first = factor * y[i];
                for (int j = i; j < size; j++) {
                    double value = first * y[j];
                    double old = sums[at];
                    double next = old + value;
                    double added = next - old;
                    sums[at] = next;
                    sums[at + 1] += (old - (next - added)) + (value - added);
                    at += 2;
                }
            }
            return sums;
        }

        /** The integrals, for states in SI units. */
        double[][] values() {
            double[][] all = new double[size][size];
            if (used == 0) {
                return all;
            }
            for (int level = used - 1; level >= 0; level--) {
                all = plus(plus(all, mapped(change(level), level, all)), levels[level]);
            }
            double[][] sum = new double[size][size];
            double span = Math.scalb(flow.base, -HALVED);
            for (int k = TERMS - 1; k >= 0; k--) {
                sum = plus(plus(all, rate(sum, span / (k + 2))), rests[k]);
            }
            for (int i = 0; i < size; i++) {
                for (int j = 0; j < size; j++) {
                    sum[i][j] *= span / (factor(i) * factor(j));
                }
            }
            return sum;
        }

        private double factor(int i) {
            return i < n ? flow.scaling.factor(i) : 1;
        }

        private double[][] plus(double[][] matrix, double @Nullable [] sums) {
            int at = 0;
            for (int i = 0; i < size && sums != null; i++) {
                for (int j = i; j < size; j++) {
                    matrix[i][j] += sums[at] + sums[at + 1];
                    matrix[j][i] = matrix[i][j];
                    at += 2;
                }
            }
            return matrix;
        }

        private double[][] plus(double[][] one, double[][] other) {
            double[][] sum = new double[size][size];
            for (int i = 0; i < size; i++) {
                for (int j = 0; j < size; j++) {
                    sum[i][j] = one[i][j] + other[i][j];
                }
            }
            return sum;
        }

        /** P Y P' with P = 1 + G over the span of a level. */
        private double[][] mapped(double[] change, int level, double[][] moments) {
            double[][] half = plus(moments, times(change, Math.scalb(flow.base, level - HALVED), moments));
            return plus(half, transposed(times(change, Math.scalb(flow.base, level - HALVED), transposed(half))));
        }

        /** factor (G Y + Y G') with G the rate of y. */
        private double[][] rate(double[][] moments, double factor) {
            double[][] half = times(flow.dynamics, 1, moments);
            double[][] sum = plus(half, transposed(half));
            for (double[] row : sum) {
                for (int j = 0; j < size; j++) {
                    row[j] *= factor;
                }
            }
            return sum;
        }

        /** A matrix of the states and the constant, with that of the time below, times another. */
        private double[][] times(double[] change, double time, double[][] moments) {
            double[][] product = new double[size][size];
            for (int j = 0; j < size; j++) {
                for (int i = 0; i < n; i++) {
                    double sum = 0;
                    for (int k = 0; k <= n; k++) {
                        sum += change[i * (n + 1) + k] * moments[k][j];
                    }
                    product[i][j] = sum;
                }
                product[n + 1][j] = time * moments[n][j];
            }
            return product;
        }

        private double[][] transposed(double[][] matrix) {
            double[][] result = new double[size][size];
            for (int i = 0; i < size; i++) {
                for (int j = 0; j < size; j++) {
                    result[i][j] = matrix[j][i];
                }
            }
            return result;
        }
    }
}
