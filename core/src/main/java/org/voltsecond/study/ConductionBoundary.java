package org.voltsecond.study;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageValue;
import org.voltsecond.numeric.RootSearch;

/**
 * The value of a quantity at which conduction is at the boundary between continuous and discontinuous: a root of the
 * the {@linkplain org.voltsecond.converter.ConverterSteadyState#conductionMargin() margin} of exact steady states.
 *
 * <p>The margin has a kink at the root, on whose discontinuous side rounding weighs most, and right at which an idle
 * interval is too short to be told from none. In continuous conduction value and margin depend smoothly on each other. So secants through
 * such steady states lead to a millionth part (bracketing does where they do not), and the last digits come from four close by, by inverse
 * interpolation.
 *
 * <p><b>Accuracy</b>: below 3e-13 of the value, mostly 1e-15, where ripple and load current are of one size: so it is for
 * ideal stages with capacitors up to 100 mF, whose boundary is known to 40 digits.
 *
 * <pre>{@code
 * double current = ConductionBoundary.find(rail, Axis.loadCurrent(milli(5), 2, 2), milli(5), 2); // 226.2 mA
 * }</pre>
 */
public final class ConductionBoundary {
    private static final double BRACKET = 1e-6;
    /**
     * How far from the root, in parts of the value, the steady states are that give the last digits: the first so close that
     * its error counts little more than once, the others to bend the line.
     */
    private static final double[] CLOSE_BY = {1e-5, 1e-4, 2e-4, 3e-4};

    /** A secant needs three or four steps from afar; then bracketing, which cannot fail, takes over. */
    private static final int MOST_STEPS = 8;

    /** The second steady state lies so far from the first, in parts of the way between the ends. */
    private static final double PROBE = 0.1;

    private final Solver solver;
    private final boolean overLoadCurrent;
    private @Nullable ConverterSteadyState last;

    /** Finds the steady state at a value, from a steady state nearby if there is one. */
    @FunctionalInterface
    interface Solver {
        ConverterSteadyState at(double value, @Nullable ConverterSteadyState near);
    }

    ConductionBoundary(Solver solver, boolean overLoadCurrent) {
        this.solver = solver;
        this.overLoadCurrent = overLoadCurrent;
    }

    /**
     * Finds the boundary between two values of a quantity.
     *
     * @param converter the converter
     * @param quantity which is changed; its own values do not matter
     * @param low a value on one side of the boundary
     * @param high a larger value on the other side
     * @return the value at the boundary
     * @throws IllegalArgumentException if both are on the same side
     * @throws org.voltsecond.analysis.NoSteadyStateException if there is no steady state on the way
     */
    public static double find(Converter converter, Axis quantity, double low, double high) {
        Axis held = quantity.heldAt(converter, Double.NaN);
        ConductionBoundary search = new ConductionBoundary(
                (value, near) -> {
                    Converter here = held.set(converter, value);
                    return near == null ? here.steadyState() : here.steadyStateNear(near);
                },
                isLoadCurrent(quantity));
        double atLow = search.solver.at(low, null).conductionMargin();
        double atHigh = search.solver.at(high, null).conductionMargin();
        if (!(atLow * atHigh <= 0)) {
            throw new IllegalArgumentException(
                    quantity.name() + ": conduction must differ between the two ends, but at "
                            + low + " " + quantity.unit().symbol() + " the margin is " + atLow + " and at " + high + " "
                            + quantity.unit().symbol() + " it is " + atHigh);
        }
        return search.between(low, atLow, high, atHigh);
    }

    static boolean isLoadCurrent(Axis quantity) {
        return quantity.value().equals(Optional.of(StageValue.LOAD_CURRENT));
    }

    /** The root between two values whose margins differ in sign, or one of which is zero. */
    double between(double low, double atLow, double high, double atHigh) {
        if (atLow == 0 || atHigh == 0) {
            return atLow == 0 ? low : high;
        }
        double towardsContinuous = Math.signum(atLow > 0 ? low - high : high - low);
        double bySecant = atLow > 0 ? bySecant(low, atLow, high) : bySecant(high, atHigh, low);
        double rough = Double.isNaN(bySecant) ? byBracket(low, atLow, high, atHigh) : bySecant;
        return refined(rough, towardsContinuous);
    }

    private double margin(double value) {
        ConverterSteadyState found = solver.at(value, last);
        last = found;
        return found.conductionMargin();
    }

    /**
     * Two steady states in continuous conduction give a line; each step goes to where it ends, and a little less far, so that it lands in
     * continuous conduction again. Where it does not, half as far is next. Not a number where no step is short within a few.
     */
    private double bySecant(double continuous, double atContinuous, double discontinuous) {
        double value = continuous;
        double atValue = straightened(continuous, atContinuous);
        double rough = continuous + PROBE * (discontinuous - continuous);
        double next = rough;
        for (int k = 0; k < MOST_STEPS && (next - continuous) * (next - discontinuous) < 0; k++) {
            double atNext = straightened(next, margin(next));
            if (atNext > 0) {
                double root = next - atNext * (next - value) / (atNext - atValue);
                if (Math.abs(root - rough) <= BRACKET * Math.abs(rough)) {
                    return root;
                }
                value = next;
                atValue = atNext;
                rough = root;
            } else {
                rough = (value + next) / 2;
            }
            next = rough + Math.copySign(CLOSE_BY[1] * rough, continuous - discontinuous);
        }
        return Double.NaN;
    }

    /**
     * What is all but straight over the load: the margin is least over greatest current, so this is the least over the mean, which a
     * load current times makes a current.
     */
    private double straightened(double value, double margin) {
        return (overLoadCurrent ? value : 1) * 2 * margin / (1 + margin);
    }

    private double byBracket(double low, double atLow, double high, double atHigh) {
        return RootSearch.between(
                value -> {
                    // known already, and the search asks its ends first
                    if (value == low || value == high) {
                        return value == low ? atLow : atHigh;
                    }
                    return margin(value);
                },
                low,
                high,
                BRACKET * Math.max(Math.abs(low), Math.abs(high)));
    }

    /** Value over margin is a polynomial for the few digits that are left; Neville's scheme gives it at a margin of zero. */
    private double refined(double rough, double towardsContinuous) {
        int count = CLOSE_BY.length;
        double[] margin = new double[count];
        double[] value = new double[count];
        for (int k = 0; k < count; k++) {
            value[k] = rough + towardsContinuous * CLOSE_BY[k] * Math.abs(rough);
            margin[k] = margin(value[k]);
            if (!(margin[k] > 0)) {
                return rough;
            }
        }
        for (int width = 1; width < count; width++) {
            for (int k = 0; k + width < count; k++) {
                value[k] = (margin[k + width] * value[k] - margin[k] * value[k + 1]) / (margin[k + width] - margin[k]);
            }
        }
        return value[0];
    }
}
