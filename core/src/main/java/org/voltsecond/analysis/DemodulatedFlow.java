package org.voltsecond.analysis;

import org.voltsecond.numeric.ComplexMatrix;
import org.voltsecond.numeric.Matrices;
import org.voltsecond.numeric.RoundOff;

/**
 * The exact flow of {@code dx/dt = (A - j omega) x} over an interval together with its integrals: of a linear system seen
 * from a frame that turns with the perturbation, in which the perturbation stands still. With z = (A - j omega) h the
 * three matrices are exp(z), h phi1(z), h^2 phi2(z), where phi1 and phi2 are the integrals of the exponential and of
 * phi1; Taylor series for a small z, then doubling: phi1(2z) = (exp(z) phi1(z) + phi1(z)) / 2 and
 * phi2(2z) = (exp(z) phi2(z) + phi1(z) + phi2(z)) / 4.
 *
 * @param exponential from the start to the end
 * @param integral its integral over the interval, s
 * @param secondIntegral the integral of that, s^2
 */
record DemodulatedFlow(ComplexMatrix exponential, ComplexMatrix integral, ComplexMatrix secondIntegral) {
    /** With this norm the remainder after {@link #TERMS} terms is below 1e-18. */
    private static final double SMALL = 0.5;

    private static final int TERMS = 15;

    private static final double[] INVERSE_FACTORIAL = inverseFactorials();

    static DemodulatedFlow of(double[][] a, double omega, double duration) {
        int n = a.length;
        ComplexMatrix z = new ComplexMatrix(n, n);
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                z.add(i, j, a[i][j] * duration, 0);
            }
            z.add(i, i, 0, -omega * duration);
        }
        double norm = z.norm();
        int doublings = doublings(norm);
        ComplexMatrix small = z.scaled(Math.scalb(1.0, -doublings));
        ComplexMatrix second = ComplexMatrix.identity(n).scaled(INVERSE_FACTORIAL[TERMS + 2]);
        for (int k = TERMS - 1; k >= 0; k--) {
            second = small.times(second).addToDiagonal(INVERSE_FACTORIAL[k + 2]);
        }
        ComplexMatrix first = small.times(second).addToDiagonal(1);
        ComplexMatrix exponential = small.times(first).addToDiagonal(1);
        for (int k = 0; k < doublings; k++) {
            second = exponential.times(second).plus(first).plus(second).scaled(0.25);
            first = exponential.times(first).plus(first).scaled(0.5);
            exponential = exponential.times(exponential);
        }
        return new DemodulatedFlow(exponential, first.scaled(duration), second.scaled(duration * duration));
    }

    /** exp(A h), row by row: the flow as it is, without a turn, by the same steps in real numbers. */
    static double[] exponential(double[][] a, double duration) {
        int n = a.length;
        double norm = 0;
        double[] small = new double[n * n];
        for (int i = 0; i < n; i++) {
            double row = 0;
            for (int j = 0; j < n; j++) {
                small[i * n + j] = a[i][j] * duration;
                row += Math.abs(small[i * n + j]);
            }
            norm = Math.max(norm, row);
        }
        int doublings = doublings(norm);
        for (int i = 0; i < n * n; i++) {
            small[i] *= Math.scalb(1.0, -doublings);
        }
        double[] sum = new double[n * n];
        for (int k = TERMS + 2; k >= 0; k--) {
            sum = Matrices.multiply(small, sum, n);
            for (int i = 0; i < n; i++) {
                sum[i * n + i] += INVERSE_FACTORIAL[k];
            }
        }
        for (int k = 0; k < doublings; k++) {
            sum = Matrices.multiply(sum, sum, n);
        }
        return sum;
    }

    private static int doublings(double norm) {
        return norm > SMALL ? Math.getExponent(norm / SMALL) + 1 : 0;
    }

    /** How many terms of the series of exp(A h) count, by the norm of A h. */
    static int termsFor(double norm) {
        int terms = 2;
        double term = norm;
        while (term > RoundOff.OF_A_SERIES) {
            term *= norm / terms;
            terms++;
        }
        return terms;
    }

    /** h (A h)^k / k! times a column, or a row times it, for so many k, one after the other. */
    static double[] terms(double[][] a, double duration, int count, double[] vector, boolean row) {
        int n = vector.length;
        double[] terms = new double[count * n];
        for (int i = 0; i < n && count > 0; i++) {
            terms[i] = duration * vector[i];
        }
        for (int k = 1; k < count; k++) {
            for (int i = 0; i < n; i++) {
                double sum = 0;
                for (int j = 0; j < n; j++) {
                    sum += (row ? a[j][i] : a[i][j]) * terms[(k - 1) * n + j];
                }
                terms[k * n + i] = duration / k * sum;
            }
        }
        return terms;
    }

    private static double[] inverseFactorials() {
        double[] inverse = new double[TERMS + 3];
        double factorial = 1;
        for (int k = 0; k < inverse.length; k++) {
            factorial *= Math.max(1, k);
            inverse[k] = 1 / factorial;
        }
        return inverse;
    }

    /** The integrals m_k of {@code x^k exp(-j angle x)} from 0 to 1, and the turn of the frame. */
    static final class Moments {
        /** The recursion begins at most so many powers higher: each step multiplies the error of its begin by the angle over the power. */
        private static final int POWERS_BEYOND = 32;

        final double[] re;
        final double[] im;
        double cos;
        double sin;
        /** One over each number. */
        private final double[] inverse;

        Moments(int most) {
            re = new double[most + POWERS_BEYOND + 1];
            im = new double[most + POWERS_BEYOND + 1];
            inverse = new double[most + POWERS_BEYOND + 1];
            for (int k = 1; k < inverse.length; k++) {
                inverse[k] = 1.0 / k;
            }
        }

        /**
         * Finds the turn, and the moments from 0 to the number of terms by parts, {@code m_(k-1) = (exp(-j angle) + j angle m_k) / k}:
         * begun so much higher that what is begun with does not matter.
         */
        void find(double angle, int terms) {
            cos = Math.cos(angle);
            sin = Math.sin(angle);
            if (terms == 0) {
                return;
            }
            int top = terms;
            double error = 1;
            while (error > RoundOff.OF_A_SERIES && top < inverse.length - 1) {
                top++;
                error *= angle * inverse[top];
            }
            double a = 0;
            double b = 0;
            for (int k = top; k > 0; k--) {
                double next = (cos - angle * b) * inverse[k];
                b = (angle * a - sin) * inverse[k];
                a = next;
                re[k - 1] = a;
                im[k - 1] = b;
            }
        }
    }
}
