package org.voltsecond.engine;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;
import org.voltsecond.numeric.RoundOff;

/**
 * The exact flow of one configuration in scaled coordinates, as a Taylor polynomial in {@code u = t / base}: coefficient
 * {@code k} of the state is {@code (A base)^k / k! z + (A base)^(k-1) base / k! b}. The degree is the lowest at which
 * the remainder is below round-off; {@code base} is as long as the norm of A allows. A named numeric kernel.
 */
final class Flow {
    /** Largest norm of A times base: beyond it the terms would grow before they shrink and cost digits. */
    private static final double LARGEST_STEP = 3.0;

    /** A coefficient that is a smaller part of the largest is far below round-off. */
    static final double NOT_SEEN = 0x1p-60;

    /** How many units in the last place of its terms a guard may be away from zero and still count as zero. */
    static final double TOLERANCE = RoundOff.OF_A_SUM;

    final int n;
    final int degree;
    final double base;
    /** How many bases a clock period has, at least 1. */
    final double basesInPeriod;

    /** An interval this long, s, is gone in one leg; a longer one is walked, where the fast part of the flow may die out. */
    final double farthest;

    final double norm;
    final Scaling scaling;
    /** Scaled dynamics, rows of n + 1: the matrix and the constant. */
    final double[] dynamics;
    /** Coefficient k of state i is {@code rows[(k * n + i) * (n + 1) + j]} times state j, plus entry j = n. */
    final double[] rows;

    final GuardRows[] guards;
    final GuardRows[] constraints;
    /** The transition over one base, made on first use: short intervals never need it. Two threads at once make the same. */
    private volatile @Nullable Leg baseLeg;

    private final Ladder ladder;
    /** The leg that some run took last: the next run of the same system mostly takes the same one. */
    private volatile @Nullable Leg lastLeg;
    /** Each state, the constant 1 and the time since the clock edge as forms; made on first use. */
    private volatile AffineForm @Nullable [] units;

    private Flow(Configuration configuration, Scaling scaling, double clockPeriod) {
        this.scaling = scaling;
        n = scaling.dimension();
        dynamics = scaledDynamics(configuration);
        norm = norm();
        if (!(norm < Double.POSITIVE_INFINITY) || !(clockPeriod > 0) || Double.isInfinite(clockPeriod)) {
            throw new IllegalArgumentException("configuration " + configuration.name()
                    + ": the dynamics must be finite and the clock period positive and finite, but the norm of the matrix is "
                    + norm
                    + " 1/s and the period " + clockPeriod + " s");
        }
        base = norm * clockPeriod <= LARGEST_STEP ? clockPeriod : LARGEST_STEP / norm;
        basesInPeriod = clockPeriod / base;
        farthest = Walk.SHORT * base;
        rows = taylorRows(base);
        degree = degreeFor(norm * base);
        guards = guardRows(configuration.guards().stream().map(Guard::form).toList());
        for (int g = 0; g < guards.length; g++) {
            guards[g].beginsAtZero = configuration.guards().get(g).beginsAtZero();
        }
        constraints = guardRows(configuration.constraints());
        ladder = new Ladder(this);
    }

    static Flow of(Configuration configuration, Scaling scaling, double clockPeriod) {
        return new Flow(configuration, scaling, clockPeriod);
    }

    /** The transition over one base. */
    Leg baseLeg() {
        Leg known = baseLeg;
        if (known == null) {
            known = Leg.of(this, base);
            baseLeg = known;
        }
        return known;
    }

    /** The leg of a duration, which depends on nothing else. */
    Leg leg(double duration) {
        Leg known = lastLeg;
        if (known == null || known.duration != duration) {
            known = Leg.of(this, duration);
            lastLeg = known;
        }
        return known;
    }

    /** The transitions over spans longer than one base. */
    Ladder ladder() {
        return ladder;
    }

    /** A state, the constant 1 (at n) or the time since the clock edge (at n + 1) as a form. */
    AffineForm unit(int index) {
        AffineForm[] known = units;
        if (known == null) {
            known = new AffineForm[n + 2];
            for (int i = 0; i < n + 2; i++) {
                double[] state = new double[n];
                if (i < n) {
                    state[i] = 1;
                }
                known[i] = AffineForm.of(state, i == n ? 1 : 0, i == n + 1 ? 1 : 0);
            }
            units = known;
        }
        return known[index];
    }

    private double[] scaledDynamics(Configuration configuration) {
        double[] scaled = new double[n * (n + 1)];
        for (int i = 0; i < n; i++) {
            double factor = scaling.factor(i);
            for (int j = 0; j < n; j++) {
                scaled[i * (n + 1) + j] = factor * configuration.a(i, j) / scaling.factor(j);
            }
            scaled[i * (n + 1) + n] = factor * configuration.b(i);
        }
        return scaled;
    }

    private double norm() {
        double[] a = new double[n * n];
        for (int i = 0; i < n; i++) {
            System.arraycopy(dynamics, i * (n + 1), a, i * n, n);
        }
        for (int i = 0; i < n; i++) {
            if (!Double.isFinite(dynamics[i * (n + 1) + n])) {
                return Double.NaN;
            }
        }
        return Matrices.norm(a, n);
    }

    /** The Taylor coefficients for a step, up to the last that matters. */
    double[] taylorRows(double step) {
        int last = degreeFor(norm * step);
        int size = n * (n + 1);
        double[] taylor = new double[(last + 1) * size];
        for (int i = 0; i < n; i++) {
            taylor[i * (n + 1) + i] = 1;
        }
        for (int k = 1; k <= last; k++) {
            for (int i = 0; i < n; i++) {
                int at = k * size + i * (n + 1);
                taylor[at + n] = k == 1 ? dynamics[i * (n + 1) + n] : 0;
                addNextTerm(taylor, (k - 1) * size, i, at);
                for (int j = 0; j <= n; j++) {
                    taylor[at + j] *= step / k;
                }
            }
        }
        return taylor;
    }

    /** Row by row, and without the many zeros of a circuit's dynamics: the sums are the same to the bit. */
    private void addNextTerm(double[] taylor, int previous, int i, int at) {
        for (int m = 0; m < n; m++) {
            double factor = dynamics[i * (n + 1) + m];
            if (factor != 0) {
                int row = previous + m * (n + 1);
                for (int j = 0; j <= n; j++) {
                    taylor[at + j] += factor * taylor[row + j];
                }
            }
        }
    }

    /**
     * Writes the change of the state over any duration: that over whole levels of the ladder after that over the rest.
     *
     * @param scratch as large as the result
     */
    void changeOver(double duration, double[] into, double[] scratch) {
        double bases = duration / base;
        double whole = bases > 1 ? Math.floor(bases) : 0;
        changeOver(bases - whole, into);
        while (whole > 0) {
            int level = Math.min(Ladder.HIGHEST, Math.getExponent(whole));
            after(ladder.change(level), into, n, scratch);
            System.arraycopy(scratch, 0, into, 0, into.length);
            whole -= Math.scalb(1.0, level);
        }
    }

    /** Writes the change over a part of the base, from the highest power down. */
    void changeOver(double u, double[] into) {
        int size = n * (n + 1);
        java.util.Arrays.fill(into, 0);
        for (int at = degree * size; size > 0 && at >= size; at -= size) {
            for (int j = 0; j < size; j++) {
                into[j] = (into[j] + rows[at + j]) * u;
            }
        }
    }

    /** Writes the change by one map after that by another: E + F + E F; into neither of them. */
    static void after(double[] e, double[] before, int n, double[] into) {
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= n; j++) {
                double sum = e[i * (n + 1) + j] + before[i * (n + 1) + j];
                for (int k = 0; k < n; k++) {
                    sum += e[i * (n + 1) + k] * before[k * (n + 1) + j];
                }
                into[i * (n + 1) + j] = sum;
            }
        }
    }

    private static int degreeFor(double size) {
        int degree = 1;
        double term = size;
        while (term > RoundOff.OF_A_SERIES) {
            degree++;
            term *= size / degree;
        }
        return degree;
    }

    private GuardRows[] guardRows(List<AffineForm> forms) {
        GuardRows[] result = new GuardRows[forms.size()];
        for (int g = 0; g < result.length; g++) {
            result[g] = GuardRows.of(this, forms.get(g));
        }
        return result;
    }

    /** Writes the state at fraction {@code u} of the base. */
    void stateAt(double[] z, double u, double[] into) {
        if (n == 2) {
            stateAt2(z[0], z[1], u, into);
            return;
        }
        changeAt(z, u, into);
        for (int i = 0; i < n; i++) {
            into[i] += z[i];
        }
    }

    /** Writes the change of the state up to fraction {@code u} of the base. */
    void changeAt(double[] z, double u, double[] into) {
        changeAt(z, u, degree, into);
    }

    /** The same up to a fraction so small that no more powers than some can be seen. */
    void changeAt(double[] z, double u, int powers, double[] into) {
        int size = n * (n + 1);
        for (int i = 0; i < n; i++) {
            double value = 0;
            for (int k = powers; k > 0; k--) {
                value = (value + term(k * size + i * (n + 1), z)) * u;
            }
            into[i] = value;
        }
    }

    private void stateAt2(double z0, double z1, double u, double[] into) {
        double[] r = rows;
        double first = 0;
        double second = 0;
        for (int at = 6 * degree; at > 0; at -= 6) {
            first = (first + (r[at] * z0 + r[at + 1] * z1 + r[at + 2])) * u;
            second = (second + (r[at + 3] * z0 + r[at + 4] * z1 + r[at + 5])) * u;
        }
        into[0] = z0 + first;
        into[1] = z1 + second;
    }

    private double term(int at, double[] z) {
        return rows[at + n] + Matrices.dot(rows, at, z, 0, n);
    }

    /** A form along a flow of two states from a state, over a duration of at most one base. */
    Piece planarPiece(double[] z, AffineForm form, double start, double sinceTick, double duration) {
        return timed(planar(z, form, duration), form, start, sinceTick, duration);
    }

    /** The same of any flow, from the terms of the {@link #series} of the state. */
    Piece pieceOf(double[] series, AffineForm form, double start, double sinceTick, double duration) {
        return timed(ofSeries(series, form), form, start, sinceTick, duration);
    }

    private static Piece timed(
            double[] coefficients, AffineForm form, double start, double sinceTick, double duration) {
        coefficients[0] += form.constant() + form.slope() * sinceTick;
        coefficients[1] += form.slope() * duration;
        double largest = 0;
        for (double coefficient : coefficients) {
            double size = Math.abs(coefficient);
            largest = size > largest ? size : largest;
        }
        return Piece.ofUnsafe(start, duration, trim(coefficients, largest));
    }

    private double[] ofSeries(double[] series, AffineForm form) {
        double[] factors = new double[n];
        for (int i = 0; i < n; i++) {
            factors[i] = form.coefficient(i) / scaling.factor(i);
        }
        double[] coefficients = new double[degree + 1];
        int at = 0;
        for (int k = 0; k < coefficients.length; k++) {
            double sum = 0;
            for (double factor : factors) {
                sum += factor * series[at++];
            }
            coefficients[k] = sum;
        }
        return coefficients;
    }

    /** The terms of the Taylor polynomial of the scaled state from a state on, for a variable that goes from 0 to 1 over the duration. */
    double[] series(double[] z, double duration) {
        double[] series = new double[(degree + 1) * n];
        System.arraycopy(z, 0, series, 0, n);
        for (int k = 0; k < degree; k++) {
            for (int i = 0; i < n; i++) {
                double sum = k == 0 ? dynamics[i * (n + 1) + n] : 0;
                for (int j = 0; j < n; j++) {
                    sum += dynamics[i * (n + 1) + j] * series[k * n + j];
                }
                series[(k + 1) * n + i] = duration / (k + 1) * sum;
            }
        }
        return series;
    }

    /** The series of a form for two states, with everything at hand. */
    private double[] planar(double[] z, AffineForm form, double duration) {
        double[] d = dynamics;
        double d00 = d[0];
        double d01 = d[1];
        double d10 = d[3];
        double d11 = d[4];
        double factor0 = form.coefficient(0) / scaling.factor(0);
        double factor1 = form.coefficient(1) / scaling.factor(1);
        double[] coefficients = new double[degree + 1];
        double term0 = z[0];
        double term1 = z[1];
        double constant0 = d[2];
        double constant1 = d[5];
        for (int k = 0; k <= degree; k++) {
            coefficients[k] = 0 + factor0 * term0 + factor1 * term1;
            double step = duration / (k + 1);
            double next0 = step * (constant0 + d00 * term0 + d01 * term1);
            term1 = step * (constant1 + d10 * term0 + d11 * term1);
            term0 = next0;
            constant0 = 0;
            constant1 = 0;
        }
        return coefficients;
    }

    /** Leaves out the highest powers as far as they are far below round-off. */
    static double[] trim(double[] coefficients, double largest) {
        int count = coefficients.length;
        while (count > 2 && Math.abs(coefficients[count - 1]) <= NOT_SEEN * largest) {
            count--;
        }
        return count == coefficients.length ? coefficients : Arrays.copyOf(coefficients, count);
    }

    /** Writes dz/dt. */
    void rate(double[] z, double[] into) {
        for (int i = 0; i < n; i++) {
            into[i] = dynamics[i * (n + 1) + n] + Matrices.dot(dynamics, i * (n + 1), z, 0, n);
        }
    }

    /**
     * Scaled coordinates {@code z = scale * x}. Each scale is rounded to a power of two, so that going back and forth is
     * exact; the states are then comparable within a factor of two.
     */
    static final class Scaling {
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
}
