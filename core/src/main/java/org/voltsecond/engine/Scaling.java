package org.voltsecond.engine;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * Scaled coordinates {@code z = scale * x}. Each scale is rounded to a power of two, so that going back and forth is
 * exact; the states are then comparable within a factor of two.
 */
final class Scaling {
    private final double[] factors;

    private Scaling(double[] factors) {
        this.factors = factors;
    }

    static Scaling of(double[] scale) {
        double[] factors = new double[scale.length];
        for (int i = 0; i < scale.length; i++) {
            if (!(scale[i] > 0) || Double.isInfinite(scale[i])) {
                throw new IllegalArgumentException(
                        "the scale of state " + i + " must be positive and finite but was " + scale[i]);
            }
            factors[i] = Math.scalb(1.0, Math.getExponent(scale[i]));
        }
        return new Scaling(factors);
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof Scaling scaling && Arrays.equals(factors, scaling.factors);
    }

    @Override
    public int hashCode() {
        return Arrays.hashCode(factors);
    }

    int dimension() {
        return factors.length;
    }

    double factor(int i) {
        return factors[i];
    }

    void toScaled(double[] state, double[] into) {
        for (int i = 0; i < factors.length; i++) {
            into[i] = state[i] * factors[i];
        }
    }

    void toState(double[] scaled, double[] into) {
        for (int i = 0; i < factors.length; i++) {
            into[i] = scaled[i] / factors[i];
        }
    }
}
