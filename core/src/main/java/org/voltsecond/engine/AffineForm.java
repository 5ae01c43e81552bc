package org.voltsecond.engine;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;

/**
 * An affine function of the state and of the time since the last clock edge: {@code c . x + constant + slope * sinceTick}.
 *
 * <p>Guards and channels (the quantities that can be read off a configuration) are affine forms. State components and
 * values are in SI units. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * AffineForm drop = AffineForm.of(new double[] {0.03, 1}, 0.4); // 0.03 x0 + x1 + 0.4
 * double volt = drop.valueAt(new double[] {2, 5}, 0); // 5.46
 * AffineForm ramped = drop.plusRamp(kilo(300)); // and 300e3 for each second since the clock edge
 * }</pre>
 */
public final class AffineForm {
    private final double[] coefficients;
    private final double constant;
    private final double slope;

    /** Along the flow that it was last read along: worked out on first use; two threads at once find the same. */
    private volatile @Nullable GuardRows rows;

    private AffineForm(double[] coefficients, double constant, double slope) {
        this.coefficients = coefficients;
        this.constant = constant;
        this.slope = slope;
    }

    /**
     * Returns the form {@code coefficients . x + constant}.
     *
     * @param coefficients one factor for each state; copied
     * @param constant the value at the zero state
     * @return the form
     */
    public static AffineForm of(double[] coefficients, double constant) {
        return new AffineForm(coefficients.clone(), constant, 0);
    }

    /**
     * Returns the form {@code coefficients . x + constant + slope * sinceTick}.
     *
     * @param coefficients one factor for each state; copied
     * @param constant the value at the zero state on a clock edge
     * @param slope change per second of the time since the last clock edge
     * @return the form
     */
    public static AffineForm of(double[] coefficients, double constant, double slope) {
        return new AffineForm(coefficients.clone(), constant, slope);
    }

    /**
     * Makes a form of a row of numbers.
     *
     * @param row factors of the states, then the constant; copied
     * @return the form
     */
    public static AffineForm ofRow(double[] row) {
        int n = row.length - 1;
        return new AffineForm(Arrays.copyOf(row, n), row[n], 0);
    }

    /**
     * Returns a form that has the same value everywhere.
     *
     * @param dimension number of states
     * @param value the value
     * @return the form
     */
    public static AffineForm constant(int dimension, double value) {
        return new AffineForm(new double[dimension], value, 0);
    }

    /**
     * Returns whether this is zero whatever the state.
     *
     * @return true if every coefficient, the constant and the slope are zero
     */
    public boolean isZero() {
        boolean zero = constant() == 0 && slope() == 0;
        for (int j = 0; j < dimension() && zero; j++) {
            zero = coefficient(j) == 0;
        }
        return zero;
    }

    /**
     * Returns the number of states.
     *
     * @return the number of states
     */
    public int dimension() {
        return coefficients.length;
    }

    /**
     * Returns the factor of one state.
     *
     * @param state index of the state
     * @return its factor
     */
    public double coefficient(int state) {
        return coefficients[state];
    }

    /**
     * Returns the value at the zero state on a clock edge.
     *
     * @return the constant
     */
    public double constant() {
        return constant;
    }

    /**
     * Returns the change per second of the time since the last clock edge.
     *
     * @return the slope
     */
    public double slope() {
        return slope;
    }

    /**
     * Evaluates the form.
     *
     * @param state the state, SI units
     * @param sinceTick time since the last clock edge, s
     * @return the value
     */
    public double valueAt(double[] state, double sinceTick) {
        double sum = constant + slope * sinceTick;
        for (int j = 0; j < coefficients.length; j++) {
            sum += coefficients[j] * state[j];
        }
        return sum;
    }

    /**
     * Returns the sum of this form and {@code factor} times another.
     *
     * @param factor multiplies the other form
     * @param other a form over the same states
     * @return the sum
     */
    public AffineForm plus(double factor, AffineForm other) {
        double[] sum = coefficients.clone();
        for (int j = 0; j < sum.length; j++) {
            sum[j] += factor * other.coefficients[j];
        }
        return new AffineForm(sum, constant + factor * other.constant, slope + factor * other.slope);
    }

    /**
     * Returns this form over more states, on which it does not depend.
     *
     * @param dimension number of states, at least as many as now; the present ones come first
     * @return the form
     */
    public AffineForm extendedTo(int dimension) {
        return dimension == coefficients.length
                ? this
                : new AffineForm(Arrays.copyOf(coefficients, dimension), constant, slope);
    }

    /**
     * Returns this form with a number added.
     *
     * @param number the number
     * @return the sum
     */
    public AffineForm plus(double number) {
        return new AffineForm(coefficients, constant + number, slope);
    }

    /**
     * Returns this form with a ramp added that is zero on every clock edge.
     *
     * @param perSecond change of the ramp per second
     * @return the sum
     */
    public AffineForm plusRamp(double perSecond) {
        return new AffineForm(coefficients, constant, slope + perSecond);
    }

    /**
     * Returns this form multiplied by a number.
     *
     * @param factor the number
     * @return the product
     */
    public AffineForm times(double factor) {
        return constant(coefficients.length, 0).plus(factor, this);
    }

    /** A form is mostly read along one flow, in one interval after the other, so what was worked out last is kept. */
    GuardRows along(Flow flow) {
        GuardRows known = rows;
        if (known == null || known.flow != flow) {
            known = GuardRows.of(flow, this);
            rows = known;
        }
        return known;
    }

    boolean isFinite() {
        return Matrices.size(coefficients) + Math.abs(constant) + Math.abs(slope) < Double.POSITIVE_INFINITY;
    }

    @Override
    public String toString() {
        return Arrays.toString(coefficients) + " . x + " + constant + (slope == 0 ? "" : " + " + slope + " t");
    }
}
