package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * What a converter is to do over a range of input and load, and what holds at every corner of these. Values are checked.
 *
 * <pre>{@code
 * CornerRequirements wanted =
 *         new CornerRequirements(new Span(9, 15), 5, new Span(0.2, 2), 0.4, milli(50), PracticalLimits.NONE);
 * PartsCheck check = PartsCheck.of(rail, wanted); // with the parts that the rail has
 * boolean reached = check.failures().isEmpty(); // true
 * }</pre>
 *
 * @param input range of the input voltage, V; more than 0
 * @param outputVoltage magnitude of the mean output voltage, V; more than 0
 * @param load range of the load current, A; more than 0
 * @param inductorRipple largest ripple of the inductor current, peak to peak, as a fraction of its mean at full load and the same
 *     input voltage; infinite for no limit
 * @param outputRipple largest ripple of the output voltage, peak to peak, V; infinite for no limit
 * @param limits of controller and inductor
 */
public record CornerRequirements(
        Span input,
        double outputVoltage,
        Span load,
        double inductorRipple,
        double outputRipple,
        PracticalLimits limits) {
    /**
     * Checks the values.
     *
     * @param input range of the input voltage, V; more than 0
     * @param outputVoltage magnitude of the mean output voltage, V; more than 0
     * @param load range of the load current, A; more than 0
     * @param inductorRipple largest ripple of the inductor current as a fraction of its mean; infinite for no limit
     * @param outputRipple largest ripple of the output voltage, V; infinite for no limit
     * @param limits of controller and inductor
     * @throws SizingException if a value is out of its range; tells all faults at once
     */
    public CornerRequirements {
        List<String> faults = new ArrayList<>();
        Specification.range(faults, "input voltage", input, "V");
        Specification.positive(faults, "output voltage", outputVoltage, "V; give its magnitude for an inverting stage");
        Specification.range(faults, "load current", load, "A");
        if (!(inductorRipple > 0)) {
            faults.add("inductor ripple must be more than 0 but was " + inductorRipple);
        }
        if (!(outputRipple > 0)) {
            faults.add("output ripple must be more than 0 V but was " + outputRipple + " V");
        }
        Specification.checkLimits(faults, limits);
        if (!faults.isEmpty()) {
            throw new SizingException(faults);
        }
    }

    /**
     * Computes the steady state of a converter with its own parts at each corner of input and load. Of one with a fixed drive the duty
     * cycle is that which holds the output voltage there.
     *
     * @param converter what is asked
     * @return steady states, or why there is none, by the corner's words, for example "corner 9 V, 2 A"
     */
    public Map<String, Result<ConverterSteadyState>> steadyStates(Converter converter) {
        Map<String, Result<ConverterSteadyState>> corners = new LinkedHashMap<>();
        for (double volt : new TreeSet<>(List.of(input.low(), input.high()))) {
            for (double ampere : new TreeSet<>(List.of(load.low(), load.high()))) {
                Load drawing = converter.load().drawing(ampere, outputVoltage);
                corners.put(
                        "corner " + Quantity.brief(volt, Unit.VOLT) + ", " + Quantity.brief(ampere, Unit.AMPERE),
                        held(converter.withInput(volt).withLoad(drawing)));
            }
        }
        return corners;
    }

    private Result<ConverterSteadyState> held(Converter there) {
        try {
            return Result.of(
                    there.isRegulated() ? there.steadyState() : DutyCycleSearch.steadyStateFor(there, outputVoltage));
        } catch (NoSteadyStateException | SwitchingException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }
}
