package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Faults;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What a stage is to do, and of what parts. Values are checked, so that each specification can be sized.
 *
 * <pre>{@code
 * Specification wanted = Specification.of(Topology.BOOST)
 *         .input(9, 15) // V
 *         .output(24) // V
 *         .load(0.02, 0.5) // A
 *         .switchingFrequency(kilo(300))
 *         .inductorRipple(0.4) // of the mean current
 *         .outputRipple(milli(100)) // V, peak to peak
 *         .build();
 * }</pre>
 *
 * @param topology the stage
 * @param input range of the input voltage, V; more than 0
 * @param outputVoltage magnitude of the mean output voltage, V; more than 0
 * @param load range of the load current, A; more than 0
 * @param switchingFrequency Hz; more than 0
 * @param inductorRipple largest ripple of the inductor current, peak to peak, as a fraction of its mean at full load and
 *     the same input voltage; more than 0 and at most 2, beyond which conduction is discontinuous at full load
 * @param outputRipple largest ripple of the output voltage, peak to peak, V; more than 0
 * @param capacitiveShare the part of it that the capacitance may take, the rest being left to the ESR; more than 0 and at
 *     most 1
 * @param parts drops of the parts
 * @param series preferred values
 * @param loadKind a load of the kind that the stage feeds: a load current is that of a sink, or of the resistor that draws
 *     it at the output
 * @param limits of controller and inductor
 * @param given parts of the stage beyond the usual ones that it has, such as its phases; what the stage proposes stands in place of
 *     one of its kind
 */
public record Specification(
        Topology topology,
        Span input,
        double outputVoltage,
        Span load,
        double switchingFrequency,
        double inductorRipple,
        double outputRipple,
        double capacitiveShare,
        ConductingParts parts,
        PartSeries series,
        Load loadKind,
        PracticalLimits limits,
        List<StagePart> given) {
    /**
     * Creates a specification.
     *
     * @param topology the stage
     * @param input range of the input voltage, V; more than 0
     * @param outputVoltage magnitude of the mean output voltage, V; more than 0
     * @param load range of the load current, A; more than 0
     * @param switchingFrequency Hz; more than 0
     * @param inductorRipple largest ripple of the inductor current, peak to peak, as a fraction of its mean at full load and
     *     the same input voltage; more than 0 and at most 2, beyond which conduction is discontinuous at full load
     * @param outputRipple largest ripple of the output voltage, peak to peak, V; more than 0
     * @param capacitiveShare the part of it that the capacitance may take, the rest being left to the ESR; more than 0 and at
     *     most 1
     * @param parts drops of the parts
     * @param series preferred values
     * @param loadKind a load of the kind that the stage feeds
     * @param limits of controller and inductor
     * @param given parts of the stage beyond the usual ones that it has
     * @throws SizingException if a value is out of its range; tells all faults at once
     */
    public Specification {
        given = List.copyOf(given);
        topology = topology.with(withAll(StageParts.none(), given));
        List<String> faults = new ArrayList<>();
        range(faults, "input voltage", input, "V");
        positive(faults, "output voltage", outputVoltage, "V; give its magnitude for an inverting stage");
        range(faults, "load current", load, "A");
        positive(faults, "switching frequency", switchingFrequency, "Hz");
        upTo(faults, "inductor ripple, a fraction of the mean,", inductorRipple, 2);
        positive(faults, "output ripple", outputRipple, "V");
        upTo(faults, "capacitive share of the output ripple", capacitiveShare, 1);
        Faults capacitors = new Faults("output capacitors");
        Bend.check(capacitors, series.fading(), "bias", "left", "", "V");
        faults.addAll(capacitors.list());
        checkParts(faults, parts);
        checkLimits(faults, limits);
        if (faults.isEmpty()) {
            checkReach(faults, topology, input, outputVoltage);
        }
        if (!faults.isEmpty()) {
            throw new SizingException(faults);
        }
    }

    /**
     * Starts a specification.
     *
     * @param topology the stage
     * @return a builder that knows no value yet
     */
    public static SpecificationBuilder of(Topology topology) {
        return new SpecificationBuilder(topology);
    }

    static StageParts withAll(StageParts parts, List<StagePart> further) {
        StageParts all = parts;
        for (StagePart part : further) {
            all = all.with(part);
        }
        return all;
    }

    /** {@return what holds at every corner, whatever the parts are} */
    public CornerRequirements requirements() {
        return new CornerRequirements(input, outputVoltage, load, inductorRipple, outputRipple, limits);
    }

    private static void checkParts(List<String> faults, ConductingParts parts) {
        notNegative(faults, "on-resistance of the transistor", parts.onResistance(), "Ω");
        notNegative(faults, "forward drop of the transistor", parts.transistorDrop(), "V");
        notNegative(faults, "resistance of the inductor", parts.inductorResistance(), "Ω");
        notNegative(faults, "forward drop of the rectifier", parts.forwardDrop(), "V");
        notNegative(faults, "resistance of the rectifier", parts.rectifierResistance(), "Ω");
        if (parts.synchronous() && parts.forwardDrop() > 0) {
            faults.add("forward drop of the rectifier must be 0 V for a synchronous one but was " + parts.forwardDrop()
                    + " V; give its on-resistance");
        }
    }

    static void checkLimits(List<String> faults, PracticalLimits limits) {
        upTo(faults, "largest duty cycle", limits.dutyCycle(), 1);
        if (!(limits.leastDutyCycle() >= 0 && limits.leastDutyCycle() < limits.dutyCycle())) {
            faults.add("smallest duty cycle must be 0 or more and below the largest of " + limits.dutyCycle()
                    + " but was " + limits.leastDutyCycle());
        }
        notNegative(faults, "shortest on time", limits.onTime(), "s");
        notNegative(faults, "shortest off time", limits.offTime(), "s");
        if (!(limits.inductorPeak() > 0)) {
            faults.add("highest inductor current must be more than 0 A but was " + limits.inductorPeak() + " A");
        }
    }

    private static void checkReach(List<String> faults, Topology topology, Span input, double output) {
        topology.obstacle(input.low(), input.high(), topology.isInverting() ? -output : output)
                .ifPresent(obstacle -> faults.add("output voltage of " + Quantity.brief(output, Unit.VOLT)
                        + " is out of reach of a " + topology + " stage: " + obstacle + others(input, output)));
    }

    private static String others(Span input, double output) {
        String able = Topology.READY.stream()
                .filter(stage -> !stage.isIsolated())
                .filter(stage -> stage.obstacle(input.low(), input.high(), stage.isInverting() ? -output : output)
                        .isEmpty())
                .map(stage -> stage + " stage")
                .collect(Collectors.joining(" or "));
        return able.isEmpty() ? "" : "; try: " + able;
    }

    static void range(List<String> faults, String what, Span range, String unit) {
        positive(faults, "lowest " + what, range.low(), unit);
        positive(faults, "highest " + what, range.high(), unit);
        if (range.low() > range.high()) {
            faults.add("lowest " + what + " of " + range.low() + " " + unit + " must not be above the highest of "
                    + range.high() + " " + unit + "; swap them");
        }
    }

    static void positive(List<String> faults, String what, double value, String unit) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be given, more than 0 and finite but was " + value + " " + unit);
        }
    }

    private static void notNegative(List<String> faults, String what, double value, String unit) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be 0 " + unit + " or more and finite but was " + value + " " + unit);
        }
    }

    private static void upTo(List<String> faults, String what, double value, double most) {
        if (!(value > 0 && value <= most)) {
            faults.add(what + " must be given, more than 0 and at most " + most + " but was " + value);
        }
    }
}
