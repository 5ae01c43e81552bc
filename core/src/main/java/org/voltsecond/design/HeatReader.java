package org.voltsecond.design;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.BiConsumer;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.losses.CapacitorRating;
import org.voltsecond.losses.FrequencyTable;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.losses.HeatedBody;
import org.voltsecond.losses.TemperatureCurve;
import org.voltsecond.stage.Roles;
import org.voltsecond.units.Spelling;

/** Reads the table [heat]: how hot parts become, and what they stand. */
final class HeatReader {
    static final String TABLE = "heat";

    private static final List<String> OF_CAPACITOR = List.of(
            "rated_ripple_current",
            "ripple_factors",
            "derating",
            "rated_rise",
            "series_resistance",
            "rated_hours",
            "rated_temperature");
    private static final List<String> OF_CHAIN = List.of("junction_to_case", "case_to_sink", "sink_to_ambient");

    private final Section table;
    private final @Nullable Converter converter;
    private final Map<String, Double> sinks = new LinkedHashMap<>();
    private final Map<String, HeatedBody> bodies = new LinkedHashMap<>();
    private final Map<String, CapacitorRating> capacitors = new LinkedHashMap<>();
    /** By which table a part is heated. */
    private final Map<String, String> taken = new LinkedHashMap<>();

    private HeatReader(Section table, @Nullable Converter converter) {
        this.table = table;
        this.converter = converter;
    }

    /** Null if there is no such table, or after faults. */
    static @Nullable HeatModel read(Section root, @Nullable Converter converter, @Nullable LossPlan losses) {
        Section table = root.table(TABLE);
        if (table == null) {
            return null;
        }
        int before = table.faultCount();
        HeatModel model = new HeatReader(table, converter).read(before);
        return model == null || losses == null ? model : model.with(losses.models());
    }

    private @Nullable HeatModel read(int before) {
        double ambient = table.quantity("ambient");
        each(table.table("sinks"), (sink, name) -> sinks.put(name, sink.quantity("thermal_resistance")));
        each(table.requiredTable("parts", "a table for each part, for example " + table.example("parts")), this::read);
        table.finish();
        return table.faultCount() > before || converter == null
                ? null
                : new HeatModel(
                        ambient, List.copyOf(bodies.values()), sinks, List.of(), List.copyOf(capacitors.values()));
    }

    /** Reads each table of a table whose keys are names. */
    static void each(@Nullable Section tables, BiConsumer<Section, String> reader) {
        if (tables == null) {
            return;
        }
        for (String name : tables.keys()) {
            Section one = tables.table(name);
            if (one != null) {
                reader.accept(one, name);
                one.finish();
            }
        }
    }

    private void read(Section part, String name) {
        int before = part.faultCount();
        double resistance = resistance(part);
        String sink = part.text("sink", "");
        if (!sink.isEmpty() && !sinks.containsKey(sink)) {
            part.fault(
                    "sink",
                    "is not in the table [heat.sinks]: \"" + sink + "\"; valid: "
                            + (sinks.isEmpty() ? "a name given there" : String.join(", ", sinks.keySet())));
        }
        TemperatureCurve curve = curve(part);
        double drop = part.quantity("forward_drop_coefficient");
        double reference = part.quantity("reference_temperature");
        double maximum = part.quantity("maximum_temperature");
        Rated rated = Rated.read(part);
        List<String> meant = meant(part, name, converter);
        for (String each : meant) {
            Part of = circuit().part(each);
            check(part, of, resistance);
            String other = taken.putIfAbsent(each, name);
            if (other != null) {
                part.fault("is of " + each + ", as [heat.parts." + other + "] is; valid: one of the two");
            }
            if (of instanceof Part.Capacitor) {
                capacitors.put(each, rated.of(each, maximum, resistance));
            }
            boolean separate = of instanceof Part.Capacitor && rated.ohm() != null;
            if (resistance > 0 && !separate && part.faultCount() == before) {
                bodies.put(each, body(of, resistance, sink, curve, drop, reference, maximum));
            }
        }
    }

    private Circuit circuit() {
        return Objects.requireNonNull(converter).circuit();
    }

    /** From the hottest spot to the ambient, or to a shared sink; not a number if it is not given. */
    private static double resistance(Section part) {
        double all = part.quantity("thermal_resistance");
        double toCase = part.quantity("junction_to_case");
        double toSink = part.quantity("case_to_sink");
        double toAmbient = part.quantity("sink_to_ambient");
        boolean chained = OF_CHAIN.stream().filter(part::has).count() > 0;
        if (part.has("thermal_resistance")) {
            if (chained) {
                part.fault(
                        "thermal_resistance",
                        "is the whole thermal path, but sections of it are given as well; valid: one of the two");
            }
            return all;
        }
        if (!chained) {
            return Double.NaN;
        }
        if (!part.has("junction_to_case")) {
            part.fault("junction_to_case", "missing in the path from junction to ambient; valid: more than 0 K/W");
        }
        if (part.has("sink_to_ambient") == part.has("sink")) {
            part.fault(
                    "sink_to_ambient",
                    (part.has("sink")
                                    ? "is given beside a shared sink"
                                    : "missing in the path from junction to ambient")
                            + "; valid: either sink_to_ambient, or sink with the name of a shared one");
        }
        return toCase + toSink + (part.has("sink_to_ambient") ? toAmbient : 0);
    }

    /** Null where the file says nothing. */
    private static @Nullable TemperatureCurve curve(Section part) {
        boolean linear = part.has("temperature_coefficient");
        double coefficient = part.quantity("temperature_coefficient");
        double reference = part.quantity("reference_temperature");
        int before = part.faultCount();
        List<TemperatureCurve.Point> points = new ArrayList<>();
        for (Section row : part.tables("resistance_over_temperature")) {
            points.add(new TemperatureCurve.Point(row.quantity("temperature"), row.quantity("factor")));
            row.finish();
        }
        if (!points.isEmpty() && linear) {
            part.fault("temperature_coefficient", "is given beside resistance_over_temperature; valid: one of the two");
        }
        if (part.faultCount() > before || (points.isEmpty() && !linear)) {
            return null;
        }
        try {
            return points.isEmpty()
                    ? TemperatureCurve.linear(coefficient, Double.isNaN(reference) ? HeatedBody.DATA_SHEET : reference)
                    : new TemperatureCurve(points);
        } catch (IllegalArgumentException e) {
            part.fault(
                    points.isEmpty() ? "temperature_coefficient" : "resistance_over_temperature",
                    e.getMessage() + "; valid: two rows or more, by rising temperature");
            return null;
        }
    }

    private HeatedBody body(
            Part of,
            double resistance,
            String sink,
            @Nullable TemperatureCurve curve,
            double drop,
            double reference,
            double maximum) {
        boolean winds = isWound(of);
        double at = Double.isNaN(reference) ? HeatedBody.DATA_SHEET : reference;
        HeatedBody body = new HeatedBody(
                of.name(), List.of(of.name()), resistance, sink, curve, Double.isNaN(drop) ? 0 : drop, at, maximum);
        if (winds && curve == null) {
            body = body.withResistance(
                    TemperatureCurve.copper(Double.isNaN(reference) ? TemperatureCurve.COPPER_REFERENCE : reference));
        }
        return of instanceof Part.IdealTransformer transformer
                ? body.with(storing(Objects.requireNonNull(converter), transformer).stream()
                        .filter(name -> !taken.containsKey(name))
                        .toArray(String[]::new))
                : body;
    }

    private static boolean isWound(Part of) {
        return of instanceof Part.Inductor
                || of instanceof Part.CoupledInductors
                || of instanceof Part.IdealTransformer;
    }

    /** Not so one that stands for the midpoint of an input. */
    private static boolean winds(Part.IdealTransformer transformer) {
        return transformer.windings().stream().anyMatch(winding -> winding.seriesResistance() > 0);
    }

    /** The inductors across the windings, whose core heats these. */
    private static List<String> storing(Converter converter, Part.IdealTransformer transformer) {
        return converter.circuit().parts().stream()
                .filter(part -> part instanceof Part.Inductor inductor
                        && transformer.windings().stream()
                                .anyMatch(winding -> winding.plus().equals(inductor.a())
                                        && winding.minus().equals(inductor.b())))
                .map(Part::name)
                .toList();
    }

    /** What does not fit the kind of a part, and what is missing. */
    private void check(Section part, Part of, double resistance) {
        boolean capacitor = of instanceof Part.Capacitor;
        boolean drops = of instanceof Part.Rectifier || of instanceof Part.Switch;
        if (part.has("forward_drop_coefficient") && !drops) {
            part.fault("forward_drop_coefficient", "is of a rectifier or a switch, which " + of.name() + " is not");
        }
        if (!capacitor) {
            OF_CAPACITOR.stream()
                    .filter(part::has)
                    .forEach(key -> part.fault(key, "is of a capacitor, which " + of.name() + " is not"));
        }
        boolean chained = OF_CHAIN.stream().anyMatch(part::has);
        if (!capacitor && Double.isNaN(resistance) && !part.has("thermal_resistance") && !chained) {
            part.fault(
                    "thermal_resistance",
                    "missing; valid: this, or junction_to_case with what follows, for example "
                            + part.example("thermal_resistance"));
        }
    }

    /** The parts that a name stands for: itself, or all that do what it says. */
    static List<String> meant(Section part, String name, @Nullable Converter converter) {
        if (converter == null) {
            return List.of();
        }
        Map<String, List<String>> words = words(converter);
        List<String> all = converter.circuit().parts().stream().map(Part::name).toList();
        if (all.contains(name)) {
            return List.of(name);
        }
        List<String> found = words.getOrDefault(name, List.of());
        if (found.isEmpty()) {
            Set<String> valid = new LinkedHashSet<>(all);
            words.forEach((word, parts) -> {
                if (!parts.isEmpty()) {
                    valid.add(word);
                }
            });
            part.fault("there is no such part" + Spelling.hint("; nearest: ", name, valid) + "; valid: "
                    + String.join(", ", valid));
        }
        return found;
    }

    private static Map<String, List<String>> words(Converter converter) {
        Roles roles = converter.roles();
        Map<String, List<String>> words = new LinkedHashMap<>();
        words.put("transistor", roles.switches());
        words.put(
                "rectifier",
                Stream.concat(roles.rectifiers().stream(), roles.synchronous().stream())
                        .toList());
        words.put(
                "inductor",
                roles.inductors().stream()
                        .map(port -> port.replaceFirst("[.].*", ""))
                        .distinct()
                        .toList());
        words.put("output_capacitor", roles.outputCapacitor().stream().toList());
        words.put("input_capacitor", roles.inputCapacitors());
        words.put(
                "transformer",
                converter.circuit().parts().stream()
                        .filter(part -> part instanceof Part.IdealTransformer transformer
                                && (winds(transformer)
                                        || !storing(converter, transformer).isEmpty()))
                        .map(Part::name)
                        .toList());
        roles.heats().forEach((word, parts) -> words.putIfAbsent(word.replace(' ', '_'), parts));
        return words;
    }

    /** What the file says of a capacitor; what it leaves out is not a number. */
    private record Rated(
            double current,
            FrequencyTable factors,
            double derating,
            double rise,
            @Nullable FrequencyTable ohm,
            double hours,
            double temperature) {
        static Rated read(Section part) {
            FrequencyTable factors = over(part, "ripple_factors", "factor");
            if (part.has("rated_rise") && !part.has("rated_ripple_current")) {
                part.fault(
                        "rated_rise",
                        "needs the rated ripple current, which is missing; valid: rated_ripple_current too");
            }
            if (part.has("rated_hours") != part.has("rated_temperature")) {
                part.fault(
                        part.has("rated_hours") ? "rated_temperature" : "rated_hours",
                        "missing beside its counterpart; valid: rated_hours and rated_temperature together");
            }
            return new Rated(
                    part.quantity("rated_ripple_current"),
                    factors == null ? FrequencyTable.of(1, 1) : factors,
                    part.quantity("derating"),
                    part.quantity("rated_rise"),
                    over(part, "series_resistance", "resistance"),
                    part.quantity("rated_hours"),
                    part.quantity("rated_temperature"));
        }

        /** Null if it is not given, or after a fault. */
        private static @Nullable FrequencyTable over(Section part, String list, String quantity) {
            int before = part.faultCount();
            List<FrequencyTable.Point> points = new ArrayList<>();
            for (Section row : part.tables(list)) {
                points.add(new FrequencyTable.Point(row.quantity("frequency"), row.quantity(quantity)));
                row.finish();
            }
            if (points.isEmpty() || part.faultCount() > before) {
                return null;
            }
            try {
                return new FrequencyTable(points);
            } catch (IllegalArgumentException e) {
                part.fault(list, e.getMessage() + "; valid: rows by rising frequency");
                return null;
            }
        }

        CapacitorRating of(String name, double maximum, double resistance) {
            return new CapacitorRating(
                    name, current, factors, derating, rise, ohm, resistance, maximum, hours, temperature);
        }
    }
}
