package org.voltsecond.numeric;

/**
 * Polynomials over a variable from 0 to 1, coefficients by rising power, of which only those up to a degree are read: values, and
 * bounds that cost no search. A named numeric kernel.
 *
 * <pre>{@code
 * double[] parabola = {0, -1, 1};
 * double least = UnitPolynomial.least(parabola, 2); // -0.25, at the middle
 * double value = UnitPolynomial.at(parabola, 2, 0.5); // -0.25
 * }</pre>
 */
public final class UnitPolynomial {
    /** Newton's method doubles the digits: more than enough from any guess that leads there at all. */
    private static final int MOST_STEPS = 30;

    private UnitPolynomial() {}

    /**
     * Returns the value at the end, at 1.
     *
     * @param coefficients by rising power
     * @param degree the highest power that is read
     * @return the value at the end
     */
    public static double sum(double[] coefficients, int degree) {
        double sum = 0;
        for (int k = degree; k >= 0; k--) {
            sum += coefficients[k];
        }
        return sum;
    }

    /**
     * Returns the value somewhere within.
     *
     * @param coefficients by rising power
     * @param degree the highest power that is read
     * @param u where, from 0 to 1
     * @return the value somewhere within
     */
    public static double at(double[] coefficients, int degree, double u) {
        double value = 0;
        for (int k = degree; k >= 0; k--) {
            value = value * u + coefficients[k];
        }
        return value;
    }

    /**
     * Returns the value somewhere within, less that at the start.
     *
     * @param coefficients by rising power
     * @param degree the highest power that is read
     * @param u where, from 0 to 1
     * @return the value somewhere within
     */
    public static double change(double[] coefficients, int degree, double u) {
        double change = 0;
        for (int k = degree; k > 0; k--) {
            change = (change + coefficients[k]) * u;
        }
        return change;
    }

    /**
     * Returns the slope somewhere within.
     *
     * @param coefficients by rising power
     * @param degree the highest power that is read
     * @param u where, from 0 to 1
     * @return the slope somewhere within
     */
    public static double slopeAt(double[] coefficients, int degree, double u) {
        double value = 0;
        for (int k = degree; k > 0; k--) {
            value = value * u + k * coefficients[k];
        }
        return value;
    }

    /**
     * Returns a bound from below: the lesser value at the ends, less how far a curve that may turn can sag below its chord.
     *
     * @param coefficients by rising power
     * @param degree the highest power that is read
     * @return a bound from below
     */
    public static double least(double[] coefficients, int degree) {
        double sag = 0;
        double bend = 0;
        for (int k = 2; k <= degree; k++) {
            double part = k * Math.abs(coefficients[k]);
            bend += part;
            sag += (k - 1) * part;
        }
        boolean turns = !(bend < Math.abs(coefficients[1]));
        return Math.min(coefficients[0], sum(coefficients, degree)) - (turns ? sag / 8 : 0);
    }

    /**
     * Returns whether the curve certainly rises throughout.
     *
     * @param coefficients by rising power
     * @param degree the highest power that is read
     * @return true if it does; false where that is not certain
     */
    public static boolean rises(double[] coefficients, int degree) {
        double least = coefficients[1];
        for (int k = 2; k <= degree; k++) {
            least -= k * Math.abs(coefficients[k]);
        }
        return least > 0;
    }

    /**
     * Returns a bound of the magnitude: no value is farther from zero.
     *
     * @param coefficients by rising power
     * @param degree the highest power that is read
     * @return a bound of the magnitude
     */
    public static double reach(double[] coefficients, int degree) {
        double sum = 0;
        for (int k = 0; k <= degree; k++) {
            sum += Math.abs(coefficients[k]);
        }
        return sum;
    }

    /**
     * Integrates the product of two polynomials.
     *
     * @param a coefficients by rising power
     * @param degreeOfA the highest power of the first
     * @param b coefficients by rising power
     * @param degreeOfB the highest power of the second
     * @return the integral from 0 to 1
     */
    public static double integralOfProduct(double[] a, int degreeOfA, double[] b, int degreeOfB) {
        double integral = 0;
        for (int i = degreeOfA; i >= 0; i--) {
            double inner = 0;
            for (int j = degreeOfB; j >= 0; j--) {
                inner += b[j] / (i + j + 1);
            }
            integral += a[i] * inner;
        }
        return integral;
    }

    /**
     * Finds the zero to which Newton's method leads from 1.
     *
     * @param coefficients by rising power
     * @param degree the highest power
     * @return from 0 to 2, to the last bit if there is one; not a number where the curve does not lead there
     */
    public static double zeroNearOne(double[] coefficients, int degree) {
        double u = 1;
        for (int k = 0; k < MOST_STEPS; k++) {
            double change = at(coefficients, degree, u) / slopeAt(coefficients, degree, u);
            u = Math.min(2, Math.max(0, u - change));
            if (!(Math.abs(change) > RoundOff.ULP * u)) {
                break;
            }
        }
        return u;
    }
}
