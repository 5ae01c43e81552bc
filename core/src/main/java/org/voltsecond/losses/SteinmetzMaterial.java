package org.voltsecond.losses;

import org.hipparchus.special.Gamma;

/**
 * A core material by its Steinmetz parameters: under a sinusoid of frequency f and amplitude B the loss is
 * k f^alpha B^beta, with f in Hz and B in T. Parameters hold for a range of frequency and temperature; data sheets often
 * give k in other units.
 *
 * <p>Source: C. P. Steinmetz, On the law of hysteresis, AIEE Transactions 9 (1892); in this form general usage.
 *
 * <pre>{@code
 * SteinmetzMaterial ferrite = new SteinmetzMaterial(0.25, 1.6, 2.5); // W/m^3 at 1 Hz and 1 T, and two exponents
 * double density = ferrite.sinusoidalLoss(kilo(300), 0.05); // 8.11e4 W/m^3
 * }</pre>
 *
 * @param k loss at 1 Hz and 1 T, W/m^3; more than 0
 * @param alpha exponent of the frequency; more than 0, usually 1 to 2
 * @param beta exponent of the amplitude; not less than alpha, usually 2 to 3
 */
public record SteinmetzMaterial(double k, double alpha, double beta) {
    /**
     * Creates a material.
     *
     * @param k loss at 1 Hz and 1 T, W/m^3; more than 0
     * @param alpha exponent of the frequency; more than 0, usually 1 to 2
     * @param beta exponent of the amplitude; not less than alpha, usually 2 to 3
     * @throws IllegalArgumentException if a parameter is out of its range
     */
    public SteinmetzMaterial {
        LossChecks.positive("core material", "k", k, "W/m^3");
        LossChecks.positive("core material", "alpha", alpha, "(plain number)");
        if (!(beta >= alpha && beta < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "core material: beta must not be less than alpha of " + alpha + " but was " + beta);
        }
    }

    /**
     * Returns the loss under a sinusoid.
     *
     * @param frequency f, Hz
     * @param amplitude B, half of the peak-to-peak flux density, T
     * @return the loss, W/m^3
     */
    public double sinusoidalLoss(double frequency, double amplitude) {
        return k * StrictMath.pow(frequency, alpha) * StrictMath.pow(amplitude, beta);
    }

    /**
     * Returns the factor of the improved generalised Steinmetz equation,
     * k_i = k / ((2 pi)^(alpha-1) integral over a turn of |cos x|^alpha 2^(beta-alpha) dx). The integral is
     * 2 sqrt(pi) Gamma((alpha+1)/2) / Gamma(alpha/2+1).
     *
     * <p>Source: K. Venkatachalam, C. R. Sullivan, T. Abdallah, H. Tacca, Accurate prediction of ferrite core loss with
     * nonsinusoidal waveforms using only Steinmetz parameters, IEEE Workshop on Computers in Power Electronics 2002.
     *
     * @return the factor
     */
    public double generalisedFactor() {
        double logOfRatio = Gamma.logGamma((alpha + 1) / 2) - Gamma.logGamma(alpha / 2 + 1);
        double turn = 2 * Math.sqrt(Math.PI) * StrictMath.exp(logOfRatio);
        return k / (StrictMath.pow(2 * Math.PI, alpha - 1) * turn * StrictMath.pow(2, beta - alpha));
    }
}
