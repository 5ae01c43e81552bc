package org.voltsecond.engine;

/**
 * The flow over durations close to one that was worked out before: a Taylor polynomial about that duration, whose
 * coefficients are affine functions of the state at the start. In a periodic regime the time of an event hardly moves from
 * one period to the next, and this takes a fraction of the time of the full polynomial. A named numeric kernel.
 */
final class NearLeg {
    private static final int DEGREE = 4;
    /**
     * Largest norm of A times the distance for which so many powers are enough: the first one left out, this to the next
     * power over its factorial, is then below 2e-17 of the state.
     */
    private static final double[] ENOUGH = {0, 5e-9, 4e-6, 1.3e-4, 1e-3};

    private final Flow flow;
    private final int n;
    private final int highest;
    /** The duration worked out before, in bases of the flow. */
    final double reference;

    private final double reach;
    /** Coefficient k of state i: {@code rows[(k * n + i) * (n + 1) + j]} times state j at the start, plus entry j = n. */
    private final double[] rows;
    /** Coefficient k of state i at the present start, less that start for k = 0. */
    private final double[] terms;

    NearLeg(Flow flow, double reference) {
        this.flow = flow;
        this.reference = reference;
        n = flow.n;
        highest = Math.min(DEGREE, flow.degree);
        reach = flow.norm == 0 ? Double.POSITIVE_INFINITY : ENOUGH[DEGREE] / (flow.norm * flow.base);
        rows = composed(Leg.changeOver(flow, reference * flow.base));
        terms = new double[(DEGREE + 1) * n];
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

    /** Writes the state at fraction {@code u} of the base, which must be within reach. */
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
            double sum = rows[at + n];
            for (int j = 0; j < n; j++) {
                sum += rows[at + j] * z[j];
            }
            terms[k * n + i] = sum;
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
     * @return the place in bases of the flow; NaN if it is out of reach or not found at once
     */
    double crossing(GuardRows guard, double[] z, double sinceTick, double[] into) {
        findTerm(0, z);
        findTerm(1, z);
        double c0 = guard.valueAt(z, sinceTick + reference * flow.base) + guard.linear(terms, 0);
        double c1 = guard.linear(terms, n) + guard.slope * flow.base;
        double d = -c0 / c1;
        double farthest = 2 * Math.abs(d);
        if (!(farthest <= reach)) {
            return Double.NaN;
        }
        int powers = powersFor(farthest);
        double c2 = coefficient(2, powers, guard, z);
        double c3 = coefficient(3, powers, guard, z);
        double c4 = coefficient(4, powers, guard, z);
        double within = 0x1p-54 * reference;
        for (int i = 0; i < 3; i++) {
            double value = c0 + d * (c1 + d * (c2 + d * (c3 + d * c4)));
            double slope = c1 + d * (2 * c2 + d * (3 * c3 + d * 4 * c4));
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

    private double coefficient(int k, int powers, GuardRows guard, double[] z) {
        if (k > powers) {
            return 0;
        }
        findTerm(k, z);
        return guard.linear(terms, k * n);
    }
}
