package org.voltsecond.numeric;

/**
 * What a step of Newton's method leaves out, as far as the step before tells: Chebyshev's method (J. F. Traub, Iterative Methods for the
 * Solution of Equations, Prentice-Hall 1964, from memory) with the second derivative along that step from the values and slopes at its
 * two ends. Where steps follow one line, as they do once a single event moves, that takes a round less. Keeps scratch space.
 *
 * <pre>{@code
 * Curvature curvature = new Curvature(1); // of 2 - x * x = 0, from x = 1.5: the step is 0.5 / -3
 * curvature.improve(new double[] {-0.25}, new double[] {3}, new double[] {-1 / 12.0}, new Elimination(1, 0)); // nothing yet
 * double[] step = {-1 / 408.0}; // from 17/12
 * curvature.improve(new double[] {-1 / 144.0}, new double[] {17 / 6.0}, step, new Elimination(1, 0));
 * double root = 17 / 12.0 + step[0]; // 1.41421357, where Newton's method alone comes to 1.41421569
 * }</pre>
 */
public final class Curvature {
    /** A step is short beside the one before, so that the curvature along that one is nearly its own, and so are their directions. */
    private static final double SHORT = 0.25;

    private static final double ASIDE = 0.125;
    /** Slopes alone and slopes with values tell the same curvature, but for so much, unless there is a kink between. */
    private static final double AGREED = 0.5;

    private final int n;
    /** The step before, its image by the derivative there, and what was missed there; all zero before the first. */
    private final double[] before;

    private final double[] slope;
    private final double[] missed;
    private final double[] bend;

    /**
     * Makes room.
     *
     * @param n number of unknowns
     */
    public Curvature(int n) {
        this.n = n;
        before = new double[n];
        slope = new double[n];
        missed = new double[n];
        bend = new double[n];
    }

    /** Forgets the step before: it was not taken. */
    public void forget() {
        java.util.Arrays.fill(before, 0);
    }

    /**
     * Adds to a step what the curvature asks for, if that is certain enough, and remembers it as the step before.
     *
     * @param residual what is missed
     * @param matrix the derivative of what is missed, with the other sign, row after row
     * @param step the step of Newton's method, by which the matrix makes the residual; takes the step to go
     * @param elimination solves for the matrix
     */
    public void improve(double[] residual, double[] matrix, double[] step, Elimination elimination) {
        boolean bends = findBend(residual, matrix, step) && elimination.solve(matrix, bend);
        for (int i = 0; i < n; i++) {
            slope[i] = residual[i] + (bends ? bend[i] : 0);
            missed[i] = residual[i];
        }
        if (bends) {
            elimination.solution(bend);
            bends = Matrices.size(bend) <= SHORT * Matrices.size(step);
        }
        for (int i = 0; i < n; i++) {
            slope[i] = bends ? slope[i] : residual[i];
            step[i] += bends ? bend[i] : 0;
            before[i] = step[i];
        }
    }

    /** Half the second derivative, applied to the step twice; whether it is known. */
    private boolean findBend(double[] residual, double[] matrix, double[] step) {
        double product = 0;
        double square = 0;
        for (int i = 0; i < n; i++) {
            product += step[i] * before[i];
            square += before[i] * before[i];
        }
        double share = product / square;
        if (!(Math.abs(share) <= SHORT)) {
            return false;
        }
        double aside = 0;
        double apart = 0;
        double bySlopes = 0;
        for (int i = 0; i < n; i++) {
            double now = 0;
            for (int j = 0; j < n; j++) {
                now += matrix[i * n + j] * before[j];
            }
            // the second derivative at the end of the cubic through both values and slopes
            double both = 6 * (missed[i] - residual[i]) - 2 * slope[i] - 4 * now;
            bend[i] = 0.5 * share * share * both;
            apart += Math.abs(both - (slope[i] - now));
            bySlopes += Math.abs(slope[i] - now);
            aside += Math.abs(step[i] - share * before[i]);
        }
        return aside <= ASIDE * Matrices.size(step) && apart <= AGREED * bySlopes;
    }
}
