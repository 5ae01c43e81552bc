package org.voltsecond.engine;

import org.voltsecond.numeric.Bernstein;

/**
 * Finds where a polynomial first falls below zero. Holds scratch space, so that a search allocates nothing in the usual
 * cases. A named numeric kernel.
 *
 * <p>A value within the tolerance counts as zero: a polynomial that starts there is judged by its first coefficient
 * beyond the tolerance, and a dip that stays within it is contact, not a crossing.
 */
final class FirstCrossing {
    /** What {@link #search} returns if the polynomial does not fall below zero. */
    static final double NONE = Double.POSITIVE_INFINITY;

    private static final int DEEPEST = 50;
    /** Scratch space before the first search. */
    static final double[] NO_ROOM = {};

    private double[] p = NO_ROOM;
    private int count;
    private double tolerance;

    /**
     * Searches from 0 to {@code until}.
     *
     * @param coefficients lowest power first; only read
     * @param terms how many coefficients there are
     * @param until end of the search, positive
     * @param tolerance what counts as zero
     * @param guess where the crossing may be
     * @return the place of the crossing, 0 if it falls at once, {@link #NONE} if it does not fall
     */
    double search(double[] coefficients, int terms, double until, double tolerance, double guess) {
        this.tolerance = tolerance;
        int zeros = scale(coefficients, terms, until);
        if (zeros == terms) {
            return NONE;
        }
        if (!(p[0] > 0)) {
            return zeros == 0 || falls(coefficients, terms, until) ? 0 : NONE;
        }
        double root = fallsSteadily() ? steadyCrossing(guess / until) : firstByBernstein();
        return root == NONE ? NONE : root * until;
    }

    /**
     * Whether a polynomial whose start counts as zero falls below the tolerance. One that comes down to zero for ever, as
     * a current that dies out, falls without it.
     */
    private boolean falls(double[] coefficients, int terms, double until) {
        double[] b = new double[terms];
        double power = 1;
        for (int k = 0; k < terms; k++) {
            b[k] = coefficients[k] * power;
            power *= until;
        }
        Bernstein.replace(b, terms);
        return first(b, 0, 1, tolerance, 0) != NONE;
    }

    /** Rescales to [0, 1] and divides out the powers whose coefficients are zero but for round-off. */
    private int scale(double[] coefficients, int terms, double until) {
        if (p.length < terms) {
            p = new double[terms];
        }
        int zeros = 0;
        double power = 1;
        while (zeros < terms && Math.abs(coefficients[zeros] * power) <= tolerance) {
            zeros++;
            power *= until;
        }
        count = terms - zeros;
        for (int k = 0; k < count; k++) {
            p[k] = coefficients[zeros + k] * power;
            power *= until;
        }
        return zeros;
    }

    /** Whether the derivative is certainly negative on all of [0, 1]. */
    private boolean fallsSteadily() {
        if (count < 2) {
            return false;
        }
        double bound = p[1];
        for (int k = 2; k < count; k++) {
            bound += k * Math.max(0, p[k]);
        }
        return bound < 0;
    }

    private double steadyCrossing(double guess) {
        return value(1) >= -tolerance ? NONE : refine(0, 1, guess > 0 && guess < 1 ? guess : 0.5);
    }

    /** Newton's method that falls back on bisection; the value is positive at {@code low}, negative at {@code high}. */
    private double refine(double from, double to, double guess) {
        double low = from;
        double high = to;
        double u = guess;
        for (int i = 0; i < 200; i++) {
            double value = p[count - 1];
            double slope = 0;
            for (int k = count - 2; k >= 0; k--) {
                slope = slope * u + value;
                value = value * u + p[k];
            }
            if (value > 0) {
                low = u;
            } else {
                high = u;
            }
            double step = -value / slope;
            double next = u + step;
            if (!(next > low && next < high)) {
                if (Math.abs(step) <= 2 * Math.ulp(u)) {
                    return u;
                }
                next = 0.5 * (low + high);
                if (!(next > low && next < high)) {
                    return high;
                }
            }
            if (Math.abs(next - u) <= 0x1p-26 * u && Math.abs(step) <= 0x1p-26 * u) {
                return polish(next, low, high);
            }
            u = next;
        }
        return high;
    }

    /** One more step of Newton's method: it squares an error that is already below half the digits. */
    private double polish(double u, double low, double high) {
        double value = p[count - 1];
        double slope = 0;
        for (int k = count - 2; k >= 0; k--) {
            slope = slope * u + value;
            value = value * u + p[k];
        }
        return Math.min(high, Math.max(low, u - value / slope));
    }

    private double value(double u) {
        double value = 0;
        for (int k = count - 1; k >= 0; k--) {
            value = value * u + p[k];
        }
        return value;
    }

    private double firstByBernstein() {
        double[] b = new double[count];
        System.arraycopy(p, 0, b, 0, count);
        Bernstein.replace(b, count);
        return first(b, 0, 1, tolerance, 0);
    }

    private double first(double[] b, double from, double to, double contact, int depth) {
        double lowest = b[0];
        for (double value : b) {
            lowest = Math.min(lowest, value);
        }
        if (lowest >= -contact) {
            return NONE;
        }
        if (b[0] < -contact) {
            return from;
        }
        if (b[0] > 0 && b[b.length - 1] < -contact && changesOnce(b)) {
            return refine(from, to, 0.5 * (from + to));
        }
        if (depth == DEEPEST) {
            return b[b.length - 1] < -contact ? to : NONE;
        }
        double[] left = new double[b.length];
        double[] right = b.clone();
        Bernstein.split(right, left);
        double middle = 0.5 * (from + to);
        double inLeft = first(left, from, middle, contact, depth + 1);
        return inLeft != NONE ? inLeft : first(right, middle, to, contact, depth + 1);
    }

    private static boolean changesOnce(double[] b) {
        int changes = 0;
        for (int k = 1; k < b.length; k++) {
            if ((b[k] < 0) != (b[k - 1] < 0)) {
                changes++;
            }
        }
        return changes == 1;
    }
}
