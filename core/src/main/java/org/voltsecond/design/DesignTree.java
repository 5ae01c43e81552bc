package org.voltsecond.design;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignException.Faults;
import org.voltsecond.design.Key.Kind;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A design file as a tree of values, which can be changed one by one and read again, without the text and its parser: what a
 * page or a program with sliders works on. Immutable.
 *
 * <pre>{@code
 * DesignTree tree = DesignFile.tree("rail.toml", """
 *         stage = { topology = "buck" }
 *         input = { voltage = "12 V" }
 *         inductor = { inductance = "22 µH" }
 *         output_capacitor = { capacitance = "47 µF" }
 *         load = { current = "2 A" }
 *         drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
 *         """);
 * double volt = tree.with("input.voltage", "9 V").design("rail").inputVoltage(); // 9 V
 * }</pre>
 */
public final class DesignTree {
    /** Tables whose values make no control: what they ask is beyond one operating point and a run. */
    private static final List<String> BEYOND = List.of(
            "bench",
            "map",
            "tolerance",
            "sizing",
            "rail",
            "frequency_response",
            "emissions",
            "losses",
            "heat",
            "ratings",
            "corners",
            "stage",
            "name");
    /** What is worth trying though a file may leave it out; the least that a loss is made of. */
    private static final List<String> USUAL = List.of(
            "inductor.resistance",
            "output_capacitor.resistance",
            "transistor.on_resistance",
            "rectifier.forward_drop",
            "rectifier.resistance");

    /** Tables that most readers leave as they are. */
    private static final Set<String> ASIDE = Set.of("transient", "limits", "protection");

    private final Table root;

    private DesignTree(Table root) {
        this.root = root;
    }

    /**
     * A table.
     *
     * @param values by their keys: a table, items, a text, a number, true or false
     * @param lines of the keys in the file
     */
    record Table(Map<String, Object> values, Map<String, Integer> lines) {
        static final Table EMPTY = new Table(Map.of(), Map.of());

        Table {
            values = Collections.unmodifiableMap(new LinkedHashMap<>(values));
            lines = Map.copyOf(lines);
        }

        Table with(String key, Object value) {
            Map<String, Object> changed = new LinkedHashMap<>(values);
            changed.put(key, value);
            return new Table(changed, lines);
        }
    }

    /**
     * The items of an array.
     *
     * @param values the items
     * @param lines of each in the file
     */
    record Items(List<Object> values, List<Integer> lines) {
        Items {
            values = List.copyOf(values);
            lines = List.copyOf(lines);
        }

        int size() {
            return values.size();
        }

        Object get(int index) {
            return values.get(index);
        }

        Items with(int index, Object value) {
            List<Object> changed = new ArrayList<>(values);
            changed.set(index, value);
            return new Items(changed, lines);
        }
    }

    /**
     * A value that can be changed.
     *
     * @param key its key, as faults name it, for example "load.resistance" or "drive.compensator.zeros[1]"; of a part of a custom
     *     circuit with the name of the part, for example "L1.inductance"
     * @param of the words for its table, for example "output capacitor"
     * @param words what it is, for example "capacitance"
     * @param meaning a sentence
     * @param unit its unit
     * @param value what it is now, in SI units
     * @param range which values are valid, in words, for example "more than 0"
     * @param example a valid value, in SI units
     * @param low the lower end of a slider, in SI units
     * @param high the upper end of a slider, in SI units
     * @param isGeometric whether equal steps of a slider are equal ratios
     */
    public record Setting(
            String key,
            String of,
            String words,
            String meaning,
            Unit unit,
            double value,
            String range,
            double example,
            double low,
            double high,
            boolean isGeometric) {
        /** {@return whether it belongs to the run, the limits or the protection, not to the operating point} */
        public boolean isAside() {
            return ASIDE.contains(of.split("[,\\[]", 2)[0]);
        }

        /**
         * Returns the value at a place of a slider.
         *
         * @param share of the way from its lower end, 0 to 1
         * @return the value in SI units
         */
        public double at(double share) {
            return isGeometric ? low * StrictMath.pow(high / low, share) : low + share * (high - low);
        }

        /**
         * Returns the place of a value on a slider.
         *
         * @param valueThere the value in SI units
         * @return the share of the way from its lower end, 0 to 1; an end for what lies beyond it
         */
        public double shareOf(double valueThere) {
            double share = isGeometric
                    ? StrictMath.log(valueThere / low) / StrictMath.log(high / low)
                    : (valueThere - low) / (high - low);
            return share > 0 ? Math.min(1, share) : 0;
        }
    }

    /**
     * A value of the tree.
     *
     * @param key its key, as of {@link Setting#key()}
     * @param value a number, in SI units where the key takes a quantity, a text, or true or false; {@link #TABLE} for a table
     *     that holds nothing
     * @param unit the unit of a number
     * @param usual whether the same holds where the key is left out of its table
     */
    public record Entry(String key, Object value, Unit unit, boolean usual) {
        /** What stands for a table that holds nothing. */
        public static final String TABLE = "given";

        static Entry of(String key, @Nullable Key told, Object value) {
            Unit unit = told != null && told.isQuantity() ? told.kind().unit() : Unit.ONE;
            Object read = read(value, told != null && told.isQuantity(), unit);
            boolean usual = value instanceof Table
                    || (told != null
                            && (read instanceof Double number
                                    ? number == told.usual()
                                    : told.otherwise().equals(read.toString())));
            return new Entry(key, read, unit, usual);
        }

        private static Object read(Object value, boolean quantity, Unit unit) {
            if (value instanceof Number number) {
                return number.doubleValue();
            }
            if (value instanceof Table) {
                return TABLE;
            }
            try {
                return quantity && value instanceof String text
                        ? (Object) Quantity.parse(text, unit)
                        : value instanceof Boolean ? value : value.toString();
            } catch (IllegalArgumentException e) {
                return value; // of a tree that is no design
            }
        }

        /** {@return the value in words, a number with its unit and all its digits} */
        public String text() {
            return value instanceof Double number ? Quantity.format(number, unit) : value.toString();
        }
    }

    static DesignTree of(Table root) {
        return new DesignTree(root);
    }

    Table root() {
        return root;
    }

    /**
     * Reads one operating point with its losses, its run and its limits; what the file asks beyond that is left out.
     *
     * @param defaultName the name of the design if the tree does not give one
     * @return the design
     * @throws DesignException if a value is wrong; carries every fault
     */
    public Design design(String defaultName) throws DesignException {
        Faults faults = new Faults("design");
        Design design = new DesignReader(Section.root(root, faults), defaultName, DesignReader.LOSSES_ALONE).read();
        if (design == null || !faults.isEmpty()) {
            throw faults.toException();
        }
        return design;
    }

    /**
     * Changes a value, or adds it.
     *
     * @param key its key, as of {@link Setting#key()}
     * @param value the new value in SI units
     * @return the changed tree
     * @throws IllegalArgumentException if there is no place for such a key
     */
    public DesignTree with(String key, double value) {
        return new DesignTree(changed(root, inFile(key), value));
    }

    /**
     * Changes a value, or adds it.
     *
     * @param key its key, as of {@link Setting#key()}
     * @param value the new value with its unit, or a word
     * @return the changed tree
     * @throws IllegalArgumentException if there is no place for such a key
     */
    public DesignTree with(String key, String value) {
        return new DesignTree(changed(root, inFile(key), value));
    }

    /**
     * Changes a value to what somebody typed.
     *
     * @param key its key, as of {@link Setting#key()}
     * @param text a number in SI units, or a number with its unit; what is neither becomes a fault of {@link #design}
     * @return the changed tree
     * @throws IllegalArgumentException if there is no place for such a key
     */
    public DesignTree typed(String key, String text) {
        try {
            return with(key, Double.parseDouble(text));
        } catch (NumberFormatException quantity) {
            return with(key, text);
        }
    }

    /** With the place of the part in the file for its name. */
    private String inFile(String key) {
        if (root.values().get("part") instanceof Items parts) {
            for (int i = 0; i < parts.size(); i++) {
                String name = nameOf(parts.get(i));
                if (!name.isEmpty() && key.startsWith(name + ".")) {
                    return "part[" + (i + 1) + "]" + key.substring(name.length());
                }
            }
        }
        return key;
    }

    static String nameOf(Object part) {
        return part instanceof Table table && table.values().get("name") instanceof String name ? name : "";
    }

    private static Table changed(Table table, String key, Object value) {
        int dot = key.indexOf('.');
        String first = dot < 0 || table.values().containsKey(key) ? key : key.substring(0, dot);
        String rest = key.substring(first.length());
        int bracket = first.endsWith("]") ? first.indexOf('[') : -1;
        if (bracket > 0) {
            String name = first.substring(0, bracket);
            int index = Integer.parseInt(first.substring(bracket + 1, first.length() - 1)) - 1;
            if (table.values().get(name) instanceof Items items && index >= 0 && index < items.size()) {
                return table.with(name, items.with(index, inner(items.get(index), rest, value, key)));
            }
            throw noPlace(key);
        }
        Object here = table.values().getOrDefault(first, Table.EMPTY);
        return table.with(first, inner(here, rest, value, key));
    }

    private static Object inner(Object here, String rest, Object value, String key) {
        if (rest.isEmpty()) {
            return value;
        }
        if (here instanceof Table table) {
            return changed(table, rest.substring(1), value);
        }
        throw noPlace(key);
    }

    private static IllegalArgumentException noPlace(String key) {
        return new IllegalArgumentException(
                "the design has no place for " + key + "; valid: a key of one of its tables");
    }

    /**
     * Returns every value of the operating point, its run and its limits that can be changed.
     *
     * @return the values in the order of the tree, those that a part is usually given with, though the file left them out, as 0
     */
    public List<Setting> settings() {
        List<Setting> settings = new ArrayList<>();
        for (Map.Entry<String, Object> entry : root.values().entrySet()) {
            if (!BEYOND.contains(entry.getKey())) {
                DesignKeys.walk(entry.getKey(), "", entry.getKey(), "", entry.getValue(), (key, told, value) -> {
                    if (told != null && told.isQuantity()) {
                        settings.add(setting(key, told, value));
                    }
                });
            }
        }
        if (root.values().containsKey("stage")) {
            USUAL.stream().filter(this::isMissing).forEach(key -> {
                int dot = key.indexOf('.');
                settings.add(setting(key, DesignKeys.of(key.substring(0, dot), key.substring(dot + 1)), 0.0));
            });
        }
        return settings;
    }

    /**
     * Returns everything that the tree holds, quantities in SI units, however they were written.
     *
     * @return the values in the order of the tree; a table without any stands for itself
     */
    public List<Entry> entries() {
        List<Entry> entries = new ArrayList<>();
        root.values()
                .forEach((name, inner) -> DesignKeys.walk(
                        name, "", name, "", inner, (key, told, value) -> entries.add(Entry.of(key, told, value))));
        return entries;
    }

    private boolean isMissing(String key) {
        String[] path = key.split("\\.", -1);
        Object table = root.values().get(path[0]);
        boolean synchronous = table instanceof Table part
                && "synchronous".equals(part.values().get("kind"));
        boolean needed = path[0].equals("inductor") && table == null;
        return !needed
                && !(synchronous && path[1].equals("forward_drop"))
                && !(table instanceof Table part && part.values().containsKey(path[1]));
    }

    private static Setting setting(String key, Key told, Object value) {
        Kind kind = told.kind();
        int dot = key.lastIndexOf('.');
        String of = key.substring(0, dot).replace('_', ' ').replace(".", ", ");
        String words = key.substring(dot + 1).replace('_', ' ');
        double now = Entry.of(key, told, value).value() instanceof Double number ? number : Double.NaN;
        double example = kind.exampleValue();
        return new Setting(
                key,
                of,
                words,
                told.meaning(),
                kind.unit(),
                now,
                kind.range().words(),
                example,
                kind.range().low(now, example),
                kind.range().high(now, example),
                kind.range().isGeometric(now));
    }

    /**
     * Writes the tree as a design file.
     *
     * @return TOML
     */
    public String toml() {
        return TreeText.toml(root);
    }

    /**
     * Writes the tree in a form that {@link #ofLines} reads back without a parser: a line for each value, with its place.
     *
     * @return lines, separated by newlines
     */
    public String lines() {
        return TreeText.lines(root);
    }

    /**
     * Reads what {@link #lines} wrote.
     *
     * @param text the lines
     * @return the tree
     */
    public static DesignTree ofLines(String text) {
        return new DesignTree(TreeText.read(text));
    }
}
