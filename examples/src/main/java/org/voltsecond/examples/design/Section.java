package org.voltsecond.examples.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.tomlj.TomlArray;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;
import org.voltsecond.units.Quantity;

/**
 * One table of the file while it is being read. A value that is wrong is told to the faults and read as something
 * harmless, so that reading goes on and finds the other faults. Remembers the keys it was asked for: the rest is unknown.
 */
final class Section {
    private final String path;
    private final TomlTable table;
    private final int line;
    private final Faults faults;
    private final Set<String> known = new TreeSet<>();

    private Section(String path, TomlTable table, int line, Faults faults) {
        this.path = path;
        this.table = table;
        this.line = line;
        this.faults = faults;
    }

    static Section root(TomlTable table, Faults faults) {
        return new Section("", table, 1, faults);
    }

    boolean has(String key) {
        known.add(key);
        return table.contains(List.of(key));
    }

    /** Reads a quantity that must be there; NaN if it is not or is wrong. */
    double quantity(String key, Kind kind) {
        if (!has(key)) {
            fault(key, "missing; valid: " + kind.valid());
            return Double.NaN;
        }
        return value(key, kind);
    }

    /** Reads a quantity that may be left out. */
    double quantity(String key, Kind kind, double otherwise) {
        return has(key) ? value(key, kind) : otherwise;
    }

    private double value(String key, Kind kind) {
        Object given = given(key);
        double value;
        if (given instanceof String text) {
            value = parsed(key, text, kind);
            if (Double.isNaN(value)) {
                return value;
            }
        } else if (given instanceof Long || given instanceof Double) {
            value = ((Number) given).doubleValue();
        } else {
            fault(key, "must be a quantity but is " + describe(given) + "; valid: " + kind.valid());
            return Double.NaN;
        }
        if (!kind.range().contains(value)) {
            fault(key, "out of range: " + describe(given) + "; valid: " + kind.valid());
        }
        return value;
    }

    /** NaN after a fault; no text stands for NaN. */
    private double parsed(String key, String text, Kind kind) {
        try {
            return Quantity.parse(text, kind.unit());
        } catch (IllegalArgumentException e) {
            // What is valid is said below, with the range of this key; the text may be longer than a line should be.
            String message = String.valueOf(e.getMessage());
            int end = message.lastIndexOf("; valid");
            boolean brief = end > 0 && end < 200;
            fault(
                    key,
                    (brief ? message.substring(0, end) : "not a quantity: " + describe(text)) + "; valid: "
                            + kind.valid());
            return Double.NaN;
        }
    }

    /** Reads a text that may be left out. */
    String text(String key, String otherwise) {
        if (!has(key)) {
            return otherwise;
        }
        if (given(key) instanceof String text) {
            return text;
        }
        fault(key, "must be a text in quotation marks but is " + describe(given(key)));
        return otherwise;
    }

    /** Reads one of several words; null if it is missing without a default, or wrong. */
    <T> @Nullable T choice(String key, Map<String, T> choices, @Nullable T otherwise) {
        String valid = String.join(", ", choices.keySet());
        if (!has(key)) {
            if (otherwise == null) {
                fault(key, "missing; valid: " + valid);
            }
            return otherwise;
        }
        Object given = given(key);
        if (given instanceof String word && choices.containsKey(word)) {
            return choices.get(word);
        }
        String nearest = given instanceof String word ? "; nearest: " + Spelling.nearest(word, choices.keySet()) : "";
        fault(key, "must be one of a few words but is " + describe(given) + nearest + "; valid: " + valid);
        return null;
    }

    /** Opens a table that may be left out; null if it is, or is no table. */
    @Nullable
    Section table(String key) {
        if (!has(key)) {
            return null;
        }
        if (given(key) instanceof TomlTable inner) {
            return new Section(field(key), inner, line(key), faults);
        }
        fault(key, "must be a table but is " + describe(given(key)));
        return null;
    }

    /** Opens a table that must be there; null if it is not. */
    @Nullable
    Section requiredTable(String key, String content) {
        if (!has(key)) {
            fault(key, "missing table; add [" + key + "] with " + content);
        }
        return table(key);
    }

    /** Opens all tables of an array of tables, which may be left out. */
    List<Section> tables(String key) {
        List<Section> sections = new ArrayList<>();
        if (!has(key)) {
            return sections;
        }
        if (!(given(key) instanceof TomlArray array)) {
            fault(
                    key,
                    "must be an array of tables, each headed [[" + field(key) + "]], but is " + describe(given(key)));
            return sections;
        }
        for (int i = 0; i < array.size(); i++) {
            int at = array.inputPositionOf(i).line();
            String name = field(key) + "[" + (i + 1) + "]";
            if (array.get(i) instanceof TomlTable inner) {
                sections.add(new Section(name, inner, at, faults));
            } else {
                faults.add(at, name, "must be a table headed [[" + field(key) + "]] but is " + describe(array.get(i)));
            }
        }
        return sections;
    }

    /** Tells of every key that nobody asked for. */
    void finish() {
        for (String key : table.keySet()) {
            if (!known.contains(key)) {
                fault(
                        key,
                        "unknown key; nearest known key: " + Spelling.nearest(key, known) + "; valid: "
                                + String.join(", ", known));
            }
        }
    }

    void fault(String key, String message) {
        faults.add(line(key), field(key), message);
    }

    /** Tells of a fault of the table as a whole. */
    void fault(String message) {
        faults.add(line, path, message);
    }

    int line() {
        return line;
    }

    private int line(String key) {
        TomlPosition position = table.inputPositionOf(List.of(key));
        return position == null ? line : position.line();
    }

    private String field(String key) {
        return path.isEmpty() ? Printable.of(key) : path + "." + Printable.of(key);
    }

    private @Nullable Object given(String key) {
        return table.get(List.of(key));
    }

    private static String describe(@Nullable Object given) {
        if (given instanceof String text) {
            return "\"" + Printable.of(text) + "\"";
        }
        if (given instanceof TomlArray) {
            return "an array";
        }
        return given instanceof TomlTable ? "a table" : String.valueOf(given);
    }
}
