package org.voltsecond.review;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.sizing.Corner;
import org.voltsecond.sizing.CornerRequirements;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Span;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

/**
 * The range of input and load over which a converter works with its own parts. Values are checked. Immutable.
 *
 * <pre>{@code
 * OperatingCorners corners = OperatingCorners.between(new Span(9, 15), new Span(0.2, 2)); // V, A
 * int states = corners.states(rail).size(); // 6
 * OperatingCorners held = corners.holding(5); // V, by the duty cycle of a fixed drive
 * }</pre>
 *
 * @param input range of the input voltage, V; more than 0
 * @param load range of the load current, A; more than 0
 * @param outputVoltage magnitude of the mean output voltage that a fixed drive is set to hold, V; more than 0, or not a number
 *     where its duty cycle stays. A regulated converter holds its own.
 */
public record OperatingCorners(Span input, Span load, double outputVoltage) {
    /**
     * Checks the values.
     *
     * @param input range of the input voltage, V; more than 0
     * @param load range of the load current, A; more than 0
     * @param outputVoltage magnitude of the output voltage that is held, V; more than 0, or not a number
     * @throws SizingException if a value is out of its range; tells all faults at once
     */
    public OperatingCorners {
        List<String> faults = new ArrayList<>();
        check(faults, "input voltage", input, "V");
        check(faults, "load current", load, "A");
        if (outputVoltage <= 0 || Double.isInfinite(outputVoltage)) {
            faults.add("output voltage must be more than 0 V and finite but was " + outputVoltage + " V");
        }
        if (!faults.isEmpty()) {
            throw new SizingException(faults);
        }
    }

    private static void check(List<String> faults, String what, Span range, String unit) {
        if (!(range.low() > 0 && range.low() <= range.high() && range.high() < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must go up from more than 0 " + unit + " but was " + range.low() + " to " + range.high()
                    + " " + unit);
        }
    }

    /**
     * Returns corners of a converter whose drive stays.
     *
     * @param input range of the input voltage, V; more than 0
     * @param load range of the load current, A; more than 0
     * @return the corners
     * @throws SizingException if a value is out of its range
     */
    public static OperatingCorners between(Span input, Span load) {
        return new OperatingCorners(input, load, Double.NaN);
    }

    /**
     * Returns the corners of what a converter is to do.
     *
     * @param wanted what it is to do
     * @return its corners, with its output held
     */
    public static OperatingCorners of(CornerRequirements wanted) {
        return new OperatingCorners(wanted.input(), wanted.load(), wanted.outputVoltage());
    }

    /**
     * Returns the same corners with the output held.
     *
     * @param voltage magnitude of the mean output voltage, V; more than 0
     * @return the corners
     * @throws SizingException if the voltage is out of its range
     */
    public OperatingCorners holding(double voltage) {
        return new OperatingCorners(input, load, voltage);
    }

    /**
     * Computes the steady state at each corner, and at the converter's own input with each end of the load.
     *
     * @param converter the converter
     * @return by input, then load; none where the converter has no output by which a load could be told
     */
    public List<CornerState> states(Converter converter) {
        return states(converter, steadyState(converter));
    }

    /** The same, where the steady state of the converter is known. */
    List<CornerState> states(Converter converter, Result<ConverterSteadyState> steady) {
        double level = level(converter, steady);
        List<CornerState> all = new ArrayList<>();
        TreeSet<Double> inputs = new TreeSet<>(List.of(input.low(), input.high(), converter.inputVoltage()));
        for (double volt : inputs) {
            for (double ampere : new TreeSet<>(List.of(load.low(), load.high()))) {
                all.add(state(converter, new Corner(volt, ampere), level, steady));
            }
        }
        return all;
    }

    private CornerState state(Converter converter, Corner corner, double level, Result<ConverterSteadyState> steady) {
        if (!(level > 0)) {
            return new CornerState(
                    corner, Map.of(), Result.missing("there is no output by which a load could be told"));
        }
        Load drawing = converter.load().drawing(corner.loadCurrent(), level);
        boolean own = corner.inputVoltage() == converter.inputVoltage() && drawing.equals(converter.load());
        return new CornerState(
                corner,
                Map.of(),
                own && !holds(converter)
                        ? steady
                        : held(converter.withInput(corner.inputVoltage()).withLoad(drawing)));
    }

    /** The output at which a resistor draws the current of a corner, V. */
    private double level(Converter converter, Result<ConverterSteadyState> steady) {
        if (!Double.isNaN(outputVoltage)) {
            return outputVoltage;
        }
        return converter
                .target()
                .orElseGet(() -> steady.map(found ->
                                Math.abs(found.of(converter.outputVoltage()).mean()))
                        .orElse(0.0));
    }

    /** Whether the duty cycle of a fixed drive is set at each corner. */
    boolean holds(Converter converter) {
        return !Double.isNaN(outputVoltage) && !converter.isRegulated();
    }

    /** The steady state of a converter that stands at a corner, with its output held there if that is asked for. */
    Result<ConverterSteadyState> held(Converter there) {
        try {
            return Result.of(holds(there) ? DutyCycleSearch.steadyStateFor(there, outputVoltage) : there.steadyState());
        } catch (NoSteadyStateException | SwitchingException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }

    static Result<ConverterSteadyState> steadyState(Converter converter) {
        try {
            return Result.of(converter.steadyState());
        } catch (NoSteadyStateException | SwitchingException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }
}
