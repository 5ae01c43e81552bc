package org.voltsecond.converter;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.ComplexMatrix;
import org.voltsecond.units.Result;

/**
 * The impedance that a stage sees at its input, the converter taken away: of the parts between source and stage, which are linear,
 * by nodal analysis. To a small signal the source is a short circuit.
 */
final class SourceImpedanceCurve {
    private static final double HALF_TURN_BEHIND = -180;

    private final List<Part> parts;
    /** Numbers of the nodes, the stage's input first; -1 of ground and of what the source holds. */
    private final Map<String, Integer> numbers = new HashMap<>();

    private final int unknown;

    private SourceImpedanceCurve(String node, Port source, List<Part> parts) {
        this.parts = parts;
        numbers.put(Circuit.GROUND, -1);
        numbers.put(source.plus(), -1);
        numbers.put(source.minus(), -1);
        numbers.putIfAbsent(node, 0);
        int next = 1;
        for (Part part : parts) {
            for (String end : ends(part)) {
                next += numbers.putIfAbsent(end, next) == null ? 1 : 0;
            }
        }
        unknown = next;
    }

    /** What lies between source and stage. */
    static List<Part> parts(Converter converter, String node) {
        Circuit circuit = converter.values().power();
        Port source = circuit.part(converter.roles().source()).ports().get(0);
        return before(circuit, source, node, converter.roles().inputCapacitors());
    }

    /** The curve, or why there is none. */
    static Result<FrequencyResponse> of(Converter converter, String node, double... frequencies) {
        Circuit circuit = converter.values().power();
        Port source = circuit.part(converter.roles().source()).ports().get(0);
        List<Part> parts = parts(converter, node);
        for (Part part : parts) {
            if (!isLinear(part)) {
                return Result.missing(
                        "what lies between source and stage must be resistors, inductors and capacitors of constant "
                                + "values, but there is " + part);
            }
        }
        SourceImpedanceCurve curve = new SourceImpedanceCurve(node, source, parts);
        return Result.of(FrequencyResponse.of("output impedance of the source", "Ω", frequencies, curve::at)
                .withFirstPhaseAbove(HALF_TURN_BEHIND));
    }

    /** What can be reached from the source without passing the stage's input, and what is known to lie across that. */
    private static List<Part> before(Circuit circuit, Port source, String node, List<String> across) {
        Set<String> seen = new HashSet<>(List.of(node, Circuit.GROUND));
        Deque<String> open = new ArrayDeque<>(List.of(source.plus(), source.minus()));
        open.removeIf(end -> !seen.add(end));
        List<Part> found = new ArrayList<>();
        while (!open.isEmpty()) {
            String at = open.remove();
            for (Part part : circuit.parts()) {
                if (!part.ports().contains(source)
                        && !liesAcross(part, source)
                        && !found.contains(part)
                        && ends(part).contains(at)) {
                    found.add(part);
                    ends(part).stream().filter(seen::add).forEach(open::add);
                }
            }
        }
        circuit.parts().stream()
                .filter(part -> across.contains(part.name()) && !found.contains(part) && !liesAcross(part, source))
                .forEach(found::add);
        return found;
    }

    /** What lies across the source itself is nothing beside it. */
    private static boolean liesAcross(Part part, Port source) {
        return List.of(source.plus(), source.minus()).containsAll(ends(part));
    }

    private static List<String> ends(Part part) {
        List<String> ends = new ArrayList<>();
        part.ports().forEach(port -> ends.addAll(List.of(port.plus(), port.minus())));
        return ends;
    }

    private static boolean isLinear(Part part) {
        return (part instanceof Part.Resistor resistor && resistor.resistance() > 0)
                || (part instanceof Part.Inductor inductor
                        && inductor.saturation().isEmpty())
                || (part instanceof Part.Capacitor capacitor && capacitor.bias().isEmpty());
    }

    /** The voltage that 1 A fed into the stage's input makes there. */
    private Complex at(double frequency) {
        if (numbers.containsValue(0)) {
            ComplexMatrix admittances = new ComplexMatrix(unknown, unknown);
            for (Part part : parts) {
                add(admittances, part, impedance(part, 2 * Math.PI * frequency).reciprocal());
            }
            ComplexMatrix voltages = new ComplexMatrix(unknown, 1);
            voltages.add(0, 0, 1, 0);
            admittances.solve(voltages);
            return new Complex(voltages.real(0, 0), voltages.imaginary(0, 0));
        }
        return Complex.ZERO; // the source itself feeds the stage
    }

    private void add(ComplexMatrix admittances, Part part, Complex value) {
        int from = numbers.getOrDefault(ends(part).get(0), -1);
        int to = numbers.getOrDefault(ends(part).get(1), -1);
        int[] both = {from, to};
        for (int i : both) {
            for (int j : both) {
                if (i >= 0 && j >= 0) {
                    int sign = i == j ? 1 : -1;
                    admittances.add(i, j, sign * value.real(), sign * value.imaginary());
                }
            }
        }
    }

    private static Complex impedance(Part part, double omega) {
        if (part instanceof Part.Inductor inductor) {
            return new Complex(inductor.seriesResistance(), omega * inductor.inductance());
        }
        if (part instanceof Part.Capacitor capacitor) {
            return new Complex(capacitor.seriesResistance(), -1 / (omega * capacitor.capacitance()));
        }
        return Complex.of(((Part.Resistor) part).resistance());
    }
}
