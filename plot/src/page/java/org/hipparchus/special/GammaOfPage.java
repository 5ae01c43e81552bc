package org.hipparchus.special;

/**
 * {@link Gamma} in a page, without the tables that the other one's logarithms need: C. Lanczos, A precision approximation of the
 * gamma function, 1964, with the nine coefficients of P. Godfrey for g = 7 (from memory; a test holds them against the other).
 */
final class GammaOfPage {
    private static final double[] COEFFICIENTS = {
        0.99999999999980993,
        676.5203681218851,
        -1259.1392167224028,
        771.32342877765313,
        -176.61502916214059,
        12.507343278686905,
        -0.13857109526572012,
        9.9843695780195716e-6,
        1.5056327351493116e-7
    };

    private GammaOfPage() {}

    /** For 0.5 and more. */
    public static double logGamma(double x) {
        double sum = COEFFICIENTS[0];
        for (int k = 1; k < COEFFICIENTS.length; k++) {
            sum += COEFFICIENTS[k] / (x - 1 + k);
        }
        double t = x + 6.5;
        return StrictMath.log(2 * StrictMath.PI) / 2 + (x - 0.5) * StrictMath.log(t) - t + StrictMath.log(sum);
    }
}
