package org.voltsecond.design;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignException.Faults;
import org.voltsecond.design.DesignTree.Items;
import org.voltsecond.design.DesignTree.Table;
import org.voltsecond.design.Key.Kind;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Spelling;

/**
 * One table of the file while it is being read, by the table of keys: that knows unit, range, default and example of each.
 * A value that is wrong is told to the faults and read as something harmless (a quantity as NaN), so that reading goes on
 * and finds the other faults. Remembers the keys it was asked for: the rest is unknown.
 */
final class Section {
    private final String path;
    private final Table table;
    private final int line;
    private final Faults faults;
    private final Set<String> known = new TreeSet<>();

    private Section(String path, Table table, int line, Faults faults) {
        this.path = path;
        this.table = table;
        this.line = line;
        this.faults = faults;
    }

    static Section root(Table table, Faults faults) {
        return new Section("", table, 1, faults);
    }

    boolean has(String key) {
        known.add(key);
        return table.values().containsKey(key);
    }

    /** The names of the values of parts, which have a dot within, that it holds. */
    List<String> partValues() {
        return table.values().keySet().stream().filter(key -> key.contains(".")).toList();
    }

    /** The keys that it holds, in a table whose keys are names. */
    List<String> keys() {
        return List.copyOf(table.values().keySet());
    }

    /** Whether a key has a word as its value. */
    boolean says(String key, String word) {
        return word.equals(given(key));
    }

    @Nullable
    Object given(String key) {
        return table.values().get(key);
    }

    /** The line of the table of keys for a key of this table. */
    private Key key(String key) {
        return DesignKeys.of(path.replaceAll("\\[\\d+]", ""), key, given("kind") instanceof String kind ? kind : "");
    }

    /** A valid value of a key, as it would be written. */
    String example(String key) {
        return key(key).example();
    }

    /** Reads a quantity: its default where it is left out and has one, NaN where it has none, or after a fault. */
    double quantity(String key) {
        return quantity(key, key(key).usual());
    }

    /** Reads a quantity whose default depends on the rest of the file. */
    double quantity(String key, double otherwise) {
        Key wanted = key(key);
        if (has(key)) {
            return value(key, given(key), wanted.kind());
        }
        return wanted.isNeeded() ? missing(key, wanted.kind()) : otherwise;
    }

    /** Reads a quantity that must be there, here, though the table of keys says that it may be left out elsewhere. */
    double required(String key) {
        return required(key, key(key).kind());
    }

    /** Reads a quantity that must be there, and what it must be depends on the rest of the file. */
    double required(String key, Kind kind) {
        return has(key) ? value(key, given(key), kind) : missing(key, kind);
    }

    private double missing(String key, Kind kind) {
        fault(key, "missing; valid: " + kind.valid());
        return Double.NaN;
    }

    /** NaN after a fault. */
    private double value(String key, @Nullable Object given, Kind kind) {
        int at = line(key.replaceFirst("\\[\\d+]$", ""));
        double value;
        if (given instanceof String text) {
            value = parsed(key, at, text, kind);
            if (Double.isNaN(value)) {
                return value;
            }
        } else if (given instanceof Long || given instanceof Double) {
            value = ((Number) given).doubleValue();
        } else {
            fault(key, at, "must be a quantity but is " + describe(given) + "; valid: " + kind.valid());
            return Double.NaN;
        }
        if (!kind.range().contains(value)) {
            fault(key, at, "out of range: " + describe(given) + "; valid: " + kind.valid());
            return Double.NaN;
        }
        if (!kind.isPlausible(value)) {
            fault(key, at, "beyond any converter: " + describe(given) + "; valid: " + kind.plausible());
            return Double.NaN;
        }
        return value;
    }

    /** NaN after a fault; no text stands for NaN. */
    private double parsed(String key, int at, String text, Kind kind) {
        try {
            return Quantity.parse(text, kind.unit());
        } catch (IllegalArgumentException e) {
            // What is valid is said below, with the range of this key; the text may be longer than a line should be.
            String message = String.valueOf(e.getMessage());
            int end = message.lastIndexOf("; valid");
            boolean brief = end > 0 && end < 200;
            String wrong = brief ? message.substring(0, end) : "not a quantity: " + describe(text);
            fault(key, at, wrong + "; valid: " + kind.valid());
            return Double.NaN;
        }
    }

    /** Reads an array of quantities; empty after a fault of the array as a whole, or if it may be left out and is. */
    List<Double> quantities(String key) {
        Key wanted = key(key);
        int least = wanted.least();
        int most = wanted.most();
        String valid = "an array of " + (least == most ? least : least + " to " + most) + " values, each "
                + wanted.kind().valid();
        if (!has(key)) {
            if (wanted.isNeeded()) {
                fault(key, "missing; valid: " + valid);
            }
            return List.of();
        }
        if (!(given(key) instanceof Items array) || array.size() < least || array.size() > most) {
            String size = given(key) instanceof Items array ? " of " + array.size() + " values" : "";
            fault(
                    key,
                    "must be an array of another size or kind but is " + describe(given(key)) + size + "; valid: "
                            + valid);
            return List.of();
        }
        List<Double> values = new ArrayList<>();
        for (int i = 0; i < array.size(); i++) {
            values.add(value(key + "[" + (i + 1) + "]", array.get(i), wanted.kind()));
        }
        return values;
    }

    /** Reads a whole number; its least one after a fault. */
    int whole(String key) {
        Key wanted = key(key);
        int otherwise = Double.isNaN(wanted.usual()) ? wanted.least() : (int) wanted.usual();
        if (wanted.isNeeded() && !has(key)) {
            fault(key, "missing; valid: a whole number, " + wanted.valid() + ", for example " + wanted.example());
        }
        return whole(key, otherwise);
    }

    /** Reads a whole number whose default depends on the rest of the file. */
    int whole(String key, int otherwise) {
        if (!has(key)) {
            return otherwise;
        }
        Key wanted = key(key);
        if (given(key) instanceof Long number && number >= wanted.least() && number <= wanted.most()) {
            return number.intValue();
        }
        boolean whole = given(key) instanceof Long;
        fault(
                key,
                (whole ? "out of range: " : "must be a whole number but is ") + describe(given(key)) + "; valid: "
                        + wanted.valid());
        return otherwise;
    }

    /** Reads true or false. */
    boolean flag(String key) {
        boolean otherwise = Boolean.parseBoolean(key(key).otherwise());
        if (!has(key)) {
            return otherwise;
        }
        if (given(key) instanceof Boolean flag) {
            return flag;
        }
        fault(key, "must be true or false but is " + describe(given(key)) + "; valid: true, false");
        return otherwise;
    }

    /** Reads a text; what is left out or wrong is what the table of keys says, or, if that is no value, the given one. */
    String text(String key, String otherwise) {
        Key wanted = key(key);
        if (!has(key)) {
            if (wanted.isNeeded()) {
                fault(key, "missing; valid: " + wanted.valid() + ", for example " + wanted.example());
            }
            return otherwise;
        }
        if (given(key) instanceof String text && !text.isBlank()) {
            return text;
        }
        fault(
                key,
                (given(key) instanceof String
                                ? "is empty"
                                : "must be a text in quotation marks but is " + describe(given(key)))
                        + "; valid: " + wanted.valid() + ", for example " + wanted.example());
        return otherwise;
    }

    /** Reads a text or a whole number as a text. */
    String label(String key) {
        return has(key) && given(key) instanceof Long number ? number.toString() : text(key, key(key).otherwise());
    }

    /** Reads one of several words; null if it is missing without a default, or wrong. */
    <T> @Nullable T choice(String key, Map<String, T> choices) {
        Key wanted = key(key);
        wanted.requireWords(choices.keySet());
        if (!has(key) && wanted.isNeeded()) {
            fault(key, "missing; valid: " + String.join(", ", choices.keySet()));
        }
        return choice(key, choices, choices.get(wanted.otherwise()));
    }

    /** Reads one of several words whose default depends on the rest of the file. */
    <T> @Nullable T choice(String key, Map<String, T> choices, @Nullable T otherwise) {
        if (!has(key)) {
            return otherwise;
        }
        Object given = given(key);
        if (given instanceof String word && choices.containsKey(word)) {
            return choices.get(word);
        }
        fault(
                key,
                "must be one of a few words but is " + describe(given) + nearest(given, choices.keySet()) + "; valid: "
                        + String.join(", ", choices.keySet()));
        return null;
    }

    private static String nearest(@Nullable Object given, Collection<String> choices) {
        return given instanceof String word ? Spelling.hint("; nearest: ", word, choices) : "";
    }

    /** Reads an array of words, each once; the usual ones if it is left out. */
    List<String> words(String key, Set<String> choices, List<String> usual) {
        key(key).requireWords(choices);
        if (!has(key)) {
            return usual;
        }
        String valid = "an array of one or more of " + String.join(", ", choices);
        if (!(given(key) instanceof Items array) || array.size() == 0) {
            fault(key, "must be an array of words but is " + describe(given(key)) + "; valid: " + valid);
            return usual;
        }
        List<String> words = new ArrayList<>();
        for (int i = 0; i < array.size(); i++) {
            Object given = array.get(i);
            String wrong = !(given instanceof String word) || !choices.contains(word)
                    ? "unknown: " + describe(given) + nearest(given, choices) + "; valid: " + valid
                    : words.contains(word) ? "given twice: " + word + "; valid: each once" : "";
            if (wrong.isEmpty()) {
                words.add(String.valueOf(given));
            } else {
                fault(key + "[" + (i + 1) + "]", line(key), wrong);
            }
        }
        return words;
    }

    /** Reads an array of names that the file gives itself; empty if it is left out, or after a fault. */
    List<String> names(String key) {
        return names(key, false);
    }

    /** Reads names; a single one needs no array. */
    List<String> nameOrNames(String key) {
        return names(key, true);
    }

    private List<String> names(String key, boolean orOne) {
        Key wanted = key(key);
        String valid = "an array of " + wanted.valid() + ", for example " + wanted.example();
        if (!has(key)) {
            if (wanted.isNeeded()) {
                fault(key, "missing; valid: " + valid);
            }
            return List.of();
        }
        if (orOne && given(key) instanceof String one && !one.isBlank()) {
            return List.of(one);
        }
        List<String> names = new ArrayList<>();
        if (given(key) instanceof Items array) {
            for (int i = 0; i < array.size(); i++) {
                if (array.get(i) instanceof String name && !name.isBlank()) {
                    names.add(name);
                }
            }
            if (names.size() == array.size() && names.size() >= wanted.least() && names.size() <= wanted.most()) {
                return names;
            }
        }
        fault(key, "must be an array of names but is " + describe(given(key)) + "; valid: " + valid);
        return List.of();
    }

    /** Opens a table that may be left out; null if it is, or is no table. */
    @Nullable
    Section table(String key) {
        if (!has(key)) {
            return null;
        }
        if (given(key) instanceof Table inner) {
            return new Section(field(key), inner, line(key), faults);
        }
        fault(key, "must be a table but is " + describe(given(key)));
        return null;
    }

    /** A table to look into before it is read; null if there is none. */
    @Nullable
    Section peek(String key) {
        return given(key) instanceof Table inner ? new Section(field(key), inner, line(key), faults) : null;
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
        if (!(given(key) instanceof Items array)) {
            fault(
                    key,
                    "must be an array of tables, each headed [[" + field(key) + "]], but is " + describe(given(key)));
            return sections;
        }
        for (int i = 0; i < array.size(); i++) {
            int at = array.lines().get(i);
            String name = field(key) + "[" + (i + 1) + "]";
            if (array.get(i) instanceof Table inner) {
                sections.add(new Section(name, inner, at, faults));
            } else {
                faults.add(at, name, "must be a table headed [[" + field(key) + "]] but is " + describe(array.get(i)));
            }
        }
        return sections;
    }

    /** Tells of every key that nobody asked for. */
    void finish() {
        table.values().keySet().stream().filter(key -> !known.contains(key)).forEach(key -> {
            String hint = Spelling.hint("; nearest known key: ", key, known);
            String elsewhere = DesignKeys.whereItBelongs(path.replaceAll("\\[\\d+]", ""), key)
                    .map(place -> "; " + place)
                    .orElse("");
            fault(key, "unknown key" + hint + elsewhere + "; valid: " + String.join(", ", known));
        });
    }

    void fault(String key, String message) {
        fault(key, line(key), message);
    }

    private void fault(String key, int at, String message) {
        faults.add(at, field(key), message);
    }

    /** Tells of a fault of the table as a whole. */
    void fault(String message) {
        faults.add(line, path, message);
    }

    /** How many faults of the whole file have been told so far. */
    /** Remembers what is to be known of a key's value, though nothing is wrong with it. */
    void note(String key, String words) {
        faults.note(field(key) + ": " + words);
    }

    List<String> notes() {
        return faults.notes();
    }

    int faultCount() {
        return faults.count();
    }

    private int line(String key) {
        return table.lines().getOrDefault(key, line);
    }

    private String field(String key) {
        return path.isEmpty() ? Printable.of(key) : path + "." + Printable.of(key);
    }

    private static String describe(@Nullable Object given) {
        if (given instanceof String text) {
            return "\"" + Printable.of(text) + "\"";
        }
        if (given instanceof Items) {
            return "an array";
        }
        return given instanceof Table ? "a table" : String.valueOf(given);
    }
}
