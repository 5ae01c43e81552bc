package org.voltsecond.engine;

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
}
