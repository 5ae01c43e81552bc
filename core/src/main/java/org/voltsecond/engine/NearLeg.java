package org.voltsecond.engine;

import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;

/**
 * The flow over durations close to one that was worked out before: a Taylor polynomial about that duration, whose
 * coefficients are affine functions of the state at the start. In a periodic regime the time of an event hardly moves from
 * one period to the next, and this takes a fraction of the time of the full polynomial. What is longer than one base of the
 * flow begins with a leg of fixed length, after which a fraction of a base is left. A named numeric kernel.
 */
final class NearLeg {
    private static final int DEGREE = 8;
    private static final int MOST_STEPS = 5;
    /** How much farther than the first guess a crossing may be. */
    private static final double MARGIN = 1.5;

    /** Distances below this fraction of the reach take few powers. */
    private static final double FAR = 3e-3;
    /** A new leg costs as much as so many steps on an old one. */
    private static final double WORTH = 64;

    /** What is left after the leg, in bases: little, so that a guard's fall is seen by its slope, and far more than any reach. */
    private static final double REST = 0.25;

    /**
     * Largest norm of A times the distance for which so many powers are enough: the first one left out, this to the next
     * power over its factorial, is then below 2e-17 of the state.
     */
    private static final double[] ENOUGH = {0, 5e-9, 4e-6, 1.3e-4, 1e-3, 4.5e-3, 1.3e-2, 2.9e-2, 5.5e-2};

    private final Flow flow;
    private final int n;
    private final int highest;
    /** The duration worked out before, in bases of the flow. */
    final double reference;

    private final double reach;
    /** The leg before the polynomial; null where it begins at once. */
    private final @Nullable Leg lead;
    /** How long that is, in bases of the flow. */
    final double leadBases;

    private final double[] leadEnd;
    private final double[] between;
    private final double[] rate;
    /** Coefficient k of state i: {@code rows[(k * n + i) * (n + 1) + j]} times state j at the start, plus entry j = n. */
    private final double[] rows;
    /** Coefficient k of state i at the present start, less that start for k = 0. */
    private final double[] terms;
    /** Coefficients of a guard about the reference. */
    private final double[] guardTerms;

    NearLeg(Flow flow, double reference) {
        this.flow = flow;
        this.reference = reference;
        n = flow.n;
        highest = Math.min(DEGREE, flow.degree);
        reach = flow.norm == 0 ? Double.POSITIVE_INFINITY : ENOUGH[DEGREE] / (flow.norm * flow.base);
        leadBases = reference > 1 ? reference - REST : 0;
        lead = reference > 1 ? Leg.of(flow, leadBases * flow.base) : null;
        leadEnd = new double[n];
        between = new double[n];
        rate = new double[n];
        rows = composed(changeOver(reference - leadBases));
        terms = new double[(DEGREE + 1) * n];
        guardTerms = new double[DEGREE + 1];
    }

    /** The change of the state over a part of the base, from the highest power down. */
    private double[] changeOver(double u) {
        int size = n * (n + 1);
        double[] sum = new double[size];
        for (int at = flow.degree * size; size > 0 && at >= size; at -= size) {
            for (int j = 0; j < size; j++) {
                sum[j] = (sum[j] + flow.rows[at + j]) * u;
            }
        }
        return sum;
    }

    /** The Taylor coefficients of the flow after a change of the state. */
    private double[] composed(double[] change) {
        int size = n * (n + 1);
        double[] result = new double[(highest + 1) * size];
        System.arraycopy(change, 0, result, 0, size);
        for (int row = n; row < (highest + 1) * n; row++) {
            int at = row * (n + 1);
            for (int j = 0; j <= n; j++) {
                double sum = flow.rows[at + j];
                for (int m = 0; m < n; m++) {
                    sum += flow.rows[at + m] * change[m * (n + 1) + j];
                }
                result[at + j] = sum;
            }
        }
        return result;
    }

    boolean reaches(double u) {
        return Math.abs(u - reference) <= reach;
    }

    /** Whether a crossing there is found from here. */
    boolean follows(double u) {
        return MARGIN * Math.abs(u - reference) <= reach;
    }

    /**
     * Whether a new leg at {@code u} would pay: this one is far from it, and {@code u} hardly moves from one time to the
     * next.
     *
     * @param change by how much it has moved since the last time
     */
    boolean isWorthMoving(double u, double change) {
        double distance = Math.abs(u - reference);
        return distance > FAR * reach && change * WORTH <= distance;
    }

    /**
     * Goes to where the polynomial begins.
     *
     * @return the state there; null if it is not certain that all guards stay clear of zero until then
     */
    double @Nullable [] begin(double[] z, double sinceTick) {
        if (lead == null) {
            return z;
        }
        return lead.advance(z, sinceTick, leadEnd, between, rate) ? leadEnd : null;
    }

    /** Writes the state {@code u} bases after the start, within reach, from the state where the polynomial begins. */
    void stateAt(double[] z, double u, double[] into) {
        double d = u - reference;
        int powers = powersFor(d);
        for (int k = 0; k <= powers; k++) {
            findTerm(k, z);
        }
        finish(z, d, powers, into);
    }

    private int powersFor(double d) {
        double size = flow.norm * flow.base * Math.abs(d);
        int powers = 1;
        while (powers < highest && !(size <= ENOUGH[powers])) {
            powers++;
        }
        return powers;
    }

    private void findTerm(int k, double[] z) {
        int at = k * n * (n + 1);
        if (n == 2) {
            terms[2 * k] = rows[at] * z[0] + rows[at + 1] * z[1] + rows[at + 2];
            terms[2 * k + 1] = rows[at + 3] * z[0] + rows[at + 4] * z[1] + rows[at + 5];
            return;
        }
        for (int i = 0; i < n; i++, at += n + 1) {
            terms[k * n + i] = rows[at + n] + Matrices.dot(rows, at, z, 0, n);
        }
    }

    private void finish(double[] z, double d, int powers, double[] into) {
        for (int i = 0; i < n; i++) {
            double value = terms[powers * n + i];
            for (int k = powers - 1; k >= 0; k--) {
                value = value * d + terms[k * n + i];
            }
            into[i] = z[i] + value;
        }
    }

    /**
     * Finds where a guard that falls steadily crosses zero, and the state there.
     *
     * @param z the state where the polynomial begins
     * @param sinceTick the time of the start since the clock edge, s
     * @return the place in bases of the flow; NaN if it is out of reach or not found at once
     */
    double crossing(GuardRows guard, double[] z, double sinceTick, double[] into) {
        findTerm(0, z);
        findTerm(1, z);
        double c0 = guard.valueAt(z, sinceTick + reference * flow.base) + guard.linear(terms, 0);
        double c1 = guard.linear(terms, n) + guard.slope * flow.base;
        double d = -c0 / c1;
        double farthest = MARGIN * Math.abs(d);
        if (!(farthest <= reach)) {
            return Double.NaN;
        }
        int powers = powersFor(farthest);
        guardTerms[0] = c0;
        guardTerms[1] = c1;
        for (int k = 2; k <= powers; k++) {
            findTerm(k, z);
            guardTerms[k] = guard.linear(terms, k * n);
        }
        double c2 = powers > 1 ? guardTerms[2] : 0;
        double within = 0x1p-54 * reference;
        for (int i = 0; i < MOST_STEPS; i++) {
            double value = guardTerms[powers];
            double slope = 0;
            for (int k = powers - 1; k >= 0; k--) {
                slope = slope * d + value;
                value = value * d + guardTerms[k];
            }
            double step = value / slope;
            d -= step;
            // Newton's method squares the error
            if (Math.abs(c2 * step * step) <= within * Math.abs(slope) && Math.abs(d) <= farthest) {
                finish(z, d, powers, into);
                return reference + d;
            }
        }
        return Double.NaN;
    }
}
