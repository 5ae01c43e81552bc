package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.List;

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
}
