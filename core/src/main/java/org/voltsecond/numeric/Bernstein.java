package org.voltsecond.numeric;

/**
 * The Bernstein form of a polynomial on [0, 1], between whose smallest and largest coefficient the polynomial lies, and
 * which has at most as many roots there as its coefficients have changes of sign (G. Farin, Curves and Surfaces for CAGD,
 * 5th ed., 2002, ch. 6, from memory). A named numeric kernel.
 *
 * <pre>{@code
 * double[] coefficients = {1, -4, 4}; // (1 - 2 u)^2
 * Bernstein.replace(coefficients, 3);
 * double middle = coefficients[1]; // -1
 * }</pre>
 */
public final class Bernstein {
    private Bernstein() {}

    /**
     * Replaces the coefficients of powers by those of the Bernstein form: c_k / binomial(n, k), then running sums.
     *
     * @param c coefficients, lowest power first; overwritten
     * @param count how many of them there are, at least 1
     */
    public static void replace(double[] c, int count) {
        int degree = count - 1;
        double binomial = 1;
        for (int k = 0; k < count; k++) {
            c[k] /= binomial;
            binomial = binomial * (degree - k) / (k + 1);
        }
        for (int level = 1; level < count; level++) {
            for (int k = degree; k >= level; k--) {
                c[k] += c[k - 1];
            }
        }
    }

    /**
     * Splits a polynomial at one half (de Casteljau's scheme).
     *
     * @param right the form on the whole; overwritten by that on the right half
     * @param left takes the form on the left half
     */
    public static void split(double[] right, double[] left) {
        int degree = right.length - 1;
        left[0] = right[0];
        for (int level = 1; level <= degree; level++) {
            for (int k = 0; k <= degree - level; k++) {
                right[k] = 0.5 * (right[k] + right[k + 1]);
            }
            left[level] = right[0];
        }
    }

    /**
     * Tells whether a polynomial is certain to be above zero from 0 to 1.
     *
     * @param share by how much it has to be above it, as a share of the sum of the magnitudes of its coefficients
     * @param c coefficients by rising power; overwritten
     * @param count how many of them
     * @return true if it is; false if it is not, or a bound does not tell
     */
    public static boolean isAbove(double share, double[] c, int count) {
        double least = share * UnitPolynomial.reach(c, count - 1);
        if (UnitPolynomial.least(c, count - 1) > least) {
            return true;
        }
        replace(c, count);
        boolean above = true;
        for (int k = 0; k < count; k++) {
            above &= c[k] > least;
        }
        return above;
    }
}
