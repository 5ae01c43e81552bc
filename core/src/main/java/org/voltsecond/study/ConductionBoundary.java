package org.voltsecond.study;

import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.numeric.RootSearch;

/**
 * The value of a quantity at which conduction is at the boundary between continuous and discontinuous: a root of the
 * the {@linkplain org.voltsecond.converter.ConverterSteadyState#conductionMargin() margin} of exact steady states.
 *
 * <p>The margin has a kink at the root, on whose discontinuous side rounding weighs most, and right at which an idle
 * interval is too short to be told from none. So the bracket is narrowed to a millionth part only; the last digits come from steady states in
 * continuous conduction close by, where value and margin depend smoothly on each other, by inverse interpolation.
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

    private final Solver solver;

    /** Finds the steady state at a value, from a steady state nearby if there is one. */
    @FunctionalInterface
    interface Solver {
        ConverterSteadyState at(double value, @Nullable ConverterSteadyState near);
    }

    ConductionBoundary(Solver solver) {
        this.solver = solver;
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
        ConductionBoundary search = new ConductionBoundary((value, near) -> {
            Converter here = held.set(converter, value);
            return near == null ? here.steadyState() : here.steadyStateNear(near);
        });
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

    /** The root between two values whose margins differ in sign, or one of which is zero. */
    double between(double low, double atLow, double high, double atHigh) {
        if (atLow == 0 || atHigh == 0) {
            return atLow == 0 ? low : high;
        }
        ConverterSteadyState[] last = new ConverterSteadyState[1];
        double accuracy = BRACKET * Math.max(Math.abs(low), Math.abs(high));
        double rough = RootSearch.between(
                value -> {
                    // known already, and the search asks its ends first
                    if (value == low || value == high) {
                        return value == low ? atLow : atHigh;
                    }
                    last[0] = solver.at(value, last[0]);
                    return last[0].conductionMargin();
                },
                low,
                high,
                accuracy);
        return refined(rough, Math.signum(atLow > 0 ? low - high : high - low), last[0]);
    }

    /** Value over margin is a polynomial for the few digits that are left; Neville's scheme gives it at a margin of zero. */
    private double refined(double rough, double towardsContinuous, @Nullable ConverterSteadyState start) {
        int count = CLOSE_BY.length;
        double[] margin = new double[count];
        double[] value = new double[count];
        ConverterSteadyState near = start;
        for (int k = 0; k < count; k++) {
            value[k] = rough + towardsContinuous * CLOSE_BY[k] * Math.abs(rough);
            near = solver.at(value[k], near);
            margin[k] = near.conductionMargin();
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
