package org.voltsecond.engine;

import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;

/**
 * The flow over a fixed duration, worked out once: the change of the state as an affine map, and for every guard the
 * factors of a bound that dismisses it without looking at its polynomial. A duration of more than one base of the flow is gone
 * in equal steps of at most one, each held against the bound. A named numeric kernel.
 *
 * <p>A guard g cannot reach zero if it is larger at both ends than the most by which it can sag below its chord, which
 * is the largest second derivative times the squared length over 8. That is bounded by the state, which is quick, or by its
 * rate, which near an equilibrium of a fast mode is far less ({@link GuardRows#clear}).
 */
sealed class Leg {
    final Flow flow;
    final double duration;
    private final int n;
    private final int steps;
    private final double step;
    /** Rows of n + 1: by how much the state changes in a step, as an affine function of the state at its start. */
    final double[] change;

    final double[] form;
    final double[] slope;
    final double[] sag;

    Leg(Flow flow, double duration) {
        this.flow = flow;
        this.duration = duration;
        n = flow.n;
        steps = Math.max(1, (int) Math.ceil(duration / flow.base));
        step = duration / steps;
        change = changeOver(flow, step);
        int count = flow.guards.length;
        form = new double[count * (n + 1)];
        sag = new double[count * (n + 1)];
        slope = new double[count];
        double fraction = step / flow.base;
        for (int g = 0; g < count; g++) {
            GuardRows guard = flow.guards[g];
            slope[g] = guard.slope;
            double[] curvature = guard.curvatureByState();
            for (int j = 0; j <= n; j++) {
                form[g * (n + 1) + j] = guard.form[j];
                double roundOff = Flow.TOLERANCE * (j < n ? guard.size : Math.abs(guard.form[n]));
                sag[g * (n + 1) + j] = curvature[j] * fraction * fraction / 8 + roundOff;
            }
        }
    }

    static Leg of(Flow flow, double duration) {
        return flow.n == 2 && duration <= flow.base ? new Planar(flow, duration) : new Leg(flow, duration);
    }

    /** Sums the Taylor series without the identity, so that small changes keep their digits. */
    static double[] changeOver(Flow flow, double duration) {
        double[] taylor = flow.taylorRows(duration);
        int size = flow.n * (flow.n + 1);
        double[] sum = new double[size];
        // a system without states has no entries
        for (int at = taylor.length - size; size > 0 && at >= size; at -= size) {
            for (int j = 0; j < size; j++) {
                sum[j] += taylor[at + j];
            }
        }
        return sum;
    }

    /**
     * Goes over the whole leg.
     *
     * @param into takes the state at the end
     * @param between takes states on the way
     * @param rate takes rates of the state
     * @return whether it is certain that no guard reaches zero on the way, both ends included, and the state is finite
     */
    boolean advance(double[] z, double sinceTick, double[] into, double[] between, double[] rate) {
        boolean clear = true;
        double[] from = z;
        double since = sinceTick;
        for (int left = steps - 1; left >= 0; left--) {
            double[] to = (left & 1) == 0 ? into : between;
            move(from, to);
            clear &= Matrices.size(to) < Double.POSITIVE_INFINITY;
            clear &= clear(from, since, to, rate);
            from = to;
            since += step;
        }
        return clear;
    }

    /** Several steps are there where a mode is fast, so that the state alone tells nothing. */
    private boolean clear(double[] from, double since, double[] to, double[] rate) {
        boolean clear = true;
        boolean rated = false;
        for (int g = 0; clear && g < slope.length; g++) {
            if (steps > 1 || !clear(g, from, since, to)) {
                if (!rated) {
                    flow.rate(from, rate);
                    rated = true;
                }
                clear = flow.guards[g].clear(from, rate, to, since, step, step / flow.base);
            }
        }
        return clear;
    }

    /** Goes over the first step without a look at the guards. */
    void move(double[] z, double[] into) {
        for (int i = 0; i < n; i++) {
            int at = i * (n + 1);
            double sum = change[at + n];
            for (int j = 0; j < n; j++) {
                sum += change[at + j] * z[j];
            }
            into[i] = z[i] + sum;
        }
    }

    private boolean clear(int g, double[] z, double sinceTick, double[] end) {
        int at = g * (n + 1);
        double first = form[at + n] + slope[g] * sinceTick;
        double last = first + slope[g] * step;
        double bound = sag[at + n] + Flow.TOLERANCE * Math.abs(slope[g]) * (sinceTick + step);
        for (int j = 0; j < n; j++) {
            first += form[at + j] * z[j];
            last += form[at + j] * end[j];
            bound += sag[at + j] * Math.abs(z[j]);
        }
        return Math.min(first, last) > bound;
    }

    /** A {@link Leg} of two states with all its factors in fields, which is the quickest form. A named numeric kernel. */
    static final class Planar extends Leg {
        private final double c00;
        private final double c01;
        private final double c0;
        private final double c10;
        private final double c11;
        private final double c1;
        private final Bound[] bounds;

        /** One guard: its form and its slope, and the factors of the most by which it can sag below its chord. */
        private static final class Bound {
            final double form0;
            final double form1;
            final double constant;
            final double slope;
            final double sag0;
            final double sag1;
            final double sag;
            final double sagOfTime;

            Bound(Leg leg, int g) {
                int at = 3 * g;
                form0 = leg.form[at];
                form1 = leg.form[at + 1];
                constant = leg.form[at + 2];
                slope = leg.slope[g];
                sag0 = leg.sag[at];
                sag1 = leg.sag[at + 1];
                sag = leg.sag[at + 2];
                sagOfTime = Flow.TOLERANCE * Math.abs(slope);
            }
        }

        Planar(Flow flow, double duration) {
            super(flow, duration);
            c00 = change[0];
            c01 = change[1];
            c0 = change[2];
            c10 = change[3];
            c11 = change[4];
            c1 = change[5];
            bounds = new Bound[slope.length];
            for (int g = 0; g < bounds.length; g++) {
                bounds[g] = new Bound(this, g);
            }
        }

        @Override
        void move(double[] z, double[] into) {
            double z0 = z[0];
            double z1 = z[1];
            into[0] = z0 + (c00 * z0 + c01 * z1 + c0);
            into[1] = z1 + (c10 * z0 + c11 * z1 + c1);
        }

        @Override
        boolean advance(double[] z, double sinceTick, double[] into, double[] between, double[] rate) {
            double z0 = z[0];
            double z1 = z[1];
            double end0 = z0 + (c00 * z0 + c01 * z1 + c0);
            double end1 = z1 + (c10 * z0 + c11 * z1 + c1);
            into[0] = end0;
            into[1] = end1;
            double last = sinceTick + duration;
            boolean clear = Math.abs(end0) + Math.abs(end1) < Double.POSITIVE_INFINITY;
            for (Bound guard : bounds) {
                double atStart = guard.form0 * z0 + guard.form1 * z1 + (guard.constant + guard.slope * sinceTick);
                double atEnd = guard.form0 * end0 + guard.form1 * end1 + (guard.constant + guard.slope * last);
                double bound =
                        guard.sag0 * Math.abs(z0) + guard.sag1 * Math.abs(z1) + (guard.sag + guard.sagOfTime * last);
                if (!(atStart > bound && atEnd > bound)) {
                    clear = false;
                }
            }
            return clear;
        }
    }

    /**
     * The flow over durations close to one that was worked out before: a Taylor polynomial about that duration, whose
     * coefficients are affine functions of the state at the start. In a periodic regime the time of an event hardly moves from
     * one period to the next, and this takes a fraction of the time of the full polynomial. What is longer than one base of the
     * flow begins with a leg of fixed length, after which a fraction of a base is left. A named numeric kernel.
     */
    static final class Near {
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

        Near(Flow flow, double reference) {
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
            double[] change = new double[n * (n + 1)];
            flow.changeOver(reference - leadBases, change);
            rows = composed(change);
            terms = new double[(DEGREE + 1) * n];
            guardTerms = new double[DEGREE + 1];
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
}
