package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What has one temperature: a device in its case, a coil, a transformer, a capacitor; the parts of the circuit that heat it, the way
 * by which the heat leaves it, and what its temperature does to the values of these parts. Immutable.
 *
 * <p>Whichever way a data sheet gives it (junction to ambient; junction to case, case to sink, sink to ambient), the chain is one
 * resistance: those in series add up. A sink with a name is shared by all bodies on it.
 *
 * <pre>{@code
 * HeatedBody transistor = HeatedBody.of("Q1", 40) // K/W from junction to ambient
 *         .withResistance(TemperatureCurve.linear(0.006, 25))
 *         .withMaximum(150);
 * HeatedBody onSink = HeatedBody.of("D1", 1.5 + 0.5).onSink("S1"); // junction to case and case to sink
 * }</pre>
 *
 * @param name what it is called
 * @param parts reference designators of the parts that heat it; a switch brings its body diode along
 * @param resistance thermal resistance from the hottest spot to the ambient, or to the sink, K/W; more than 0
 * @param sink name of the sink that it is on; empty for none
 * @param curve how resistances of the parts go with the temperature; null if they stay
 * @param dropCoefficient change of their forward drops, V/K; 0 if they stay, usually negative; a drop that would fall below 0 stays there
 * @param dropReference the temperature at which the circuit's forward drops hold, °C
 * @param maximum the highest temperature that is permitted, °C; not a number for none
 */
public record HeatedBody(
        String name,
        List<String> parts,
        double resistance,
        String sink,
        @Nullable TemperatureCurve curve,
        double dropCoefficient,
        double dropReference,
        double maximum) {
    /** Data sheets of semiconductors hold at this temperature, °C; common practice, no source. */
    public static final double DATA_SHEET = 25;

    /**
     * Checks the values.
     *
     * @param name what it is called
     * @param parts reference designators of the parts that heat it
     * @param resistance thermal resistance, K/W; more than 0
     * @param sink name of the sink; empty for none
     * @param curve how resistances go with the temperature; null if they stay
     * @param dropCoefficient change of forward drops, V/K
     * @param dropReference where the circuit's forward drops hold, °C
     * @param maximum °C, or not a number
     * @throws IllegalArgumentException telling every fault, if a value is out of its range
     */
    public HeatedBody {
        parts = List.copyOf(parts);
        List<String> faults = new ArrayList<>();
        if (parts.isEmpty()) {
            faults.add("it must be heated by at least one part");
        }
        if (!(resistance > 0 && resistance < Double.POSITIVE_INFINITY)) {
            faults.add("its thermal resistance must be more than 0 K/W but was " + resistance + " K/W");
        }
        if (!Double.isFinite(dropCoefficient)) {
            faults.add("its coefficient of the forward drop must be finite but was " + dropCoefficient + " V/K");
        }
        if (!Double.isFinite(dropReference)) {
            faults.add("its reference temperature must be finite but was " + dropReference + " °C");
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("heated body " + name + ": " + String.join("; ", faults));
        }
    }

    /**
     * Returns a body of one part whose values stay as they are.
     *
     * @param part its reference designator, which is also the name of the body
     * @param resistance thermal resistance to the ambient, K/W; more than 0
     * @return the body
     * @throws IllegalArgumentException if the resistance is out of its range
     */
    public static HeatedBody of(String part, double resistance) {
        return new HeatedBody(part, List.of(part), resistance, "", null, 0, DATA_SHEET, Double.NaN);
    }

    /**
     * Adds parts that heat it too, such as the magnetizing inductance whose core heats the windings.
     *
     * @param others reference designators
     * @return the same with these parts
     */
    public HeatedBody with(String... others) {
        List<String> all = new ArrayList<>(parts);
        all.addAll(List.of(others));
        return new HeatedBody(name, all, resistance, sink, curve, dropCoefficient, dropReference, maximum);
    }

    /**
     * Puts it on a sink.
     *
     * @param sinkName which
     * @return the same, its thermal resistance ending there
     */
    public HeatedBody onSink(String sinkName) {
        return new HeatedBody(name, parts, resistance, sinkName, curve, dropCoefficient, dropReference, maximum);
    }

    /**
     * Says how its resistances go with the temperature: on-resistance, winding, slope of a rectifier.
     *
     * @param over the factor over the temperature
     * @return the same with this
     */
    public HeatedBody withResistance(TemperatureCurve over) {
        return new HeatedBody(name, parts, resistance, sink, over, dropCoefficient, dropReference, maximum);
    }

    /**
     * Says how its forward drop goes with the temperature.
     *
     * @param coefficient V/K; usually about -2 mV/K of silicon at small currents (common practice, no source)
     * @param reference where the value of the circuit holds, °C
     * @return the same with this
     * @throws IllegalArgumentException if a value is not finite
     */
    public HeatedBody withForwardDrop(double coefficient, double reference) {
        return new HeatedBody(name, parts, resistance, sink, curve, coefficient, reference, maximum);
    }

    /**
     * Says what it stands.
     *
     * @param highest °C
     * @return the same with this
     */
    public HeatedBody withMaximum(double highest) {
        return new HeatedBody(name, parts, resistance, sink, curve, dropCoefficient, dropReference, highest);
    }
}
