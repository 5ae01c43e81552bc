package org.voltsecond.engine;

import java.util.Arrays;
import org.voltsecond.engine.PhaseRun.Step;
import org.voltsecond.numeric.Matrices;

/**
 * The way of the state from one instant to another as a polynomial in the shift of one instant between: coefficient k is an
 * affine function of the state at the start, that of k = 0 its change. What is left out beyond a power is bounded by sums of
 * norms. A named numeric kernel.
 */
final class CycleRows {
    /** Highest power of a shift; one more is worked out to tell what is left out. */
    static final int DEGREE = 12;
    /** Coefficients that are kept; the last is there for the bound alone. */
    private static final int COUNT = DEGREE + 2;

    private final int n;
    private final int width;
    private final double period;
    private final double[][] rows;

    /**
     * Coefficient k is at most {@code linear[k] |z| + constant[k]} in the largest norm, also that of a product of two series: there
     * the sum of the products of the norms. From one k to the next it grows by no more than the sum of the norms of both
     * exponents, since each series does by the norm of its own.
     */
    private final double[] linear = new double[COUNT];

    private final double[] constant = new double[COUNT];
    /** The sum of the norms of the exponents, for a shift of one period. */
    private double exponents;

    private final double[][] spare;
    private final double[][] factors;
    private final double[] product;
    private final double[] linearBefore = new double[COUNT];
    private final double[] constantBefore = new double[COUNT];

    CycleRows(int n, double period) {
        this.n = n;
        this.period = period;
        width = n + 1;
        rows = new double[COUNT][n * width];
        spare = new double[COUNT][n * width];
        factors = new double[COUNT][n * width];
        product = new double[n * width];
    }

    /** Begins with no time at all. */
    void begin() {
        for (double[] row : rows) {
            Arrays.fill(row, 0);
        }
        Arrays.fill(linear, 0);
        Arrays.fill(constant, 0);
        exponents = 0;
    }

    /** Goes on by an affine change over a fixed time. */
    void advance(double[] change) {
        int last = exponents == 0 ? 0 : COUNT - 1;
        for (int k = last; k >= 0; k--) {
            multiply(change, rows[k], product);
            for (int e = 0; e < product.length; e++) {
                rows[k][e] += product[e] + (k == 0 ? change[e] : 0);
            }
        }
        double factor = 0;
        for (int i = 0; i < n; i++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += Math.abs(change[i * width + j] + (i == j ? 1 : 0));
            }
            factor = Math.max(factor, sum);
        }
        for (int k = 1; k < COUNT; k++) {
            linear[k] *= factor;
            constant[k] *= factor;
        }
    }

    /** Shifts the end of the time that was just gone, where nothing before has been shifted. */
    void shiftEnd(Flow flow) {
        exponents = flow.norm * period;
        for (int k = 1; k < COUNT; k++) {
            multiply(flow, period / k, rows[k - 1], k == 1, rows[k]);
            linear[k] = linearNorm(rows[k]);
            constant[k] = constantNorm(rows[k]);
        }
    }

    /** Goes on by a time that is shorter by the shift of its start: {@code e^(A (t - d)) = e^(A t) e^(-A d)}. */
    void advanceToFixedEnd(Flow flow, double[] change) {
        exponents += flow.norm * period;
        System.arraycopy(linear, 0, linearBefore, 0, COUNT);
        System.arraycopy(constant, 0, constantBefore, 0, COUNT);
        // e^(A t) (-A)^a / a! of a difference of states
        for (int e = 0; e < n * width; e++) {
            factors[0][e] = e % width == n ? 0 : change[e] + (e / width == e % width ? 1 : 0);
        }
        // the same of the state where the time starts, without shift
        multiply(change, rows[0], spare[0]);
        for (int e = 0; e < n * width; e++) {
            spare[0][e] += rows[0][e] + change[e];
        }
        for (int k = 1; k < COUNT; k++) {
            multiply(flow, -period / k, factors[k - 1], false, factors[k]);
            multiply(flow, -period / k, spare[k - 1], k == 1, spare[k]);
            linear[k] = linearNorm(spare[k]);
            constant[k] = constantNorm(spare[k]);
        }
        for (int k = 1; k < COUNT; k++) {
            for (int b = 1; b <= k; b++) {
                double norm = linearNorm(factors[k - b]);
                linear[k] += norm * linearBefore[b];
                constant[k] += norm * constantBefore[b];
                multiply(factors[k - b], rows[b], product);
                for (int e = 0; e < product.length; e++) {
                    spare[k][e] += product[e];
                }
            }
            // the guard is one of the state before
            linear[k] = Math.max(linear[k], linearBefore[k]);
            constant[k] = Math.max(constant[k], constantBefore[k]);
        }
        for (int k = 0; k < COUNT; k++) {
            System.arraycopy(spare[k], 0, rows[k], 0, n * width);
        }
    }

    /** The linear part of {@code left} times all of {@code right}. */
    private void multiply(double[] left, double[] right, double[] into) {
        if (n == 4) {
            multiply4(left, right, into);
            return;
        }
        Arrays.fill(into, 0);
        for (int i = 0; i < n; i++) {
            for (int m = 0; m < n; m++) {
                double factor = left[i * width + m];
                for (int j = 0; j < width && factor != 0; j++) {
                    into[i * width + j] += factor * right[m * width + j];
                }
            }
        }
    }

    /** The same for four states, without a loop over the products. */
    private static void multiply4(double[] left, double[] right, double[] into) {
        for (int at = 0; at < 20; at += 5) {
            double f0 = left[at];
            double f1 = left[at + 1];
            double f2 = left[at + 2];
            double f3 = left[at + 3];
            for (int j = 0; j < 5; j++) {
                into[at + j] = (f0 * right[j] + f1 * right[5 + j]) + (f2 * right[10 + j] + f3 * right[15 + j]);
            }
        }
    }

    /** {@code factor A} times rows; of the state itself, which its change is told from, with the constant of its rate. */
    private void multiply(Flow flow, double factor, double[] of, boolean ofState, double[] into) {
        multiply(flow.dynamics, of, into);
        for (int e = 0; e < into.length; e++) {
            into[e] = factor * (into[e] + (ofState ? flow.dynamics[e] : 0));
        }
    }

    private double linearNorm(double[] of) {
        double largest = 0;
        for (int i = 0; i < n; i++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += Math.abs(of[i * width + j]);
            }
            largest = Math.max(largest, sum);
        }
        return largest;
    }

    private double constantNorm(double[] of) {
        double largest = 0;
        for (int i = 0; i < n; i++) {
            largest = Math.max(largest, Math.abs(of[i * width + n]));
        }
        return largest;
    }

    /** Goes on over the jump on entry, if there is one. */
    void jump(Step entry) {
        if (entry.jump != null) {
            advance(entry.scaledChange);
        }
    }

    /** Writes the coefficients of a guard of which the value at no shift is that at a time since the clock edge. */
    void write(GuardRows guard, double sinceTick, Hop into) {
        for (int k = 0; k < COUNT; k++) {
            Arrays.fill(into.guard, k * width, (k + 1) * width, 0);
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < width; j++) {
                    double row = rows[k][i * width + j] + (k == 0 && i == j ? 1 : 0);
                    into.guard[k * width + j] += guard.form[i] * row;
                }
            }
        }
        into.guard[n] += guard.form[n] + guard.slope * sinceTick;
        into.guard[width + n] += guard.slope * period;
    }

    /** Writes the coefficients of all states and what bounds those that are left out. */
    void write(Hop into) {
        for (int k = 0; k < COUNT; k++) {
            System.arraycopy(rows[k], 0, into.state, k * n * width, n * width);
        }
        System.arraycopy(linear, 0, into.linear, 0, COUNT);
        System.arraycopy(constant, 0, into.constant, 0, COUNT);
        into.exponents = exponents;
    }

    /** From one instant to the next: to a guard's crossing, or to the clock, or over both. */
    static final class Hop {
        /** The first stay that it covers, the one whose guard it looks for (else -1), and the last. */
        final int first;

        final int event;
        final int last;
        /** Coefficient k of the guard: entry k * (n + 1) + j times state j at the start of the hop, plus entry j = n. */
        final double[] guard;
        /** The same of the change of each state. */
        final double[] state;

        final double[] terms = new double[DEGREE + 1];
        /** Bounds of each coefficient, as {@link CycleRows} has them. */
        final double[] linear = new double[DEGREE + 2];

        final double[] constant = new double[DEGREE + 2];
        double exponents;
        /** Whether an instant shifts in it, and how many shifts that may be. */
        final boolean isShifted;

        final int eventsBefore;
        /** Up to which shift so many powers are enough; worked out with the clearance. */
        final double[] enough = new double[DEGREE + 1];

        double slope;
        double within;
        int powers;
        double shift;
        double lastShift = Double.POSITIVE_INFINITY;
        double markedShift;

        Hop(int first, int event, int last, int eventsBefore, int n) {
            this.eventsBefore = eventsBefore;
            isShifted = event >= 0 || eventsBefore > 0;
            this.first = first;
            this.event = event;
            this.last = last;
            guard = new double[event < 0 ? 0 : (DEGREE + 2) * (n + 1)];
            state = new double[(DEGREE + 2) * n * (n + 1)];
        }

        int powersFor(double distance) {
            int powers = 1;
            while (powers < DEGREE && !(distance <= enough[powers])) {
                powers++;
            }
            return powers;
        }
    }

    /** An affine function of the state, whose coefficients lie at a place of all rows. */
    static double value(double[] rows, int at, double[] z, int n) {
        if (n == 2) {
            return rows[at] * z[0] + rows[at + 1] * z[1] + rows[at + 2];
        }
        return rows[at + n] + Matrices.dot(rows, at, z, 0, n);
    }

    /** The state after a shift, by the powers up to some one. */
    static void go(double[] rows, double[] z, double d, int powers, double[] into, int n) {
        if (n == 2) {
            goTwo(rows, z, d, powers, into);
            return;
        }
        if (n == 4) {
            goFour(rows, z, d, powers, into);
            return;
        }
        for (int i = 0; i < n; i++) {
            double value = 0;
            for (int k = powers; k >= 0; k--) {
                value = value * d + value(rows, (k * n + i) * (n + 1), z, n);
            }
            into[i] = z[i] + value;
        }
    }

    /** The same for four states, as a stage with a compensator of two has them. */
    private static void goFour(double[] rows, double[] z, double d, int powers, double[] into) {
        double z0 = z[0];
        double z1 = z[1];
        double z2 = z[2];
        double z3 = z[3];
        double a = 0;
        double b = 0;
        double c = 0;
        double e = 0;
        for (int at = 20 * powers; at >= 0; at -= 20) {
            a = a * d + ((rows[at] * z0 + rows[at + 1] * z1) + (rows[at + 2] * z2 + rows[at + 3] * z3) + rows[at + 4]);
            b = b * d
                    + ((rows[at + 5] * z0 + rows[at + 6] * z1)
                            + (rows[at + 7] * z2 + rows[at + 8] * z3)
                            + rows[at + 9]);
            c = c * d
                    + ((rows[at + 10] * z0 + rows[at + 11] * z1)
                            + (rows[at + 12] * z2 + rows[at + 13] * z3)
                            + rows[at + 14]);
            e = e * d
                    + ((rows[at + 15] * z0 + rows[at + 16] * z1)
                            + (rows[at + 17] * z2 + rows[at + 18] * z3)
                            + rows[at + 19]);
        }
        into[0] = z0 + a;
        into[1] = z1 + b;
        into[2] = z2 + c;
        into[3] = z3 + e;
    }

    private static void goTwo(double[] rows, double[] z, double d, int powers, double[] into) {
        double z0 = z[0];
        double z1 = z[1];
        double first = 0;
        double second = 0;
        for (int at = 6 * powers; at >= 0; at -= 6) {
            first = first * d + (rows[at] * z0 + rows[at + 1] * z1 + rows[at + 2]);
            second = second * d + (rows[at + 3] * z0 + rows[at + 4] * z1 + rows[at + 5]);
        }
        into[0] = z0 + first;
        into[1] = z1 + second;
    }
}
