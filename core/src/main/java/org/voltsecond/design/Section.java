package org.voltsecond.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.tomlj.TomlArray;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;
import org.voltsecond.design.DesignException.Faults;
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
        return value(key, line(key), given(key), kind);
    }

    private double value(String key, int line, @Nullable Object given, Kind kind) {
        double value;
        if (given instanceof String text) {
            value = parsed(key, line, text, kind);
            if (Double.isNaN(value)) {
                return value;
            }
        } else if (given instanceof Long || given instanceof Double) {
            value = ((Number) given).doubleValue();
        } else {
            fault(key, line, "must be a quantity but is " + describe(given) + "; valid: " + kind.valid());
            return Double.NaN;
        }
        if (!kind.range().contains(value)) {
            fault(key, line, "out of range: " + describe(given) + "; valid: " + kind.valid());
        } else if (!kind.isPlausible(value)) {
            fault(key, line, "beyond any converter: " + describe(given) + "; valid: " + kind.plausible());
            return Double.NaN;
        }
        return value;
    }

    /** NaN after a fault; no text stands for NaN. */
    private double parsed(String key, int line, String text, Kind kind) {
        try {
            return Quantity.parse(text, kind.unit());
        } catch (IllegalArgumentException e) {
            // What is valid is said below, with the range of this key; the text may be longer than a line should be.
            String message = String.valueOf(e.getMessage());
            int end = message.lastIndexOf("; valid");
            boolean brief = end > 0 && end < 200;
            fault(
                    key,
                    line,
                    (brief ? message.substring(0, end) : "not a quantity: " + describe(text)) + "; valid: "
                            + kind.valid());
            return Double.NaN;
        }
    }

    /** Reads an array of quantities; empty after a fault of the array as a whole, or if it may be left out and is. */
    List<Double> quantities(String key, Kind kind, int least, int most) {
        String valid =
                "an array of " + (least == most ? least : least + " to " + most) + " values, each " + kind.valid();
        if (!has(key)) {
            if (least > 0) {
                fault(key, "missing; valid: " + valid);
            }
            return List.of();
        }
        if (!(given(key) instanceof TomlArray array) || array.size() < least || array.size() > most) {
            String size = given(key) instanceof TomlArray array ? " of " + array.size() + " values" : "";
            fault(
                    key,
                    "must be an array of another size or kind but is " + describe(given(key)) + size + "; valid: "
                            + valid);
            return List.of();
        }
        List<Double> values = new ArrayList<>();
        for (int i = 0; i < array.size(); i++) {
            values.add(value(key + "[" + (i + 1) + "]", line(key), array.get(i), kind));
        }
        return values;
    }

    /** Reads a whole number that may be left out. */
    int whole(String key, int least, int otherwise) {
        if (!has(key)) {
            return otherwise;
        }
        if (given(key) instanceof Long number && number >= least && number <= Integer.MAX_VALUE) {
            return number.intValue();
        }
        boolean whole = given(key) instanceof Long;
        fault(
                key,
                (whole ? "out of range: " : "must be a whole number but is ") + describe(given(key)) + "; valid: "
                        + least + " or more");
        return otherwise;
    }

    /** Reads true or false, which may be left out. */
    boolean flag(String key, boolean otherwise) {
        if (!has(key)) {
            return otherwise;
        }
        if (given(key) instanceof Boolean flag) {
            return flag;
        }
        fault(key, "must be true or false but is " + describe(given(key)) + "; valid: true, false");
        return otherwise;
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

    /** Reads a text or a whole number, which may be left out, as a text. */
    String label(String key, String otherwise) {
        return has(key) && given(key) instanceof Long number ? number.toString() : text(key, otherwise);
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
        String nearest = given instanceof String word ? Spelling.hint("; nearest: ", word, choices.keySet()) : "";
        fault(key, "must be one of a few words but is " + describe(given) + nearest + "; valid: " + valid);
        return null;
    }

    /** Reads an array of words, each once; the usual ones if it is left out. */
    List<String> words(String key, Set<String> choices, List<String> usual) {
        if (!has(key)) {
            return usual;
        }
        String valid = "an array of one or more of " + String.join(", ", choices);
        if (!(given(key) instanceof TomlArray array) || array.isEmpty()) {
            fault(key, "must be an array of words but is " + describe(given(key)) + "; valid: " + valid);
            return usual;
        }
        List<String> words = new ArrayList<>();
        for (int i = 0; i < array.size(); i++) {
            Object given = array.get(i);
            if (!(given instanceof String word) || !choices.contains(word)) {
                String nearest = given instanceof String word ? Spelling.hint("; nearest: ", word, choices) : "";
                fault(
                        key + "[" + (i + 1) + "]",
                        line(key),
                        "unknown: " + describe(given) + nearest + "; valid: " + valid);
            } else if (words.contains(word)) {
                fault(key + "[" + (i + 1) + "]", line(key), "given twice: " + word + "; valid: each once");
            } else {
                words.add(word);
            }
        }
        return words;
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

    /** A table to look into before it is read; null if there is none. */
    @Nullable
    Section peek(String key) {
        return given(key) instanceof TomlTable inner ? new Section(field(key), inner, line(key), faults) : null;
    }

    /** Whether a key has a word as its value. */
    boolean says(String key, String word) {
        return word.equals(given(key));
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
                        "unknown key" + Spelling.hint("; nearest known key: ", key, known) + "; valid: "
                                + String.join(", ", known));
            }
        }
    }

    void fault(String key, String message) {
        fault(key, line(key), message);
    }

    private void fault(String key, int at, String message) {
        faults.add(at, field(key), message);
    }

    /** How many faults of the whole file have been told so far. */
    int faultCount() {
        return faults.count();
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

    @Nullable
    Object given(String key) {
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
