package org.voltsecond.design;

import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.RailDesign.DesignText;
import org.voltsecond.stage.Phases;
import org.voltsecond.stage.SourceImpedance;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Unit;

/**
 * Reads the parts that a stage has beyond the usual ones, each from the table of its name, and each component of its record from the
 * key of that name: also those of a stage from elsewhere, whose keys stand in a resource of theirs.
 */
final class FurtherParts {
    private final Section root;
    private final Section stage;
    private final Topology topology;

    FurtherParts(Section root, Section stage, Topology topology) {
        this.root = root;
        this.stage = stage;
        this.topology = topology;
    }

    /** The values with those that are given; after a fault of no use. */
    StageParts read(StageParts usual) {
        StageParts parts = usual;
        for (Class<? extends StagePart> kind : kinds()) {
            StagePart part = read(kind);
            parts = part == null ? parts : parts.with(part);
        }
        return parts;
    }

    private List<Class<? extends StagePart>> kinds() {
        Set<Class<? extends StagePart>> all = new HashSet<>(StageParts.EVERYWHERE);
        all.addAll(topology.needs());
        all.addAll(topology.options());
        return all.stream().sorted(Comparator.comparing(StagePart::key)).toList();
    }

    private @Nullable StagePart read(Class<? extends StagePart> kind) {
        if (kind == SourceImpedance.class) {
            return null; // two keys of [input]
        }
        if (kind == Phases.class) {
            return stage.has("phases") ? new Phases(stage.quantity("phases")) : null;
        }
        String table = StagePart.key(kind);
        Section section = topology.needs().contains(kind) ? root.requiredTable(table, "") : root.table(table);
        return section == null ? null : (StagePart) record(section, kind);
    }

    /**
     * A record of numbers, words, bends and further records; numbers that are left out and have no default are not a number. Bends
     * are those of the first number that is an inductance or a capacitance.
     */
    private static Object record(Section section, Class<?> kind) {
        Form form = Form.of(kind);
        boolean bends = List.of(form.types()).contains(List.class);
        PartReader.Storing stored = null;
        List<@Nullable Object> values = new ArrayList<>();
        for (int i = 0; i < form.types().length; i++) {
            String key = Form.key(form.names()[i]);
            if (bends && stored == null && (key.endsWith("inductance") || key.endsWith("capacitance"))) {
                stored = PartReader.Storing.read(section, key);
                values.add(stored.value());
            } else if (form.types()[i] == List.class) {
                values.add(stored == null ? List.of() : stored.bends());
            } else {
                values.add(value(section, key, form.types()[i]));
            }
        }
        section.finish();
        try {
            return kind.getDeclaredConstructor(form.types()).newInstance(values.toArray());
        } catch (ReflectiveOperationException e) {
            throw new IllegalStateException(kind + " is no public record of numbers, words and records", e);
        }
    }

    /**
     * The components of a record.
     *
     * @param names of each
     * @param types of each
     */
    record Form(String[] names, Class<?>[] types) {
        static Form of(Class<?> kind) {
            RecordComponent[] components = kind.getRecordComponents();
            return new Form(
                    Arrays.stream(components).map(RecordComponent::getName).toArray(String[]::new),
                    Arrays.stream(components).map(RecordComponent::getType).toArray(Class<?>[]::new));
        }

        static String key(String name) {
            return name.replaceAll("(?=[A-Z])", "_").toLowerCase(Locale.ROOT);
        }
    }

    private static @Nullable Object value(Section section, String key, Class<?> type) {
        if (type == double.class) {
            return section.quantity(key);
        }
        if (type.isEnum()) {
            Map<String, Object> words = Arrays.stream(type.getEnumConstants())
                    .collect(Collectors.toMap(
                            word -> word.toString().toLowerCase(Locale.ROOT).replace('_', '-'),
                            Function.identity(),
                            (first, second) -> first,
                            TreeMap::new));
            return section.choice(key, words);
        }
        Section table = section.table(key);
        return table == null ? null : record(table, type);
    }

    /** A part as a table of a design file; numbers that are 0 are left out where that is what holds without them. */
    static String text(StagePart part) {
        List<String> lines = new ArrayList<>();
        for (RecordComponent component : part.getClass().getRecordComponents()) {
            String name = Form.key(component.getName());
            Key key = DesignKeys.of(part.key(), name);
            try {
                double value = (double) component.getAccessor().invoke(part);
                if (value != key.usual()) {
                    Unit unit = key.kind().unit();
                    lines.add(name + " = " + (unit == Unit.ONE ? value : DesignText.quantity(value, unit)));
                }
            } catch (ReflectiveOperationException e) {
                throw new IllegalStateException(part + " is no public record of numbers", e);
            }
        }
        return DesignText.table(part.key(), lines.toArray(String[]::new));
    }
}
