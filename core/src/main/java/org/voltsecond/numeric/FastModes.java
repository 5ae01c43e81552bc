package org.voltsecond.numeric;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The fast modes of {@code dx/dt = A x + b}, split off from what is slow beside them, so that one can tell how far a form of the
 * state is from zero over many of their turns without following any. Immutable and safe to use from any thread. A named numeric
 * kernel.
 *
 * <p>A fast mode has an eigenvalue l, its real part at most zero, and vectors w (left) and v (right). None of them need be exact: with the
 * residual {@code r = w A - l w}, the share {@code p = w x + w b / l} obeys {@code p' = l p + r x}, so that
 * {@code |p(t)| <= |p(0)| + t |r| X}, X a bound of the largest state meanwhile. With {@code P = 1 - sum v w} and B = P A, the rest
 * {@code y = P x} obeys {@code y' = B y + sum (B v) w x + P b}, where B is slow and B v nearly zero; for {@code |B| t <= 1} then
 * {@code |y(t)| <= 3 (|y(0)| + t (|P b| + sum |B v| |w x|))}, and x = y + sum v w x gives X. A form c x is {@code c P x}, whose second
 * derivative is {@code c B A x + c B b}, and {@code sum (c v) w x}: so it is above the chord of {@code c P x} less t^2 / 8 of that
 * derivative's bound, less the size of each (c v) p. Each norm has what its rounding may be on top.
 *
 * <pre>{@code
 * double[][] rates = {{0, -100, 0}, {100, 0, 0}, {0, 0, -1}}; // x' = -100 y, y' = 100 x, z' = -z
 * FastModes modes = Objects.requireNonNull(FastModes.of(rates, new double[3]));
 * FastModes.Form level = modes.form(new double[] {1, 0, 1}, 0); // x + z, of which x swings
 * double[] shares = new double[modes.count()];
 * modes.shares(new double[] {0.5, 0, 2}, shares);
 * double swing = level.swing(shares); // 0.5
 * }</pre>
 */
public final class FastModes {
    /** Fast ones are at least so many times as fast as all others; a choice. */
    private static final double GAP = 16;

    /** Below this part of the fastest all is slow alike. */
    private static final double STILL = 1e-5;

    /** What each product of a sum may add to its error: some units in the last place. */
    private static final double ROUNDING = 0x1p-50;

    private final int n;
    private final int count;
    private final double[][] matrix;
    private final double[] constants;
    private final Complex[][] left;
    private final Complex[][] right;
    /** Of a pair of modes one stands for both. */
    private final double[] weights;
    /** Where each share w x rests: - w b / l. */
    private final Complex[] rest;

    private final double[] leftSizes;
    private final double[] rightSizes;
    private final double[] residuals;
    private final double[] leaks;
    private final double[][] projector;
    private final double[][] slow;
    private final double slowNorm;
    private final double drive;
    /** The norm of A, and that of P with what it is made of. */
    private final double norm;

    private final double spread;

    private FastModes(double[][] matrix, double[] constants, List<Complex> fast) {
        n = constants.length;
        this.matrix = matrix;
        this.constants = constants;
        count = fast.size();
        left = new Complex[count][n];
        right = new Complex[count][];
        weights = new double[count];
        rest = new Complex[count];
        leftSizes = new double[count];
        rightSizes = new double[count];
        residuals = new double[count];
        leaks = new double[count];
        norm = norm(matrix);
        projector = new double[n][n];
        for (int i = 0; i < n; i++) {
            projector[i][i] = 1;
        }
        double sum = 1;
        for (int k = 0; k < count; k++) {
            find(k, fast.get(k));
            sum += weights[k] * leftSizes[k] * rightSizes[k];
        }
        spread = sum;
        slow = Dense.multiply(projector, matrix, n);
        double unsure = n * ROUNDING * spread * norm;
        slowNorm = norm(slow) + unsure;
        double driven = 0;
        for (int i = 0; i < n; i++) {
            driven = Math.max(driven, Math.abs(Dense.dot(projector[i], constants)));
        }
        drive = driven + n * ROUNDING * spread * Dense.largest(constants);
        for (int k = 0; k < count; k++) {
            for (double[] row : slow) {
                leaks[k] = Math.max(leaks[k], times(row, right[k]).magnitude());
            }
            leaks[k] += unsure * rightSizes[k];
        }
    }

    private void find(int k, Complex eigenvalue) {
        Eigenvectors vectors = Eigenvectors.of(matrix, eigenvalue);
        Complex l = new Complex(Math.min(0, eigenvalue.real()), eigenvalue.imaginary());
        right[k] = vectors.right();
        for (int j = 0; j < n; j++) {
            double[] unit = new double[n];
            unit[j] = 1;
            left[k][j] = vectors.share(unit);
            leftSizes[k] += left[k][j].magnitude();
            rightSizes[k] = Math.max(rightSizes[k], right[k][j].magnitude());
        }
        weights[k] = l.imaginary() == 0 ? 1 : 2;
        rest[k] = times(constants, left[k]).divide(l).negate();
        double[][] columns = Dense.transpose(matrix, n);
        for (int j = 0; j < n; j++) {
            Complex residual = times(columns[j], left[k]).subtract(l.multiply(left[k][j]));
            residuals[k] += residual.magnitude();
        }
        // the rows of the matrix added up are at most n times its norm
        residuals[k] += n * ROUNDING * leftSizes[k] * (n * norm + l.magnitude());
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                projector[i][j] -= weights[k] * right[k][i].multiply(left[k][j]).real();
            }
        }
    }

    private static Complex times(double[] row, Complex[] column) {
        double real = 0;
        double imaginary = 0;
        for (int j = 0; j < row.length; j++) {
            real += row[j] * column[j].real();
            imaginary += row[j] * column[j].imaginary();
        }
        return new Complex(real, imaginary);
    }

    private static double norm(double[][] matrix) {
        double norm = 0;
        for (double[] row : matrix) {
            norm = Math.max(norm, Matrices.size(row));
        }
        return norm;
    }

    /**
     * Looks for fast modes.
     *
     * @param matrix A, square, of finite numbers
     * @param constants b, as many
     * @return the modes; null where none is much faster than the rest, or they do not die out
     */
    public static @Nullable FastModes of(double[][] matrix, double[] constants) {
        List<Complex> all = Eigenvalues.of(matrix);
        double still = STILL * norm(matrix);
        int fast = 0;
        double widest = GAP;
        for (int k = 1; k < all.size(); k++) {
            double gap = all.get(k - 1).magnitude() / Math.max(still, all.get(k).magnitude());
            if (gap > widest) {
                widest = gap;
                fast = k;
            }
        }
        List<Complex> chosen = all.subList(0, fast);
        if (chosen.isEmpty() || chosen.stream().anyMatch(l -> l.real() > all.size() * ROUNDING * l.magnitude())) {
            return null;
        }
        return new FastModes(
                matrix,
                constants,
                chosen.stream().filter(l -> l.imaginary() >= 0).toList());
    }

    /** {@return how many there are; of a pair one counts} */
    public int count() {
        return count;
    }

    /**
     * Writes how large each mode is.
     *
     * @param state x
     * @param into an upper bound of the magnitude of each share p
     */
    public void shares(double[] state, double[] into) {
        double size = Matrices.size(state);
        for (int k = 0; k < count; k++) {
            double real = -rest[k].real();
            double imaginary = -rest[k].imaginary();
            for (int j = 0; j < n; j++) {
                real += left[k][j].real() * state[j];
                imaginary += left[k][j].imaginary() * state[j];
            }
            double rounding = n * ROUNDING * (leftSizes[k] * size + rest[k].magnitude());
            into[k] = Math.sqrt(real * real + imaginary * imaginary) + rounding;
        }
    }

    /**
     * Bounds the largest state over a span.
     *
     * @param state x at its start
     * @param shares those of this state
     * @param span the time
     * @return the bound; infinite where the span is too long for one
     */
    public double largest(double[] state, double[] shares, double span) {
        double fast = 0;
        double leak = 0;
        double growth = n * ROUNDING * spread * 8;
        for (int k = 0; k < count; k++) {
            double size = shares[k] + rest[k].magnitude();
            fast += weights[k] * rightSizes[k] * size;
            leak += weights[k] * leaks[k] * size;
            growth += weights[k] * span * residuals[k] * (rightSizes[k] + 3 * span * leaks[k]);
        }
        if (!(slowNorm * span <= 1 && growth <= 0.5)) {
            return Double.POSITIVE_INFINITY;
        }
        return 2 * (3 * (Matrices.size(state) + fast + span * (drive + leak)) + fast);
    }

    /**
     * Makes a form ready to be looked at.
     *
     * @param factors of the states
     * @param constant added to that
     * @return the form
     */
    public Form form(double[] factors, double constant) {
        double size = Matrices.size(factors);
        double[] row = new double[n];
        Dense.addMultiple(row, factors, projector);
        double[] swings = new double[count];
        double level = constant;
        double growth = 0;
        for (int k = 0; k < count; k++) {
            Complex factor = times(factors, right[k]).multiply(weights[k]);
            level += factor.multiply(rest[k]).real();
            swings[k] = factor.magnitude() + n * ROUNDING * size * rightSizes[k];
            growth += swings[k] * residuals[k];
        }
        double[] rate = new double[n];
        Dense.addMultiple(rate, factors, slow);
        double[] curvature = new double[n];
        Dense.addMultiple(curvature, rate, matrix);
        double unsure = n * ROUNDING * size * spread * norm;
        return new Form(
                row,
                level,
                swings,
                growth,
                Matrices.size(curvature) + 2 * n * unsure * norm,
                Math.abs(Dense.dot(rate, constants)) + unsure * Matrices.size(constants),
                n * ROUNDING * size * spread);
    }

    /** A form, split into what is slow and what swings. Immutable. */
    public static final class Form {
        private final double[] row;
        private final double level;
        private final double[] swings;
        private final double growth;
        private final double curvature;
        private final double driven;
        private final double rounding;

        private Form(
                double[] row,
                double level,
                double[] swings,
                double growth,
                double curvature,
                double driven,
                double rounding) {
            this.row = row;
            this.level = level;
            this.swings = swings;
            this.growth = growth;
            this.curvature = curvature;
            this.driven = driven;
            this.rounding = rounding;
        }

        /**
         * Returns the slow part.
         *
         * @param state x
         * @return its value there
         */
        public double slow(double[] state) {
            double value = level;
            for (int j = 0; j < row.length; j++) {
                value += row[j] * state[j];
            }
            return value;
        }

        /**
         * Bounds what the fast modes make of the form.
         *
         * @param shares of the state, {@link FastModes#shares}
         * @return the bound, from that state on but for what {@link #departure} has
         */
        public double swing(double[] shares) {
            double sum = 0;
            for (int k = 0; k < swings.length; k++) {
                sum += swings[k] * shares[k];
            }
            return sum;
        }

        /**
         * Bounds how far the form may be beyond the chord of its slow part and what swings.
         *
         * @param largest bound of the states over the span, {@link FastModes#largest}
         * @param span the time
         * @return the bound
         */
        public double departure(double largest, double span) {
            return span * span / 8 * (curvature * largest + driven) + (span * growth + rounding) * largest;
        }
    }

    @Override
    public String toString() {
        return count + " fast modes of " + n + " states";
    }
}
