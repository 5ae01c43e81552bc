package org.voltsecond.waveform;

/**
 * The integrals of {@code u^m exp(-j theta u)} from 0 to 1. They obey {@code M[m] = (j/theta) (exp(-j theta) - m M[m-1])}
 * (by parts), which is stable upwards while m is below theta and downwards above it (W. Gautschi, Computational Aspects of
 * Three-Term Recurrence Relations, SIAM Review 9, 1967, pp. 24-82, from memory, for the principle).
 */
final class Moments {
    /** Steps above the highest moment at which the downward recurrence starts; its error shrinks by theta/m a step. */
    private static final int RUN_UP = 40;

    private Moments() {}

    /** Real parts in row 0, imaginary parts in row 1. */
    static double[][] of(int degree, double theta) {
        double[][] moments = new double[2][degree + 1];
        double cos = Math.cos(theta);
        double sin = Math.sin(theta);
        int turn = (int) Math.min(degree, Math.floor(theta));
        if (theta >= 1) {
            upwards(moments, turn, theta, cos, sin);
        }
        downwards(moments, theta >= 1 ? turn + 1 : 0, degree, theta, cos, sin);
        return moments;
    }

    private static void upwards(double[][] moments, int last, double theta, double cos, double sin) {
        moments[0][0] = sin / theta;
        moments[1][0] = (cos - 1) / theta;
        for (int m = 1; m <= last; m++) {
            // (j/theta) (cos - j sin - m M)
            moments[0][m] = (sin + m * moments[1][m - 1]) / theta;
            moments[1][m] = (cos - m * moments[0][m - 1]) / theta;
        }
    }

    private static void downwards(double[][] moments, int first, int degree, double theta, double cos, double sin) {
        double re = 0;
        double im = 0;
        int top = degree + RUN_UP + (int) Math.min(theta, degree);
        for (int m = top; m > first; m--) {
            // M[m-1] = (j theta M[m] + exp(-j theta)) / m
            double next = (cos - theta * im) / m;
            im = (theta * re - sin) / m;
            re = next;
            if (m - 1 <= degree) {
                moments[0][m - 1] = re;
                moments[1][m - 1] = im;
            }
        }
    }
}
