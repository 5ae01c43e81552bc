package org.voltsecond.converter;

/**
 * Polynomials of the {@link StageKernel} over a variable from 0 to 1, coefficients by rising power: values, and bounds that
 * cost no search. A named numeric kernel.
 */
final class KernelCurve {
    private KernelCurve() {}

    /** The value at the end. */
    static double sum(double[] coefficients, int degree) {
        double sum = 0;
        for (int k = degree; k >= 0; k--) {
            sum += coefficients[k];
        }
        return sum;
    }

    /** The value somewhere within. */
    static double at(double[] coefficients, int degree, double u) {
        double value = 0;
        for (int k = degree; k >= 0; k--) {
            value = value * u + coefficients[k];
        }
        return value;
    }

    /** The value somewhere within, less that at the start. */
    static double change(double[] coefficients, int degree, double u) {
        double change = 0;
        for (int k = degree; k > 0; k--) {
            change = (change + coefficients[k]) * u;
        }
        return change;
    }

    /** The slope somewhere within. */
    static double slopeAt(double[] coefficients, int degree, double u) {
        double value = 0;
        for (int k = degree; k > 0; k--) {
            value = value * u + k * coefficients[k];
        }
        return value;
    }

    /** A bound from below: that at the ends, less how far a curve that may turn can sag below its chord. */
    static double least(double[] coefficients, int degree) {
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

    /** Whether the curve certainly rises throughout. */
    static boolean rises(double[] coefficients, int degree) {
        double least = coefficients[1];
        for (int k = 2; k <= degree; k++) {
            least -= k * Math.abs(coefficients[k]);
        }
        return least > 0;
    }

    /** No value is farther from zero. */
    static double reach(double[] coefficients, int degree) {
        double sum = 0;
        for (int k = 0; k <= degree; k++) {
            sum += Math.abs(coefficients[k]);
        }
        return sum;
    }
}
