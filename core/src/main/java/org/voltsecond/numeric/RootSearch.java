package org.voltsecond.numeric;

import java.util.function.DoubleUnaryOperator;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.exception.MathIllegalArgumentException;
import org.hipparchus.exception.MathIllegalStateException;

/**
 * Searches of one variable between two ends: a root of a function whose sign differs at the ends, and the largest value of
 * one that rises, then falls.
 *
 * <pre>{@code
 * double root = RootSearch.between(x -> x * x - 2, 0, 2, 1e-14); // 1.414
 * RootSearch.Top top = RootSearch.highest(x -> x * (1 - x), 0, 1, 1e-6);
 * double largest = top.value(); // 0.25
 * }</pre>
 */
public final class RootSearch {
    /** Order of the inverse interpolation; five was the best trade of Hipparchus' own measurements. */
    private static final int ORDER = 5;

    /** More than a bisection of all bits needs, which a search falls back to. */
    private static final int MOST_TRIALS = 200;

    /** The golden section, by which one of two inner points serves again. */
    private static final double GOLDEN = (StrictMath.sqrt(5) - 1) / 2;

    private RootSearch() {}

    /**
     * Finds a root between two ends (algorithm of Brent with inverse interpolation of higher order, by Hipparchus).
     *
     * @param function a continuous function whose sign differs at the ends, or which is zero at one
     * @param low one end
     * @param high the other end, above it
     * @param accuracy by how much the root may be off, absolute; never less than the last bits of the root
     * @return the root
     * @throws IllegalArgumentException if the sign is the same at both ends, or a value is not a number
     */
    public static double between(DoubleUnaryOperator function, double low, double high, double accuracy) {
        return between(function, low, high, accuracy, Double.MIN_NORMAL);
    }

    /**
     * Finds a root between two ends, or where the function is as good as zero.
     *
     * @param function a continuous function whose sign differs at the ends, or which is zero at one
     * @param low one end
     * @param high the other end, above it
     * @param accuracy by how much the root may be off, absolute; never less than the last bits of the root
     * @param zero a value of a smaller magnitude counts as zero; more than 0
     * @return the root
     * @throws IllegalArgumentException if the sign is the same at both ends, or a value is not a number
     */
    public static double between(DoubleUnaryOperator function, double low, double high, double accuracy, double zero) {
        try {
            return new BracketingNthOrderBrentSolver(RoundOff.ULP, accuracy, zero, ORDER)
                    .solve(MOST_TRIALS, function::applyAsDouble, low, high);
        } catch (MathIllegalArgumentException | MathIllegalStateException e) {
            throw new IllegalArgumentException(
                    "no root between " + low + " and " + high + " (" + e.getMessage()
                            + "); valid: values of different sign at the ends, and a number everywhere between",
                    e);
        }
    }

    /**
     * The largest value that was found.
     *
     * @param at where it is
     * @param value what it is
     */
    public record Top(double at, double value) {}

    /**
     * Finds the largest value between two ends, by golden section.
     *
     * @param function a function that rises up to one place and falls from there on
     * @param low one end
     * @param high the other end, above it
     * @param accuracy by how much the place may be off, absolute
     * @return the largest value of those that were tried
     */
    public static Top highest(DoubleUnaryOperator function, double low, double high, double accuracy) {
        double from = low;
        double to = high;
        double left = to - GOLDEN * (to - from);
        double right = from + GOLDEN * (to - from);
        double atLeft = function.applyAsDouble(left);
        double atRight = function.applyAsDouble(right);
        while (to - from > accuracy && left < right) {
            if (atLeft >= atRight) {
                to = right;
                right = left;
                atRight = atLeft;
                left = to - GOLDEN * (to - from);
                atLeft = function.applyAsDouble(left);
            } else {
                from = left;
                left = right;
                atLeft = atRight;
                right = from + GOLDEN * (to - from);
                atRight = function.applyAsDouble(right);
            }
        }
        return atLeft >= atRight ? new Top(left, atLeft) : new Top(right, atRight);
    }
}
