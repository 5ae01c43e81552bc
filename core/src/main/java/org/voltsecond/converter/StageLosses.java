package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.voltsecond.circuit.Part;
import org.voltsecond.stage.Roles;

/**
 * Where a converter turns power into heat, as means over a period.
 *
 * <pre>{@code
 * StageLosses losses = steady.losses();
 * double diode = losses.rectifier(); // 486.8 mW
 * double all = losses.total(); // 754.8 mW
 * }</pre>
 *
 * @param groups mean losses by what they are called, W: transistor, rectifier, inductor and output capacitor, then parts that the
 *     stage tells beside these, such as a clamp or an input filter, last the other parts
 */
public record StageLosses(Map<String, Double> groups) {
    /** The on-resistance of the transistor, its forward drop, and its body diode if it has one. */
    public static final String TRANSISTOR = "transistor";
    /** The forward drop and resistance of the rectifier. */
    public static final String RECTIFIER = "rectifier";
    /** The series resistance of the inductor. */
    public static final String INDUCTOR = "inductor";
    /** The series resistance of the output capacitor. */
    public static final String OUTPUT_CAPACITOR = "output capacitor";
    /** Every part that has no role of its own, such as a snubber in a custom circuit. */
    public static final String OTHERS = "other parts";

    /**
     * Copies the losses.
     *
     * @param groups mean losses by what they are called, W
     */
    public StageLosses {
        groups = Collections.unmodifiableMap(new LinkedHashMap<>(groups));
    }

    /**
     * Returns what losses of a converter are told, and the parts of each.
     *
     * @param converter the converter
     * @return reference designators by what they are called; the other parts only where there are some that may become hot
     */
    public static Map<String, List<String>> parts(Converter converter) {
        Roles roles = converter.roles();
        Map<String, List<String>> groups = new LinkedHashMap<>();
        groups.put(TRANSISTOR, converter.withBodyDiodes(roles.switches()));
        groups.put(
                RECTIFIER,
                Stream.concat(roles.rectifiers().stream(), converter.withBodyDiodes(roles.synchronous()).stream())
                        .toList());
        groups.put(
                INDUCTOR,
                roles.inductors().stream()
                        .map(StageLosses::partOfPort)
                        .distinct()
                        .toList());
        groups.put(OUTPUT_CAPACITOR, roles.outputCapacitor().map(List::of).orElse(List.of()));
        groups.putAll(roles.heats());
        Set<String> told = new HashSet<>();
        groups.values().forEach(told::addAll);
        told.add(roles.loadResistor().orElse(""));
        told.add(roles.loadSink().orElse(""));
        List<String> others = new ArrayList<>(furtherSources(converter));
        for (Part part : converter.values().power().parts()) {
            if (!told.contains(part.name()) && mayHeat(part)) {
                others.add(part.name());
            }
        }
        if (!others.isEmpty()) {
            groups.put(OTHERS, others);
        }
        return groups;
    }

    /** Whether it is a custom circuit, and none that a stage has wired. */
    static boolean isOwn(Converter converter) {
        return converter.topology() instanceof ConverterBuilder.OwnCircuit;
    }

    /** The sources of a custom circuit beside its input and its load; those of a stage have a role. */
    static List<String> furtherSources(Converter converter) {
        Roles roles = converter.roles();
        return !isOwn(converter)
                ? List.of()
                : converter.values().power().parts().stream()
                        .filter(part -> part instanceof Part.VoltageSource || part instanceof Part.CurrentSource)
                        .map(Part::name)
                        .filter(name -> !name.equals(roles.source())
                                && !roles.loadSink().equals(Optional.of(name)))
                        .toList();
    }

    /**
     * Returns under which words losses are told, and the parts of each: of a custom circuit each part by its name, with the
     * diode across it, else as {@link #parts}.
     *
     * @param converter the converter
     * @return reference designators by words
     */
    public static Map<String, List<String>> told(Converter converter) {
        Map<String, List<String>> roles = parts(converter);
        if (!isOwn(converter)) {
            return roles;
        }
        Set<String> hot = roles.values().stream().flatMap(List::stream).collect(Collectors.toSet());
        Map<String, List<String>> told = new LinkedHashMap<>();
        Set<String> diodes = new HashSet<>();
        for (Part part : converter.values().power().parts()) {
            boolean closes = part instanceof Part.Switch;
            List<String> both = closes ? converter.withBodyDiodes(List.of(part.name())) : List.of(part.name());
            diodes.addAll(both.subList(1, both.size()));
            if (hot.contains(part.name())) {
                told.put(part.name(), both);
            }
        }
        told.keySet().removeAll(diodes);
        return told;
    }

    /** A winding is named "T1.2". */
    private static String partOfPort(String port) {
        int dot = port.indexOf('.');
        return dot < 0 ? port : port.substring(0, dot);
    }

    private static boolean mayHeat(Part part) {
        if (part instanceof Part.VoltageSource || part instanceof Part.CurrentSource) {
            return false;
        }
        if (part instanceof Part.Inductor inductor) {
            return inductor.seriesResistance() > 0;
        }
        if (part instanceof Part.Capacitor capacitor) {
            return capacitor.seriesResistance() > 0;
        }
        if (part instanceof Part.CoupledInductors coupled) {
            return coupled.windings().stream().anyMatch(winding -> winding.seriesResistance() > 0);
        }
        if (part instanceof Part.IdealTransformer transformer) {
            return transformer.windings().stream().anyMatch(winding -> winding.seriesResistance() > 0);
        }
        return true;
    }

    private double of(String group) {
        return groups.getOrDefault(group, 0.0);
    }

    /** {@return in the transistor and its body diode, W} */
    public double transistor() {
        return of(TRANSISTOR);
    }

    /** {@return in the rectifier, W} */
    public double rectifier() {
        return of(RECTIFIER);
    }

    /** {@return in the series resistance of the inductor, W} */
    public double inductor() {
        return of(INDUCTOR);
    }

    /** {@return in the series resistance of the output capacitor, W} */
    public double outputCapacitor() {
        return of(OUTPUT_CAPACITOR);
    }

    /** {@return in every part that has no role of its own, W} */
    public double others() {
        return of(OTHERS);
    }

    /** {@return all losses together, W} */
    public double total() {
        double sum = 0;
        for (double loss : groups.values()) {
            sum += loss;
        }
        return sum;
    }
}
