package org.voltsecond.engine;

import org.voltsecond.numeric.Matrices;

/**
 * The flow over a fixed duration, worked out once: the change of the state as an affine map, and for every guard the
 * factors of a bound that dismisses it without looking at its polynomial. A named numeric kernel.
 *
 * <p>A guard g cannot reach zero if it is larger at both ends than the most by which it can sag below its chord, which
 * is the largest second derivative times the squared length over 8.
 */
sealed class Leg permits PlanarLeg {
    final Flow flow;
    final double duration;
    private final int n;
    /** Rows of n + 1: by how much the state changes, as an affine function of the state at the start. */
    final double[] change;

    final double[] form;
    final double[] slope;
    final double[] sag;

    Leg(Flow flow, double duration) {
        this.flow = flow;
        this.duration = duration;
        n = flow.n;
        change = changeOver(flow, duration);
        int count = flow.guards.length;
        form = new double[count * (n + 1)];
        sag = new double[count * (n + 1)];
        slope = new double[count];
        double fraction = duration / flow.base;
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

    /** A leg over a duration of at most one base of the flow. */
    static Leg of(Flow flow, double duration) {
        return flow.n == 2 ? new PlanarLeg(flow, duration) : new Leg(flow, duration);
    }

    /** Sums the Taylor series without the identity, so that small changes keep their digits. */
    static double[] changeOver(Flow flow, double duration) {
        double[] taylor = flow.taylorRows(duration);
        int size = flow.n * (flow.n + 1);
        double[] sum = new double[size];
        for (int at = taylor.length - size; at >= size; at -= size) {
            for (int j = 0; j < size; j++) {
                sum[j] += taylor[at + j];
            }
        }
        return sum;
    }

    /**
     * Goes over the whole leg.
     *
     * @return whether it is certain that no guard reaches zero on the way, both ends included, and the state is finite
     */
    boolean advance(double[] z, double sinceTick, double[] into) {
        move(z, into);
        boolean clear = Matrices.size(into) < Double.POSITIVE_INFINITY;
        for (int g = 0; g < slope.length; g++) {
            clear &= clear(g, z, sinceTick, into);
        }
        return clear;
    }

    /** Goes over the whole leg without a look at the guards. */
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
        double last = first + slope[g] * duration;
        double bound = sag[at + n] + Flow.TOLERANCE * Math.abs(slope[g]) * (sinceTick + duration);
        for (int j = 0; j < n; j++) {
            first += form[at + j] * z[j];
            last += form[at + j] * end[j];
            bound += sag[at + j] * Math.abs(z[j]);
        }
        return Math.min(first, last) > bound;
    }

    /** Writes the matrix that takes a small change of the state at the start to its change at the end. */
    void derivative(double[] into) {
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                into[i * n + j] = change[i * (n + 1) + j] + (i == j ? 1 : 0);
            }
        }
    }
}
