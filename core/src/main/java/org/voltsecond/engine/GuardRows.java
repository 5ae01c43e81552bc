package org.voltsecond.engine;

import org.voltsecond.numeric.Matrices;

/** An affine form along a flow: its Taylor coefficients as affine functions of the scaled state at the start. */
final class GuardRows {
    /** So many times its round-off the rate of a form must be, in a base of the flow, that its sign is certain. */
    private static final double CLEARLY = 1024;

    final Flow flow;
    final int n;
    /** The form itself in scaled coordinates, then its constant. */
    final double[] form;

    final double slope;
    /** Coefficient k is {@code rows[k * (n + 1) + j]} times state j, plus entry j = n. Without the slope. */
    final double[] rows;
    /**
     * Bounds the second derivative in u over the base: entry j times the magnitude of the rate of state j, which near an
     * equilibrium is far less than the state itself.
     */
    final double[] curvature;
    /**
     * Bounds the terms from one on: the largest factor of a state in each, added up, then the same of the constants; two numbers for each
     * term.
     */
    private final double[] beyond;
    /** Largest factor of the form in scaled coordinates. */
    final double size;
    /** Largest that the constants make of a term of the form in a clock period, or of its rate in a base. */
    private final double driven;
    /** Largest that the constants make of a term of the form, or of its rate, in a base. */
    private final double largestTerm;

    private final double clockPeriod;

    /** See {@link Guard#beginsAtZero}; told by the flow that it guards. */
    boolean beginsAtZero;

    private GuardRows(Flow flow, AffineForm affine) {
        this.flow = flow;
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
        rows = project();
        double ofConstants = largestTerm();
        driven = Math.max(Math.abs(form[n]), flow.basesInPeriod * ofConstants);
        largestTerm = Math.max(Math.abs(form[n]), ofConstants);
        clockPeriod = flow.basesInPeriod * flow.base;
        curvature = curvature();
        beyond = beyond();
    }

    static GuardRows of(Flow flow, AffineForm form) {
        return new GuardRows(flow, form);
    }

    /** The rate at which the form falls, as a form. */
    GuardRows falling() {
        double[] coefficients = new double[n];
        double constant = -slope;
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                coefficients[j] -= form[i] * flow.dynamics[i * (n + 1) + j] * flow.scaling.factor(j);
            }
            constant -= form[i] * flow.dynamics[i * (n + 1) + n];
        }
        return new GuardRows(flow, AffineForm.of(coefficients, constant));
    }

    private double[] project() {
        double[] projected = new double[(flow.degree + 1) * (n + 1)];
        projected[n] = form[n];
        for (int k = 0; k <= flow.degree; k++) {
            for (int i = 0; i < n; i++) {
                // most forms read few states, and a factor of zero adds nothing
                for (int j = 0; j <= n && form[i] != 0; j++) {
                    projected[k * (n + 1) + j] += form[i] * flow.rows[(k * n + i) * (n + 1) + j];
                }
            }
        }
        return projected;
    }

    private double largestTerm() {
        double largest = 0;
        for (int k = 1; k <= flow.degree; k++) {
            largest = Math.max(largest, k * Math.abs(rows[k * (n + 1) + n]));
        }
        return largest;
    }

    private double[] beyond() {
        int count = rows.length / (n + 1);
        double[] bounds = new double[2 * count + 2];
        for (int k = count - 1; k >= 0; k--) {
            double factor = 0;
            for (int j = 0; j < n; j++) {
                factor = Math.max(factor, Math.abs(rows[k * (n + 1) + j]));
            }
            bounds[2 * k] = bounds[2 * k + 2] + factor;
            bounds[2 * k + 1] = bounds[2 * k + 3] + Math.abs(rows[k * (n + 1) + n]);
        }
        return bounds;
    }

    /** Coefficient k is that of power k - 1 of the matrix, applied to the rate, times the base over k. */
    private double[] curvature() {
        double[] bound = new double[n];
        for (int k = flow.degree; k >= 2; k--) {
            for (int j = 0; j < n; j++) {
                bound[j] += (k - 1) * flow.base * Math.abs(rows[(k - 1) * (n + 1) + j]);
            }
        }
        return bound;
    }

    /**
     * Bounds the second derivative in u over the base from the states themselves, for where there is no time to look at
     * their rates: entry j times the magnitude of state j, plus entry j = n.
     */
    double[] curvatureByState() {
        double[] bound = new double[n + 1];
        for (int k = rows.length / (n + 1) - 1; k >= 2; k--) {
            for (int j = 0; j <= n; j++) {
                bound[j] += k * (k - 1.0) * Math.abs(rows[k * (n + 1) + j]);
            }
        }
        return bound;
    }

    /** The form without its constant, of the state that starts at a place in an array. */
    double linear(double[] states, int from) {
        return Matrices.dot(form, 0, states, from, n);
    }

    /** Bounds the magnitude of the second derivative in u over the base, from the rates of the states at the start. */
    private double curvature(double[] rate) {
        if (n == 2) {
            return curvature[0] * Math.abs(rate[0]) + curvature[1] * Math.abs(rate[1]);
        }
        double bound = 0;
        for (int j = 0; j < n; j++) {
            bound += curvature[j] * Math.abs(rate[j]);
        }
        return bound;
    }

    /** Whether the form certainly falls throughout the first {@code fraction} bases of the flow. */
    boolean fallsSteadily(double[] rate, double base, double fraction) {
        return (linear(rate, 0) + slope) * base + curvature(rate) * fraction < 0;
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
        return tolerance(z, driven, sinceTick);
    }

    private double tolerance(double[] z, double moving, double sinceTick) {
        double sum = n == 2 ? Math.abs(z[0]) + Math.abs(z[1]) : Matrices.size(z);
        return Flow.TOLERANCE * (size * sum + moving + Math.abs(slope * sinceTick));
    }

    /**
     * The same where the rate of the states is known. The instant's round-off moves the form by no more than that rate
     * does, which near an equilibrium is far less than what the constants alone would do.
     */
    double tolerance(double[] z, double[] rate, double sinceTick) {
        double moving = largestTerm + clockPeriod * Math.abs(linear(rate, 0) + slope);
        return tolerance(z, Math.min(driven, moving), sinceTick);
    }

    /**
     * Whether the form is certainly above zero throughout, by the bound of {@link Leg}, for a duration that is not known
     * in advance: {@code fraction} bases of the flow; {@code rate} is that of the states at the start.
     */
    boolean clear(double[] z, double[] rate, double[] end, double sinceTick, double duration, double fraction) {
        double last = sinceTick + duration;
        double bound = curvature(rate) * (fraction * fraction * 0.125) + tolerance(z, last);
        double first = valueAt(z, sinceTick);
        double atEnd = valueAt(end, last);
        return (first > bound && atEnd > bound)
                || (beginsAtZero
                        && first >= -tolerance(z, sinceTick)
                        && atEnd > tolerance(z, last)
                        && (linear(rate, 0) + slope) * flow.base > curvature(rate) * fraction);
    }

    /** Whether the form is above zero in the first instant, by its value or, where it may begin at zero, by its rate. */
    boolean isClear(double[] z, double sinceTick) {
        double value = valueAt(z, sinceTick);
        double tolerance = tolerance(z, sinceTick);
        return value > tolerance || (beginsAtZero && value >= -tolerance && firstOrder(z) > CLEARLY * tolerance);
    }

    private double firstOrder(double[] z) {
        return flow.degree == 0 ? 0 : Matrices.dot(rows, n + 1, z, 0, n) + rows[2 * n + 1] + slope * flow.base;
    }

    /** Writes the coefficients in u of the form along the flow. */
    void polynomial(double[] z, double sinceTick, double base, double[] into) {
        int count = rows.length / (n + 1);
        for (int k = 0; k < count; k++) {
            int at = k * (n + 1);
            into[k] = Matrices.dot(rows, at, z, 0, n) + rows[at + n];
        }
        into[0] += slope * sinceTick;
        into[1] += slope * base;
    }

    /**
     * The coefficients in the fraction of a span of at most one base, up to the last that can be seen beside the largest. A row from
     * which on all are certainly below that ends the work: where a form does not read what is fast, few are left.
     */
    double[] coefficients(double[] z, double sinceTick, double bases) {
        int count = rows.length / (n + 1);
        double[] coefficients = new double[Math.max(2, count)];
        double sum = Matrices.size(z);
        double power = 1;
        double largest = 0;
        for (int k = 0; k < count; k++) {
            if (k > 1 && beyond[2 * k] * sum + beyond[2 * k + 1] <= Flow.NOT_SEEN * largest) {
                break;
            }
            int at = k * (n + 1);
            double value = rows[at + n];
            for (int j = 0; j < n; j++) {
                value += rows[at + j] * z[j];
            }
            if (k < 2) {
                value += slope * (k == 0 ? sinceTick : flow.base);
            }
            value *= power;
            power *= bases;
            coefficients[k] = value;
            double magnitude = Math.abs(value);
            largest = magnitude > largest ? magnitude : largest;
        }
        return Flow.trim(coefficients, largest);
    }

    /** The same of a span of which the coefficients of the scaled state are known, power by power. */
    double[] ofSeries(double[] series, double sinceTick, double length) {
        int count = series.length / n;
        double[] coefficients = new double[count];
        for (int k = 0; k < count; k++) {
            double value = 0;
            for (int j = 0; j < n; j++) {
                value += form[j] * series[k * n + j];
            }
            coefficients[k] = value;
        }
        coefficients[0] += form[n] + slope * sinceTick;
        coefficients[1] += slope * length;
        return coefficients;
    }
}
