package org.voltsecond.engine;

import java.util.Arrays;

/**
 * A polynomial over a span of time: {@code sum c_k u^k} with {@code u} from 0 at the start to 1 at the end. Immutable.
 *
 * <pre>{@code
 * Piece parabola = Piece.of(0, micro(2), new double[] {1, 0, 3}); // 1 + 3 u^2 while u goes from 0 to 1
 * double end = parabola.valueAt(1); // 4
 * double area = parabola.integral(); // 4 µs
 * }</pre>
 */
public final class Piece {
    private static final double NOT_SEEN = 1e-21;

    private final double start;
    private final double length;
    private final double[] coefficients;

    private Piece(double start, double length, double[] coefficients) {
        this.start = start;
        this.length = length;
        this.coefficients = coefficients;
    }

    /**
     * Returns a piece.
     *
     * @param start start of the span, s
     * @param length length of the span, s
     * @param coefficients at least one coefficient, lowest power first; copied
     * @return the piece
     */
    public static Piece of(double start, double length, double[] coefficients) {
        return new Piece(start, length, coefficients.clone());
    }

    static Piece ofUnsafe(double start, double length, double[] coefficients) {
        return new Piece(start, length, coefficients);
    }

    /**
     * Returns when the span begins.
     *
     * @return the time, s
     */
    public double start() {
        return start;
    }

    /**
     * Returns how long the span is.
     *
     * @return the length, s
     */
    public double length() {
        return length;
    }

    /**
     * Returns when the span ends.
     *
     * @return the time, s
     */
    public double end() {
        return start + length;
    }

    /**
     * Returns the degree of the polynomial.
     *
     * @return the number of coefficients less one
     */
    public int degree() {
        return coefficients.length - 1;
    }

    /**
     * Returns one coefficient.
     *
     * @param power the power of {@code u}
     * @return the coefficient
     */
    public double coefficient(int power) {
        return coefficients[power];
    }

    /**
     * Returns all coefficients.
     *
     * @return the coefficients, lowest power first, a new array
     */
    public double[] coefficients() {
        return coefficients.clone();
    }

    /**
     * Evaluates the polynomial.
     *
     * @param u fraction of the span, 0 to 1
     * @return the value
     */
    public double valueAt(double u) {
        double value = 0;
        for (int k = coefficients.length - 1; k >= 0; k--) {
            value = value * u + coefficients[k];
        }
        return value;
    }

    /**
     * Integrates over the span.
     *
     * @return the integral over time, in the unit of the value times seconds
     */
    public double integral() {
        double sum = 0;
        for (int k = coefficients.length - 1; k >= 0; k--) {
            sum += coefficients[k] / (k + 1);
        }
        return sum * length;
    }

    /**
     * Integrates the product of this piece and another over their common span without building it.
     *
     * @param other a piece over the same span
     * @return the integral over time
     */
    public double integralOfProduct(Piece other) {
        int count = countThatCounts();
        return integralOfProduct(count, other.againstPowers(count));
    }

    /**
     * Integrates the square of the distance to a level over the span.
     *
     * @param level the level, in the unit of the value
     * @return the integral over time, not negative but for rounding
     */
    public double integralOfSquare(double level) {
        double first = coefficients[0] - level;
        int highest = countThatCounts() - 1;
        double integral = 0;
        for (int m = 2 * highest; m > 0; m--) {
            // the coefficient of u^m: twice what two different ones make, and a square in the middle
            int low = Math.max(0, m - highest);
            double sum = low == 0 ? first * coefficients[m] : 0;
            for (int i = Math.max(1, low); 2 * i < m; i++) {
                sum += coefficients[i] * coefficients[m - i];
            }
            double middle = (m & 1) == 0 ? coefficients[m / 2] : 0;
            integral += (2 * sum + middle * middle) / (m + 1);
        }
        return (integral + first * first) * length;
    }

    /** The same, of as many powers as count here and a piece whose integrals against at least so many are known. */
    double integralOfProduct(int count, double[] againstPowers) {
        double sum = 0;
        for (int i = count - 1; i >= 0; i--) {
            sum += coefficients[i] * againstPowers[i];
        }
        return sum * length;
    }

    /** Integrals of this piece times each of the first powers of {@code u}, over {@code u} from 0 to 1. */
    double[] againstPowers(int count) {
        double[] integrals = new double[count];
        for (int j = countThatCounts() - 1; j >= 0; j--) {
            for (int i = 0; i < count; i++) {
                integrals[i] += coefficients[j] / (i + j + 1.0);
            }
        }
        return integrals;
    }

    /**
     * How many powers there are up to the last whose coefficient can be seen beside the largest one. Where a fast part of the
     * flow has died out only few of the powers are left, and there are products of very many such pieces.
     */
    int countThatCounts() {
        double largest = 0;
        for (double coefficient : coefficients) {
            largest = Math.max(largest, Math.abs(coefficient));
        }
        int count = coefficients.length;
        while (count > 1 && Math.abs(coefficients[count - 1]) < NOT_SEEN * largest) {
            count--;
        }
        return count;
    }

    /**
     * Multiplies two pieces over the same span.
     *
     * @param other a piece over the same span
     * @return the product
     */
    public Piece times(Piece other) {
        double[] product = new double[coefficients.length + other.coefficients.length - 1];
        for (int i = 0; i < coefficients.length; i++) {
            for (int j = 0; j < other.coefficients.length; j++) {
                product[i + j] += coefficients[i] * other.coefficients[j];
            }
        }
        return new Piece(start, length, product);
    }

    /**
     * Returns the sum of this piece and {@code factor} times another over the same span.
     *
     * @param factor multiplies the other piece
     * @param other a piece over the same span
     * @return the sum
     */
    public Piece plus(double factor, Piece other) {
        double[] sum = Arrays.copyOf(coefficients, Math.max(coefficients.length, other.coefficients.length));
        for (int k = 0; k < other.coefficients.length; k++) {
            sum[k] += factor * other.coefficients[k];
        }
        return new Piece(start, length, sum);
    }

    /**
     * Returns the derivative with respect to time.
     *
     * @return the derivative, in the unit of the value per second
     */
    public Piece derivative() {
        if (coefficients.length == 1) {
            return new Piece(start, length, new double[1]);
        }
        double[] derivative = new double[coefficients.length - 1];
        for (int k = 1; k < coefficients.length; k++) {
            derivative[k - 1] = k * coefficients[k] / length;
        }
        return new Piece(start, length, derivative);
    }

    /**
     * Returns the part of this piece between two fractions of its span.
     *
     * @param from fraction at which the part begins, 0 to 1
     * @param to fraction at which it ends, at least {@code from}, at most 1
     * @return the part
     */
    public Piece part(double from, double to) {
        double[] shifted = coefficients.clone();
        int degree = shifted.length - 1;
        for (int i = 0; i < degree; i++) {
            for (int k = degree - 1; k >= i; k--) {
                shifted[k] += from * shifted[k + 1];
            }
        }
        double power = 1;
        for (int k = 0; k <= degree; k++) {
            shifted[k] *= power;
            power *= to - from;
        }
        return new Piece(start + from * length, (to - from) * length, shifted);
    }

    @Override
    public String toString() {
        return "coefficients " + Arrays.toString(coefficients) + " from " + start + " s for " + length + " s";
    }
}
