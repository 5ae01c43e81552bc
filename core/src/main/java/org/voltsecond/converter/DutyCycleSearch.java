package org.voltsecond.converter;

import java.util.function.DoubleUnaryOperator;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.numeric.RootSearch;
import org.voltsecond.numeric.RoundOff;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Finds the duty cycle at which a converter with a fixed drive gives a wanted output voltage. No averaged formula is
 * used: each trial is the exact periodic steady state, so that drops, ripple and both modes of conduction are in it.
 *
 * <pre>{@code
 * Converter exact = DutyCycleSearch.forOutput(rail.withInput(9), 5); // 5 V from a battery at 9 V
 * double dutyCycle = exact.drive().dutyCycle(); // 0.5927
 * }</pre>
 */
public final class DutyCycleSearch {
    /** The mean output voltage is met to this fraction, far below any component tolerance. */
    static final double CLOSE_ENOUGH = 1e-11;

    /** Where trials carry no more than round-off, the search may go that far. */
    static final double CLOSEST = 1e-14;

    /** So close to the highest output its value differs by the square of this. */
    private static final double CLOSE_TO_TOP = 1e-7;

    private static final int MOST_TRIALS = 200;
    private static final int MOST_HALVINGS = 20;
    private static final double SMALLEST_DUTY = 1e-6;
    private static final double LARGEST_DUTY = 0.9999;
    /** A secant that does not at least halve what is missed is no way: bracketing is. */
    private static final double LEAST_GAIN = 0.5;
    /** What is met a hundred times as closely as asked for needs no last step; else that is as good as free. */
    private static final double SPARE = 1e-2;
    /** The first step of the secant goes at most by this share of what is left to either end. */
    private static final double FARTHEST = 0.25;

    private final double guess;
    private final double wanted;
    private final double accuracy;
    private final DoubleUnaryOperator output;
    private int trials;

    /** A search for an output voltage whose magnitude follows from the duty cycle; its accuracy is a fraction of it. */
    DutyCycleSearch(double guess, double wanted, double accuracy, DoubleUnaryOperator output) {
        this.guess = guess;
        this.wanted = wanted;
        this.accuracy = accuracy * wanted;
        this.output = output;
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
        return steadyStateFor(converter, outputVoltage).converter();
    }

    /**
     * Finds the steady state of a converter at the duty cycle of {@link #forOutput}.
     *
     * @param converter a converter with a fixed drive; its own duty cycle is ignored
     * @param outputVoltage magnitude of the mean output voltage wanted, V; more than 0
     * @return the steady state of the converter with the duty cycle found
     * @throws IllegalArgumentException if the voltage is not more than 0 V and finite
     * @throws IllegalStateException if the converter is regulated
     * @throws NoSteadyStateException if no duty cycle gives that output
     */
    public static ConverterSteadyState steadyStateFor(Converter converter, double outputVoltage) {
        double ideal = guess(converter.topology(), outputVoltage, StageValue.ofKernel(converter));
        double guess = Double.isNaN(ideal) ? converter.drive().dutyCycle() : ideal;
        return found(new Trials(converter, null), guess, outputVoltage);
    }

    /**
     * Finds the same from a steady state nearby, in fewer trials.
     *
     * @param converter a converter with a fixed drive; its own duty cycle is ignored
     * @param outputVoltage magnitude of the mean output voltage wanted, V; more than 0
     * @param near a steady state of the same circuit with values not far away, at about this output
     * @return the steady state of the converter with the duty cycle found
     * @throws IllegalArgumentException if the voltage is not more than 0 V and finite
     * @throws IllegalStateException if the converter is regulated
     * @throws NoSteadyStateException if no duty cycle gives that output
     */
    public static ConverterSteadyState steadyStateFor(
            Converter converter, double outputVoltage, ConverterSteadyState near) {
        return found(new Trials(converter, near), near.converter().drive().dutyCycle(), outputVoltage);
    }

    private static ConverterSteadyState found(Trials trials, double guess, double outputVoltage) {
        requireOutput(outputVoltage);
        return trials.at(new DutyCycleSearch(guess, outputVoltage, CLOSE_ENOUGH, trials::output).find());
    }

    /** Exact steady states of one converter, each sought from the one before. */
    private static final class Trials {
        private final Converter converter;
        private @Nullable ConverterSteadyState near;
        private @Nullable ConverterSteadyState last;

        Trials(Converter converter, @Nullable ConverterSteadyState near) {
            this.converter = converter;
            this.near = near;
        }

        double output(double dutyCycle) {
            return Math.abs(at(dutyCycle).of(converter.outputVoltage()).mean());
        }

        ConverterSteadyState at(double dutyCycle) {
            ConverterSteadyState known = last;
            if (known != null && known.converter().drive().dutyCycle() == dutyCycle) {
                return known;
            }
            Converter here = converter.withDutyCycle(dutyCycle);
            ConverterSteadyState start = near;
            ConverterSteadyState found = start == null ? here.steadyState() : here.steadyStateNear(start);
            near = found;
            last = found;
            return found;
        }
    }

    /**
     * The duty cycle of ideal parts and a constant output voltage, but for the forward drop: the smaller one of those of
     * the two modes of conduction. Source: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, the chapters on
     * steady state and on discontinuous conduction, from memory; only a place to begin, and not a number for a stage without ideal
     * ratios.
     *
     * @param values by {@link StageValue#index()}
     */
    static double guess(Topology topology, double wanted, double[] values) {
        double input = values[StageValue.INPUT_VOLTAGE.index()];
        double ohm = values[StageValue.LOAD_RESISTANCE.index()];
        double load = values[StageValue.LOAD_CURRENT.index()] + (ohm > 0 ? wanted / ohm : 0);
        double both = 2 * values[StageValue.INDUCTANCE.index()] * values[StageValue.FREQUENCY.index()] * load;
        double drop = values[StageValue.FORWARD_DROP.index()];
        double continuous = topology.dutyCycle(input, wanted, 0, drop);
        double squared = topology.discontinuousDutyCycleSquared(input, wanted, drop, both);
        return squared > 0 ? Math.min(continuous, Math.sqrt(squared)) : continuous;
    }

    static void requireOutput(double outputVoltage) {
        if (!(outputVoltage > 0 && outputVoltage < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("duty cycle for an output: the output voltage must be more than 0 V "
                    + "and finite but was " + outputVoltage + " V; give its magnitude for an inverting stage");
        }
    }

    /** The duty cycle. */
    double find() {
        double start = Math.min(0.99, Math.max(2 * SMALLEST_DUTY, guess));
        double excess = excess(start);
        if (Math.abs(excess) <= accuracy) {
            return start;
        }
        double near = bySecant(start, excess);
        if (!Double.isNaN(near)) {
            return near;
        }
        return excess > 0 ? between(lowerBound(start), start) : aboveFrom(start, excess);
    }

    /**
     * Most often the output rises with the duty cycle all the way, and nearly straight: then few trials lead there. Not a number
     * where it falls, or a trial is not much nearer than the one before.
     */
    private double bySecant(double start, double atStart) {
        double last = start;
        double atLast = atStart;
        double step = start * (1 - start) * StrictMath.log(wanted / (wanted + atStart));
        while (step != 0 && Math.abs(step) <= FARTHEST * (step > 0 ? 1 - last : last)) {
            double next = last + step;
            double atNext = next > SMALLEST_DUTY && next < LARGEST_DUTY ? excessOrNone(next) : Double.NaN;
            boolean nearer = Math.abs(atNext) <= LEAST_GAIN * Math.abs(atLast) && (atNext - atLast) * step > 0;
            if (!nearer) {
                return Double.NaN;
            }
            step *= -atNext / (atNext - atLast);
            if (Math.abs(atNext) <= accuracy) {
                return Math.abs(atNext) <= SPARE * accuracy ? next : next + step;
            }
            last = next;
            atLast = atNext;
        }
        return Double.NaN;
    }

    private double lowerBound(double start) {
        double low = start;
        double excess;
        double step = 0.02;
        do {
            low = Math.max(low / 2, low - step * start);
            step *= 3;
            excess = excess(low);
        } while (excess > 0 && low > SMALLEST_DUTY);
        if (excess > 0) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.OUT_OF_REACH,
                    "no duty cycle gives " + Quantity.brief(wanted, Unit.VOLT) + ": at a duty cycle of "
                            + Quantity.brief(low, Unit.ONE) + " the output is still "
                            + Quantity.brief(wanted + excess, Unit.VOLT)
                            + "; a stage that steps up cannot go below its input, and too light a load cannot discharge"
                            + " what the pulses deliver: lower the input or add load");
        }
        return low;
    }

    /** Small steps, since with resistances the output of a boost stage falls again beyond a certain duty cycle. */
    private double aboveFrom(double start, double atStart) {
        double before = start;
        double low = start;
        double most = atStart;
        double step = 0.02;
        while (low < LARGEST_DUTY) {
            double high = Math.min(LARGEST_DUTY, low + Math.min(step * low, 0.05 * (1 - low)));
            step *= 3;
            double excess = excessOrNone(high);
            for (int k = 0; k < MOST_HALVINGS && Double.isNaN(excess); k++) {
                // beyond it switches overlap that must not
                high = (low + high) / 2;
                excess = excessOrNone(high);
            }
            if (Double.isNaN(excess)) {
                break;
            }
            if (excess >= 0) {
                return between(low, high);
            }
            if (excess < most) {
                double top = highest(before, high);
                most = Math.max(most, excess(top));
                if (most >= 0) {
                    return between(before, top);
                }
                break;
            }
            most = excess;
            before = low;
            low = high;
        }
        throw new NoSteadyStateException(
                NoSteadyStateException.Reason.OUT_OF_REACH,
                "no duty cycle gives " + Quantity.brief(wanted, Unit.VOLT) + ": the output reaches "
                        + Quantity.brief(wanted + most, Unit.VOLT)
                        + " at most; raise the input, lower the load or take parts with less resistance");
    }

    /** Where the output is highest, by golden section: it is so flat there that its value comes out to round-off. */
    private double highest(double from, double to) {
        return RootSearch.highest(this::excess, from, to, CLOSE_TO_TOP).at();
    }

    private double between(double low, double high) {
        // the duty cycle itself is resolved no finer than the rounding of one
        return RootSearch.between(this::excess, low, high, RoundOff.UNIT, accuracy);
    }

    /** Not a number where there is no steady state. */
    private double excessOrNone(double dutyCycle) {
        try {
            return excess(dutyCycle);
        } catch (NoSteadyStateException | SwitchingException e) {
            return Double.NaN;
        }
    }

    private double excess(double dutyCycle) {
        if (++trials > 2 * MOST_TRIALS) {
            throw new NoSteadyStateException(
                    NoSteadyStateException.Reason.OUT_OF_REACH,
                    "no duty cycle for " + Quantity.brief(wanted, Unit.VOLT) + " found in " + trials + " trials");
        }
        return output.applyAsDouble(dutyCycle) - wanted;
    }
}
