package org.voltsecond.numeric;

import java.util.Arrays;

/**
 * Taylor polynomials of {@code x' = A x + b} over a time that goes from 0 to 1, with as many further rows as there are numbers that
 * follow from x but move nothing, such as integrals. A is given row by row, each with its entry of b in the place after those of x.
 * A named numeric kernel.
 *
 * <pre>{@code
 * double[] rates = {-1, 0, 1, 0}; // x' = -x, and y' = x for its integral: y comes after x, and so does b
 * double[] curve = new double[2 * 21];
 * AffineTaylor.expand(rates, new double[] {1, 0}, 1, 20, curve);
 * double half = curve[2 * 2]; // 0.5, of t^2
 * }</pre>
 */
public final class AffineTaylor {
    private AffineTaylor() {}

    /**
     * Returns the largest sum of magnitudes in a row of A.
     *
     * @param rates as of {@link #expand}
     * @param rows entries of the state
     * @return the norm that belongs to the largest magnitude of a state
     */
    public static double norm(double[] rates, int rows) {
        double largest = 0;
        for (int i = 0; i < rows - 1; i++) {
            double sum = 0;
            for (int j = 0; j < rows - 1; j++) {
                sum += Math.abs(rates[i * rows + j]);
            }
            largest = Math.max(largest, sum);
        }
        return largest;
    }

    /**
     * Returns where a state comes to rest that no other moves, whichever of some systems holds.
     *
     * @param systems the rates of each, as of {@link #expand}
     * @param rows entries of the state
     * @param state which of them
     * @return its value; not a number if others move it, or it rests elsewhere in another system
     */
    public static double rest(double[][] systems, int rows, int state) {
        double value = Double.NaN;
        for (int at = 0; at < systems.length; at++) {
            double[] a = systems[at];
            for (int j = 0; j < rows - 1; j++) {
                if (j != state && a[state * rows + j] != 0) {
                    return Double.NaN;
                }
            }
            double own = a[state * rows + state];
            double rest = own < 0 ? -a[state * rows + rows - 1] / own : Double.NaN;
            if (at > 0 && !(Math.abs(rest - value) <= RoundOff.OF_A_SUM * Math.abs(value))) {
                return Double.NaN;
            }
            value = at == 0 ? rest : value;
        }
        return value;
    }

    /**
     * Returns the degree at which the remainder is below round-off.
     *
     * @param size norm of A times the duration
     * @param most at most
     * @return the degree, 3 or more
     */
    public static int degree(double size, int most) {
        double term = 1;
        int k = 0;
        while (k < most && (k < 3 || term > RoundOff.OF_A_SERIES)) {
            k++;
            term *= size / k;
        }
        return k;
    }

    /**
     * Works out the coefficients.
     *
     * @param rates the rows of A and b, one for each entry of the state
     * @param state at the start; the last entry is the number that moves nothing
     * @param length duration, s
     * @param degree of the polynomials
     * @param into takes the coefficients, those of one power side by side
     */
    public static void expand(double[] rates, double[] state, double length, int degree, double[] into) {
        int rows = state.length;
        int n = rows - 1;
        System.arraycopy(state, 0, into, 0, rows);
        for (int k = 1; k <= degree; k++) {
            double factor = length / k;
            int from = (k - 1) * rows;
            for (int i = 0; i < rows; i++) {
                double sum = k == 1 ? rates[i * rows + n] : 0;
                for (int j = 0; j < n; j++) {
                    sum += rates[i * rows + j] * into[from + j];
                }
                into[from + rows + i] = factor * sum;
            }
        }
    }

    /**
     * Has polynomials end where they are a part of the way.
     *
     * @param curves coefficients as of {@link #expand}, overwritten
     * @param rows entries of the state
     * @param degree of the polynomials
     * @param part of the duration that is kept
     */
    public static void shorten(double[] curves, int rows, int degree, double part) {
        double power = part;
        for (int k = 1; k <= degree && part != 1; k++) {
            for (int i = 0; i < rows; i++) {
                curves[k * rows + i] *= power;
            }
            power *= part;
        }
    }

    /**
     * Carries a derivative of the state from the start to the end.
     *
     * @param rates as of {@link #expand}
     * @param derivative of each entry of the state, overwritten
     * @param length duration, s
     * @param degree of the polynomials
     * @param part of the duration after which the end is
     * @param work twice as long as the state, overwritten
     */
    public static void carry(
            double[] rates, double[] derivative, double length, int degree, double part, double[] work) {
        int rows = derivative.length;
        int n = rows - 1;
        Arrays.fill(work, 0);
        System.arraycopy(derivative, 0, work, 0, rows);
        int from = 0;
        double power = part;
        for (int k = 1; k <= degree; k++) {
            double factor = length / k;
            int to = rows - from;
            for (int i = 0; i < rows; i++) {
                double sum = 0;
                for (int j = 0; j < n; j++) {
                    sum += rates[i * rows + j] * work[from + j];
                }
                double term = factor * sum;
                work[to + i] = term;
                derivative[i] += power * term;
            }
            from = to;
            power *= part;
        }
    }
}
