package org.voltsecond.engine;

import java.util.Arrays;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
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
     * Coefficient k is at most {@code linear[k] |z| + constant[k]} in the largest norm, and so is, beside it, what makes the bounds
     * of the next one: from one k to the next they grow by no more than twice the sum of the norms of both exponents, over the
     * next k.
     */
    private final double[] linear = new double[COUNT];

    private final double[] constant = new double[COUNT];
    /** The sum of the norms of the exponents, for a shift of one period. */
    private double exponents;

    /** The flow whose end has been shifted; null where nothing has been. */
    private @Nullable Flow shifted;
    /** The change up to the time whose end is shifted, and that from there on without a shift. */
    private final double[] lead;

    private final double[] own;
    private boolean isLed;
    /** The rate where the time begins whose end is shifted, in a period: at most {@code rateLinear |z| + rateConstant}. */
    private double rateLinear;

    private double rateConstant;
    private final double[][] series;
    private final double[] product;

    CycleRows(int n, double period) {
        this.n = n;
        this.period = period;
        width = n + 1;
        rows = new double[COUNT][n * width];
        series = new double[COUNT][n * width];
        lead = new double[n * width];
        own = new double[n * width];
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
        shifted = null;
    }

    /** Goes on by an affine change over a fixed time. */
    void advance(double[] change) {
        addAfter(change, rows[0]);
        if (shifted == null) {
            return;
        }
        addAfter(change, own);
        double factor = 0;
        for (int i = 0; i < n; i++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += Math.abs(change[i * width + j] + (i == j ? 1 : 0));
            }
            factor = Math.max(factor, sum);
        }
        for (int k = 1; k < COUNT; k++) {
            multiply(change, rows[k], product);
            for (int e = 0; e < product.length; e++) {
                rows[k][e] += product[e];
            }
            linear[k] *= factor;
            constant[k] *= factor;
        }
    }

    /** One change after another. */
    private void addAfter(double[] change, double[] before) {
        multiply(change, before, product);
        for (int e = 0; e < product.length; e++) {
            before[e] += product[e] + change[e];
        }
    }

    /** Goes on by a time whose end is shifted, where nothing before has been. */
    void advanceToShiftedEnd(Flow flow, double[] change) {
        isLed = false;
        for (int e = 0; e < lead.length; e++) {
            lead[e] = rows[0][e];
            isLed |= lead[e] != 0;
        }
        multiply(flow, period, lead, true, product);
        rateLinear = linearNorm(product);
        rateConstant = constantNorm(product);
        System.arraycopy(change, 0, own, 0, own.length);
        addAfter(change, rows[0]);
        shifted = flow;
        exponents = linearNorm(flow.dynamics) * period;
        for (int k = 1; k < COUNT; k++) {
            multiply(flow, period / k, rows[k - 1], k == 1, rows[k]);
            linear[k] = linearNorm(rows[k]);
            constant[k] = constantNorm(rows[k]);
        }
    }

    /**
     * Goes on by a time that is shorter by the shift of its start, over the jump there if there is one. With the affine maps as
     * matrices, {@code W(d) = e^(B (t - d)) J e^(A (s + d))} has the derivative {@code W A - B W}, since a matrix commutes with its
     * exponential: that is the whole series, from {@code W(0)} on.
     *
     * <p>With the norms a of A and b of B, the linear part of coefficient k is some m, and all of it y at a state where the rate is
     * r: the next one is at most {@code (a + b) m / (k + 1)} and {@code (b y + m r) / (k + 1)}, so that
     * {@code y + m r / (a + b)} grows by no more than {@code 2 (a + b) / (k + 1)}.
     */
    void advanceToFixedEnd(Flow flow, double[] change) {
        Flow before = Objects.requireNonNull(shifted);
        addAfter(change, rows[0]);
        addAfter(change, own);
        exponents += linearNorm(flow.dynamics) * period;
        double share = exponents > 0 ? 1 / exponents : 0;
        System.arraycopy(own, 0, series[0], 0, own.length);
        for (int k = 1; k < COUNT; k++) {
            double[] last = series[k - 1];
            double[] next = series[k];
            multiply(last, before.dynamics, next);
            multiply(flow.dynamics, last, product);
            for (int e = 0; e < next.length; e++) {
                double ofState = k == 1 ? before.dynamics[e] - flow.dynamics[e] : 0;
                next[e] = period / k * (next[e] - product[e] + ofState);
            }
            System.arraycopy(next, 0, rows[k], 0, next.length);
            if (isLed) {
                multiply(next, lead, product);
                for (int e = 0; e < next.length; e++) {
                    rows[k][e] += product[e];
                }
            }
            double size = linearNorm(next) * share;
            // the guard is one of the state before
            linear[k] = Math.max(linear[k], linearNorm(rows[k]) + size * rateLinear);
            constant[k] = Math.max(constant[k], constantNorm(rows[k]) + size * rateConstant);
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
        /** Of the exponents together: then what is left out of a series is at most twice its first term. */
        static final double LARGEST_EXPONENT = 0.5;
        /** The first term that is left out, beside the state. */
        private static final double LEFT_OUT = 1e-17;

        /** The powers of 1 and so many eighths. */
        private static final double[][] POWERS = powers();

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

        private static double[][] powers() {
            double[][] powers = new double[DEGREE + 2][8];
            for (int eighths = 0; eighths < 8; eighths++) {
                powers[0][eighths] = 1;
                for (int order = 1; order < powers.length; order++) {
                    powers[order][eighths] = powers[order - 1][eighths] * (1 + eighths * 0.125);
                }
            }
            return powers;
        }

        /** Up to which shift all powers are enough for states of some size at the start; works it out for fewer powers too. */
        double reachAt(double size) {
            double most = Math.min(1, LARGEST_EXPONENT / exponents);
            for (int k = 1; k <= DEGREE; k++) {
                double term = linear[k + 1] * size + constant[k + 1];
                double far = term <= LEFT_OUT * size ? 1 : root(LEFT_OUT * size / term, k + 1);
                enough[k] = Math.min(most, far);
            }
            return enough[DEGREE];
        }

        /** A root of a number below 1 to within an eighth, and never too large. */
        private static double root(double of, int order) {
            int unit = Math.floorDiv(Math.getExponent(of), order);
            double rest = Math.scalb(of, -order * unit);
            double[] powers = POWERS[order];
            int eighths = 0;
            while (eighths < 7 && powers[eighths + 1] <= rest) {
                eighths++;
            }
            return Math.scalb(1 + eighths * 0.125, unit);
        }

        int powersFor(double distance) {
            int powers = 1;
            while (powers < DEGREE && !(distance <= enough[powers])) {
                powers++;
            }
            return powers;
        }
    }

    /** Affine functions of the state, from one of the rows up to another. */
    static void values(double[] rows, int from, int to, double[] z, int n, double[] into) {
        if (n == 4) {
            double z0 = z[0];
            double z1 = z[1];
            double z2 = z[2];
            double z3 = z[3];
            for (int k = from; k <= to; k++) {
                int at = 5 * k;
                into[k] = (rows[at] * z0 + rows[at + 1] * z1) + (rows[at + 2] * z2 + rows[at + 3] * z3) + rows[at + 4];
            }
            return;
        }
        for (int k = from; k <= to; k++) {
            into[k] = value(rows, k * (n + 1), z, n);
        }
    }

    /** An affine function of the state, whose coefficients lie at a place of all rows. */
    private static double value(double[] rows, int at, double[] z, int n) {
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
