package org.voltsecond.converter;

import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.voltsecond.analysis.NoSteadyStateException;

/**
 * Finds the duty cycle at which a converter with a fixed drive gives a wanted output voltage. No averaged formula is
 * used: each trial is the exact periodic steady state, so that drops, ripple and both modes of conduction are in it.
 */
public final class DutyCycleSearch {
    /** The mean output voltage is met to this fraction, far below any component tolerance. */
    private static final double CLOSE_ENOUGH = 1e-11;

    private static final int MOST_TRIALS = 200;
    private static final double SMALLEST_DUTY = 1e-6;
    private static final double LARGEST_DUTY = 0.9999;

    private final Converter converter;
    private final double wanted;
    private int trials;

    private DutyCycleSearch(Converter converter, double wanted) {
        this.converter = converter;
        this.wanted = wanted;
    }

    /**
     * Sets the duty cycle of a converter such that the mean of its output voltage has the wanted magnitude. Of several
     * such duty cycles, as resistances make for a boost stage, it is the lowest one.
     *
     * @param converter a converter with a fixed drive; its own duty cycle is ignored
     * @param outputVoltage magnitude of the mean output voltage wanted, V; more than 0
     * @return the converter with the duty cycle found
     * @throws IllegalArgumentException if the voltage is not more than 0 V and finite
     * @throws IllegalStateException if the converter is regulated
     * @throws NoSteadyStateException if no duty cycle gives that output; the message tells what is reached at most or at
     *     least
     */
    public static Converter forOutput(Converter converter, double outputVoltage) {
        if (!(outputVoltage > 0 && outputVoltage < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("duty cycle for an output: the output voltage must be more than 0 V "
                    + "and finite but was " + outputVoltage + " V; give its magnitude for an inverting stage");
        }
        return converter.withDutyCycle(new DutyCycleSearch(converter, outputVoltage).find(converter.topology()));
    }

    private double find(Topology topology) {
        double start = Math.min(0.99, Math.max(1e-3, idealDutyCycle(topology)));
        double excess = excess(start);
        if (Math.abs(excess) <= CLOSE_ENOUGH * wanted) {
            return start;
        }
        return excess > 0 ? between(lowerBound(start), start) : aboveFrom(start);
    }

    private double idealDutyCycle(Topology topology) {
        double input = converter.inputVoltage();
        return switch (topology) {
            case BUCK -> wanted / input;
            case BOOST -> 1 - input / wanted;
            case INVERTING_BUCK_BOOST -> wanted / (input + wanted);
        };
    }

    /** In discontinuous conduction the duty cycle can be far below that of continuous conduction. */
    private double lowerBound(double start) {
        double low = start;
        double excess;
        do {
            low /= 2;
            excess = excess(low);
        } while (excess > 0 && low > SMALLEST_DUTY);
        if (excess > 0) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.OUT_OF_REACH,
                    "no duty cycle gives " + wanted + " V: at a duty cycle of " + low + " the output is still "
                            + (wanted + excess) + " V; lower the input or add load");
        }
        return low;
    }

    /** Small steps, since with resistances the output of a boost stage falls again beyond a certain duty cycle. */
    private double aboveFrom(double start) {
        double low = start;
        double most = excess(start);
        while (low < LARGEST_DUTY) {
            double high = Math.min(LARGEST_DUTY, low + 0.05 * (1 - low));
            double excess = excess(high);
            if (excess >= 0) {
                return between(low, high);
            }
            if (excess < most) {
                break;
            }
            most = excess;
            low = high;
        }
        throw new NoSteadyStateException(
                NoSteadyStateException.Reason.OUT_OF_REACH,
                "no duty cycle gives " + wanted + " V: the output reaches " + (wanted + most)
                        + " V at most; raise the input, lower the load or take parts with less resistance");
    }

    private double between(double low, double high) {
        var solver = new BracketingNthOrderBrentSolver(1e-15, 1e-16, CLOSE_ENOUGH * wanted, 5);
        return solver.solve(MOST_TRIALS, this::excess, low, high);
    }

    private double excess(double dutyCycle) {
        if (++trials > 2 * MOST_TRIALS) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.OUT_OF_REACH,
                    "no duty cycle for " + wanted + " V found in " + trials + " trials");
        }
        ConverterSteadyState steady = converter.withDutyCycle(dutyCycle).steadyState();
        return Math.abs(steady.of(converter.outputVoltage()).mean()) - wanted;
    }
}
