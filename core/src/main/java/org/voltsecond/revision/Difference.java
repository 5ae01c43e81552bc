package org.voltsecond.revision;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignTree;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.figures.Told;
import org.voltsecond.units.Unit;

/**
 * One value of two revisions: a key of the design file, or a figure. Immutable.
 *
 * <pre>{@code
 * String text = "[inductor]\ninductance = \"22 µH\"\n[load]\nresistance = \"2500 mΩ\"\n";
 * DesignTree before = DesignFile.tree("rail.toml", text);
 * DesignTree after = before.with("inductor.inductance", "33 µH").with("load.resistance", "2.5 Ω");
 * List<Difference> changes = Difference.ofDesigns(before, after);
 * int changed = changes.size(); // 1
 * double more = changes.get(0).relative().getAsDouble(); // 0.5
 * }</pre>
 *
 * @param key of the file, for example "inductor.inductance", or the place in figures.json
 * @param words what it is
 * @param unit of numbers
 * @param before a number, a text, true or false; null where only the second revision has it
 * @param after a number, a text, true or false; null where only the first revision has it
 * @param rounding up to which two numbers are the same, in the unit
 */
public record Difference(
        String key,
        String words,
        Unit unit,
        @Nullable Object before,
        @Nullable Object after,
        double rounding) {
    /** What stands for a figure that does not exist. */
    public static final String NONE = "none";

    /** Of the largest figure in the unit, of ratios of 1: what rounding leaves of a figure that should be the same, or zero. */
    private static final double ROUNDING = 1e-12;

    /** Of a logarithm, an angle, or a temperature counted from where water freezes, a share means nothing. */
    private static final Set<Unit> WITHOUT_SHARE =
            EnumSet.of(Unit.CELSIUS, Unit.DEGREE, Unit.DECIBEL, Unit.DECIBEL_MICROVOLT);

    private static final int DIGITS = 4;

    /**
     * Compares two design files key by key. What is written in one though it would hold anyway is no difference.
     *
     * @param before the first revision
     * @param after the second revision
     * @return what differs, in the order of the files
     */
    public static List<Difference> ofDesigns(DesignTree before, DesignTree after) {
        Map<String, DesignTree.Entry> first = byKey(before.entries(), DesignTree.Entry::key);
        Map<String, DesignTree.Entry> second = byKey(after.entries(), DesignTree.Entry::key);
        Set<String> tablesOfFirst = tables(first.values());
        Set<String> tablesOfSecond = tables(second.values());
        List<Difference> found = new ArrayList<>();
        for (String key : merged(first.keySet(), second.keySet())) {
            DesignTree.Entry one = first.get(key);
            DesignTree.Entry other = second.get(key);
            boolean usual = (one == null && holdsAnyway(other, tablesOfFirst))
                    || (other == null && holdsAnyway(one, tablesOfSecond));
            Unit unit =
                    one != null && one.value() instanceof Double ? one.unit() : other == null ? Unit.ONE : other.unit();
            Difference difference = new Difference(
                    key, key, unit, one == null ? null : one.value(), other == null ? null : other.value(), 0);
            if (!usual && !difference.isSame()) {
                found.add(difference);
            }
        }
        return found;
    }

    /** Whether it would be the same without the key, in a file that has its table. */
    private static boolean holdsAnyway(DesignTree.@Nullable Entry alone, Set<String> tables) {
        return alone != null
                && alone.usual()
                && tables.contains(alone.value().equals(DesignTree.Entry.TABLE) ? alone.key() : table(alone.key()));
    }

    private static String table(String key) {
        return key.substring(0, Math.max(0, key.lastIndexOf('.')));
    }

    private static Set<String> tables(Iterable<DesignTree.Entry> entries) {
        Set<String> tables = new HashSet<>(Set.of(""));
        for (DesignTree.Entry entry : entries) {
            String table = entry.value().equals(DesignTree.Entry.TABLE) ? entry.key() : table(entry.key());
            for (; !table.isEmpty(); table = table(table)) {
                tables.add(table);
            }
        }
        return tables;
    }

    /**
     * Compares two sets of figures. Two numbers count as the same where they differ by no more than the rounding of the largest
     * figure in their unit, or of 1 where they have none.
     *
     * @param before of the first revision
     * @param after of the second revision
     * @return every figure that at least one of them has, in order
     */
    public static List<Difference> ofFigures(List<PlacedFigure> before, List<PlacedFigure> after) {
        Map<Unit, Double> largest = new EnumMap<>(Unit.class);
        for (List<PlacedFigure> figures : List.of(before, after)) {
            for (PlacedFigure figure : figures) {
                if (figure.value() instanceof Double number) {
                    largest.merge(figure.unit(), Math.abs(number), Math::max);
                }
            }
        }
        Map<String, PlacedFigure> first = byKey(before, PlacedFigure::place);
        Map<String, PlacedFigure> second = byKey(after, PlacedFigure::place);
        List<Difference> found = new ArrayList<>();
        for (String place : merged(first.keySet(), second.keySet())) {
            PlacedFigure one = first.get(place);
            PlacedFigure other = second.get(place);
            PlacedFigure any = one != null ? one : Objects.requireNonNull(other);
            double rounding = ROUNDING * (any.unit() == Unit.ONE ? 1 : largest.getOrDefault(any.unit(), 0.0));
            found.add(new Difference(place, any.words(), any.unit(), value(one), value(other), rounding));
        }
        return found;
    }

    private static @Nullable Object value(@Nullable PlacedFigure figure) {
        return figure == null ? null : figure.value() == null ? NONE : figure.value();
    }

    private static <T> Map<String, T> byKey(List<T> all, Function<T, String> key) {
        Map<String, T> map = new LinkedHashMap<>();
        all.forEach(each -> map.put(key.apply(each), each));
        return map;
    }

    /** All keys; what only the second has stands behind what it follows there. */
    private static List<String> merged(Set<String> first, Set<String> second) {
        Map<String, List<String>> behind = new LinkedHashMap<>();
        String last = "";
        for (String key : second) {
            if (first.contains(key)) {
                last = key;
            } else {
                behind.computeIfAbsent(last, any -> new ArrayList<>()).add(key);
            }
        }
        List<String> all = new ArrayList<>(behind.getOrDefault("", List.of()));
        for (String key : first) {
            all.add(key);
            all.addAll(behind.getOrDefault(key, List.of()));
        }
        return all;
    }

    /**
     * Tells whether both revisions have the same.
     *
     * @return true if so, also for numbers that differ by rounding alone
     */
    public boolean isSame() {
        return before != null
                && after != null
                && (before.equals(after)
                        || (before instanceof Double one
                                && after instanceof Double other
                                && Math.abs(other - one) <= rounding));
    }

    /** {@return the number of the second revision less that of the first, in the unit; empty where one has no number} */
    public OptionalDouble absolute() {
        return before instanceof Double one && after instanceof Double other
                ? OptionalDouble.of(other - one)
                : OptionalDouble.empty();
    }

    /**
     * Returns the difference as a share of the number of the first revision.
     *
     * @return 0.5 for half as much again; empty where one has no number, where the first has none to speak of, and where a share means nothing,
     *     as of a level in decibels or a temperature
     */
    public OptionalDouble relative() {
        return before instanceof Double one
                        && after instanceof Double other
                        && Math.abs(one) > rounding
                        && !WITHOUT_SHARE.contains(unit)
                ? OptionalDouble.of((other - one) / Math.abs(one))
                : OptionalDouble.empty();
    }

    /**
     * Tells the difference in words.
     *
     * @return for example "+11.00 µH (+50.00 %)", "same", "changed", "added" or "removed"
     */
    public String told() {
        if (isSame()) {
            return "same";
        }
        if (before == null || after == null) {
            return before == null ? "added" : "removed";
        }
        if (absolute().isEmpty()) {
            return "changed";
        }
        double more = absolute().getAsDouble();
        String share = relative().isPresent()
                ? String.format(
                        Locale.ROOT, " (%+.4g\u00a0%%)", 100 * relative().getAsDouble())
                : "";
        return (more > 0 ? "+" : "") + Told.quantity(more, steps(), DIGITS) + share;
    }

    /** The unit of a difference. */
    private Unit steps() {
        return unit == Unit.CELSIUS ? Unit.KELVIN : unit == Unit.DECIBEL_MICROVOLT ? Unit.DECIBEL : unit;
    }
}
