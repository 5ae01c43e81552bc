package org.voltsecond.engine;

/** An affine form along a flow: its Taylor coefficients as affine functions of the scaled state at the start. */
final class GuardRows {
    final int n;
    /** The form itself in scaled coordinates, then its constant. */
    final double[] form;

    final double slope;
    /** Coefficient k is {@code rows[k * (n + 1) + j]} times state j, plus entry j = n. Without the slope. */
    final double[] rows;
    /** Bounds the second derivative in u over the base: entry j times |state j|, plus entry j = n. */
    final double[] curvature;
    /** Largest factor of the form in scaled coordinates. */
    final double size;
    /** Largest that the constants make of a term of the form in a clock period, or of its rate in a base. */
    private final double driven;

    private GuardRows(Flow flow, AffineForm affine) {
        n = flow.n;
        slope = affine.slope();
        form = new double[n + 1];
        double largest = 0;
        for (int j = 0; j < n; j++) {
            form[j] = affine.coefficient(j) / flow.scaling.factor(j);
            largest = Math.max(largest, Math.abs(form[j]));
        }
        form[n] = affine.constant();
        size = largest;
        rows = project(flow);
        driven = driven(flow);
        curvature = curvature(flow.degree);
    }

    static GuardRows of(Flow flow, AffineForm form) {
        return new GuardRows(flow, form);
    }

    private double[] project(Flow flow) {
        double[] projected = new double[(flow.degree + 1) * (n + 1)];
        projected[n] = form[n];
        for (int k = 0; k <= flow.degree; k++) {
            for (int i = 0; i < n; i++) {
                for (int j = 0; j <= n; j++) {
                    projected[k * (n + 1) + j] += form[i] * flow.rows[(k * n + i) * (n + 1) + j];
                }
            }
        }
        return projected;
    }

    private double driven(Flow flow) {
        double largest = Math.abs(form[n]);
        for (int k = 1; k <= flow.degree; k++) {
            largest = Math.max(largest, k * flow.basesInPeriod * Math.abs(rows[k * (n + 1) + n]));
        }
        return largest;
    }

    private double[] curvature(int degree) {
        double[] bound = new double[n + 1];
        for (int k = degree; k >= 2; k--) {
            for (int j = 0; j <= n; j++) {
                bound[j] += k * (k - 1.0) * Math.abs(rows[k * (n + 1) + j]);
            }
        }
        return bound;
    }

    /** The sum of entries of an array times their factors from a place in another; two of them without a loop. */
    private double product(double[] factors, int at, double[] x, int from) {
        if (n == 2) {
            return factors[at] * x[from] + factors[at + 1] * x[from + 1];
        }
        double sum = 0;
        for (int j = 0; j < n; j++) {
            sum += factors[at + j] * x[from + j];
        }
        return sum;
    }

    /** The form without its constant, of the state that starts at a place in an array. */
    double linear(double[] states, int from) {
        return product(form, 0, states, from);
    }

    /** Bounds the magnitude of the second derivative in u over the base. */
    private double curvature(double[] z) {
        if (n == 2) {
            return curvature[0] * Math.abs(z[0]) + curvature[1] * Math.abs(z[1]) + curvature[2];
        }
        double bound = curvature[n];
        for (int j = 0; j < n; j++) {
            bound += curvature[j] * Math.abs(z[j]);
        }
        return bound;
    }

    /** Whether the form certainly falls throughout the first {@code fraction} bases of the flow. */
    boolean fallsSteadily(double[] z, double base, double fraction) {
        double first = product(rows, n + 1, z, 0) + rows[2 * n + 1];
        return first + slope * base + curvature(z) * fraction < 0;
    }

    double valueAt(double[] z, double sinceTick) {
        return linear(z, 0) + (form[n] + slope * sinceTick);
    }

    /**
     * How far from zero the form, or a term of it, may be at this state and still be zero but for round-off: that of the
     * state, and that of the instant, which is exact only to the last digits of a clock period. The latter matters where a
     * state has come to be small by a movement that is not.
     */
    double tolerance(double[] z, double sinceTick) {
        double sum = n == 2 ? Math.abs(z[0]) + Math.abs(z[1]) : Matrices.size(z);
        return Flow.TOLERANCE * (size * sum + driven + Math.abs(slope * sinceTick));
    }

    /**
     * Whether the form is certainly above zero throughout, by the bound of {@link Leg}, for a duration that is not known
     * in advance: {@code fraction} bases of the flow.
     */
    boolean clear(double[] z, double[] end, double sinceTick, double duration, double fraction) {
        double last = sinceTick + duration;
        double bound = curvature(z) * (fraction * fraction * 0.125) + tolerance(z, last);
        return valueAt(z, sinceTick) > bound && valueAt(end, last) > bound;
    }

    /** Writes the coefficients in u of the form along the flow. */
    void polynomial(double[] z, double sinceTick, double base, double[] into) {
        int count = rows.length / (n + 1);
        for (int k = 0; k < count; k++) {
            int at = k * (n + 1);
            into[k] = product(rows, at, z, 0) + rows[at + n];
        }
        into[0] += slope * sinceTick;
        into[1] += slope * base;
    }
}
