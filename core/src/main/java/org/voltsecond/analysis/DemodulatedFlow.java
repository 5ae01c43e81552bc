package org.voltsecond.analysis;

import org.voltsecond.numeric.ComplexMatrix;

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
        int doublings = norm > SMALL ? Math.getExponent(norm / SMALL) + 1 : 0;
        ComplexMatrix small = z.scaled(Math.scalb(1.0, -doublings));
        ComplexMatrix second = ComplexMatrix.identity(n).scaled(inverseFactorial(TERMS + 2));
        for (int k = TERMS - 1; k >= 0; k--) {
            second = small.times(second).addToDiagonal(inverseFactorial(k + 2));
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

    private static double inverseFactorial(int k) {
        double factorial = 1;
        for (int i = 2; i <= k; i++) {
            factorial *= i;
        }
        return 1 / factorial;
    }
}
