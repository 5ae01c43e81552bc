package org.voltsecond.numeric;

import java.util.Arrays;

/**
 * Real roots of a polynomial between 0 and 1, isolated by the sign variations of its coefficients in the {@link Bernstein}
 * form: no root is lost between samples.
 *
 * <p><b>Accuracy</b>: a root that the polynomial crosses steeply is found to the last bits; a contact that does not
 * rise above round-off (1e-15 of the largest Bernstein coefficient) counts as one root in its middle.
 *
 * <pre>{@code
 * double[] roots = PolynomialRoots.in01(new double[] {0.125, -0.75, 1}); // 0.125 - 0.75 u + u^2
 * double first = roots[0]; // 0.25
 * double second = roots[1]; // 0.5
 * }</pre>
 */
public final class PolynomialRoots {
    private static final int DEEPEST = 60;
    private static final double NOISE = 1e-15;
    private static final double SAME = 1e-13;

    private final double[] polynomial;
    private final double noise;
    private double[] roots = new double[4];
    /** The span in which the last root lies. */
    private double spanStart;

    private double spanEnd;
    private int count;

    private PolynomialRoots(double[] polynomial, double noise) {
        this.polynomial = polynomial;
        this.noise = noise;
    }

    /**
     * Returns all roots from 0 to 1.
     *
     * @param coefficients lowest power first
     * @return the roots in ascending order; empty if there is none, or if the polynomial is zero everywhere
     */
    public static double[] in01(double[] coefficients) {
        double[] bernstein = coefficients.clone();
        Bernstein.replace(bernstein, bernstein.length);
        double largest = 0;
        for (double value : bernstein) {
            largest = Math.max(largest, Math.abs(value));
        }
        if (!(largest > 0)) {
            return new double[0];
        }
        PolynomialRoots search = new PolynomialRoots(coefficients, NOISE * largest);
        search.isolate(bernstein, 0, 1, 0);
        return Arrays.copyOf(search.roots, search.count);
    }

    private void isolate(double[] b, double from, double to, int depth) {
        boolean rootAtStart = Math.abs(b[0]) <= noise;
        boolean rootAtEnd = Math.abs(b[b.length - 1]) <= noise;
        int variations = variations(b);
        if (depth == DEEPEST || small(b)) {
            add(from, to);
        } else if (variations == 0) {
            if (rootAtStart) {
                add(from, from);
            }
            if (rootAtEnd) {
                add(to, to);
            }
        } else if (variations == 1 && !rootAtStart && !rootAtEnd) {
            double root = refine(from, to);
            add(root, root);
        } else {
            double[] left = new double[b.length];
            double[] right = b.clone();
            Bernstein.split(right, left);
            double middle = 0.5 * (from + to);
            isolate(left, from, middle, depth + 1);
            isolate(right, middle, to, depth + 1);
        }
    }

    private int variations(double[] b) {
        int changes = 0;
        double last = 0;
        for (double value : b) {
            if (Math.abs(value) > noise) {
                if (last != 0 && (value > 0) != (last > 0)) {
                    changes++;
                }
                last = value;
            }
        }
        return changes;
    }

    private boolean small(double[] b) {
        for (double value : b) {
            if (Math.abs(value) > noise) {
                return false;
            }
        }
        return true;
    }

    private double refine(double from, double to) {
        double low = from;
        double high = to;
        boolean rising = value(low) < 0;
        while (true) {
            double middle = 0.5 * (low + high);
            if (!(middle > low && middle < high)) {
                return middle;
            }
            double value = value(middle);
            if (value == 0) {
                return middle;
            }
            if ((value < 0) == rising) {
                low = middle;
            } else {
                high = middle;
            }
        }
    }

    private double value(double u) {
        double value = 0;
        for (int k = polynomial.length - 1; k >= 0; k--) {
            value = value * u + polynomial[k];
        }
        return value;
    }

    /** Adds the root that lies within a span; spans that touch hold the same one. */
    private void add(double from, double to) {
        if (count == 0 || from - spanEnd > SAME) {
            if (count == roots.length) {
                roots = Arrays.copyOf(roots, 2 * count);
            }
            count++;
            spanStart = from;
        }
        spanEnd = to;
        roots[count - 1] = 0.5 * (spanStart + to);
    }
}
