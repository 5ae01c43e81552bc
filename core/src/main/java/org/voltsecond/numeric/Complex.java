package org.voltsecond.numeric;

/**
 * A complex number. Immutable; the same bits on every Java machine.
 *
 * <pre>{@code
 * Complex pole = new Complex(1, 1); // 1 + j
 * Complex gain = Complex.of(2).divide(pole); // 1 - j
 * double lag = Math.toDegrees(gain.argument()); // -45 degrees
 * }</pre>
 *
 * @param real real part
 * @param imaginary imaginary part
 */
public record Complex(double real, double imaginary) {
    /** Zero. */
    public static final Complex ZERO = new Complex(0, 0);

    /** One. */
    public static final Complex ONE = new Complex(1, 0);

    /** The imaginary unit. */
    public static final Complex I = new Complex(0, 1);

    /**
     * Returns a real number.
     *
     * @param real its value
     * @return the number, without imaginary part
     */
    public static Complex of(double real) {
        return new Complex(real, 0);
    }

    /**
     * Returns a number given by magnitude and angle.
     *
     * @param magnitude its magnitude
     * @param argument its angle, rad
     * @return the number
     */
    public static Complex polar(double magnitude, double argument) {
        return new Complex(magnitude * StrictMath.cos(argument), magnitude * StrictMath.sin(argument));
    }

    /**
     * Returns the magnitude.
     *
     * @return the distance from zero; without overflow on the way
     */
    public double magnitude() {
        return StrictMath.hypot(real, imaginary);
    }

    /**
     * Returns the angle.
     *
     * @return from -pi to pi, rad
     */
    public double argument() {
        return StrictMath.atan2(imaginary, real);
    }

    /**
     * Returns a sum.
     *
     * @param other what is added
     * @return this plus the other
     */
    public Complex add(Complex other) {
        return new Complex(real + other.real, imaginary + other.imaginary);
    }

    /**
     * Returns a sum.
     *
     * @param other a real number that is added
     * @return this plus the other
     */
    public Complex add(double other) {
        return new Complex(real + other, imaginary);
    }

    /**
     * Returns a difference.
     *
     * @param other what is subtracted
     * @return this minus the other
     */
    public Complex subtract(Complex other) {
        return new Complex(real - other.real, imaginary - other.imaginary);
    }

    /**
     * Returns a difference.
     *
     * @param other a real number that is subtracted
     * @return this minus the other
     */
    public Complex subtract(double other) {
        return new Complex(real - other, imaginary);
    }

    /**
     * Returns a product.
     *
     * @param other the other factor
     * @return this times the other
     */
    public Complex multiply(Complex other) {
        return new Complex(
                real * other.real - imaginary * other.imaginary, real * other.imaginary + imaginary * other.real);
    }

    /**
     * Returns a product.
     *
     * @param factor a real factor
     * @return this times the factor
     */
    public Complex multiply(double factor) {
        return new Complex(real * factor, imaginary * factor);
    }

    /**
     * Returns a quotient. The larger part of the divisor is divided out first, so that its square cannot overflow (R. L.
     * Smith, Algorithm 116: Complex division, Comm. ACM 5(8):435, 1962).
     *
     * @param divisor what is divided by
     * @return this over the divisor; not finite where that is zero
     */
    public Complex divide(Complex divisor) {
        double a = divisor.real;
        double b = divisor.imaginary;
        if (Math.abs(a) >= Math.abs(b)) {
            double ratio = b / a;
            double size = a + b * ratio;
            return a == 0
                    ? new Complex(real / a, imaginary / a)
                    : new Complex((real + imaginary * ratio) / size, (imaginary - real * ratio) / size);
        }
        double ratio = a / b;
        double size = a * ratio + b;
        return new Complex((real * ratio + imaginary) / size, (imaginary * ratio - real) / size);
    }

    /**
     * Returns a quotient.
     *
     * @param divisor a real number that is divided by
     * @return this over the divisor
     */
    public Complex divide(double divisor) {
        return new Complex(real / divisor, imaginary / divisor);
    }

    /**
     * Returns the reciprocal.
     *
     * @return one over this; not finite where this is zero
     */
    public Complex reciprocal() {
        return ONE.divide(this);
    }

    /**
     * Returns the opposite.
     *
     * @return minus this
     */
    public Complex negate() {
        return new Complex(-real, -imaginary);
    }

    /**
     * Returns the conjugate.
     *
     * @return this with the imaginary part of the other sign
     */
    public Complex conjugate() {
        return new Complex(real, -imaginary);
    }

    /**
     * Returns the exponential.
     *
     * @return e to the power of this
     */
    public Complex exp() {
        return polar(StrictMath.exp(real), imaginary);
    }

    /**
     * Tells whether both parts are numbers.
     *
     * @return false if one is infinite or not a number
     */
    public boolean isFinite() {
        return Double.isFinite(real) && Double.isFinite(imaginary);
    }
}
