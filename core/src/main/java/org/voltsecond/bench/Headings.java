package org.voltsecond.bench;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Names and units of the columns, from the row before the numbers ("time (µs),node (V)"), or the two rows before them if
 * the lower one holds nothing but units.
 *
 * @param names one for each column; none if there are no headings
 * @param units one for each column, empty where none is given; none if there are no headings
 */
record Headings(List<String> names, List<String> units) {
    private static final Pattern IN_BRACKETS = Pattern.compile("(.*)[(\\[]([^()\\[\\]]*)[)\\]]\\s*");

    /** Spellings that instruments write beside the symbols; common practice, no source. */
    private static final Map<String, String> WORDS = words();

    private static final Headings NONE = new Headings(List.of(), List.of());

    private static Map<String, String> words() {
        Map<String, String> words = new HashMap<>();
        Map<String, List<String>> units = Map.of(
                "s", List.of("second", "seconds", "sec", "secs"),
                "V", List.of("volt", "volts"),
                "A", List.of("ampere", "amperes", "amp", "amps"));
        Map<String, List<String>> prefixes = Map.of(
                "",
                List.of(""),
                "m",
                List.of("milli", "m"),
                "µ",
                List.of("micro", "u", "µ", "μ"),
                "n",
                List.of("nano", "n"),
                "p",
                List.of("pico", "p"));
        units.forEach((unit, names) -> names.forEach(name -> prefixes.forEach(
                (prefix, spellings) -> spellings.forEach(spelling -> words.put(spelling + name, prefix + unit)))));
        return words;
    }

    static Headings of(Layout layout) {
        List<Row> before = layout.before().stream()
                .filter(row -> !row.isBlank() && Double.isNaN(SampleInterval.of(row, layout.dialect())))
                .toList();
        if (before.isEmpty()) {
            return NONE;
        }
        Row last = before.get(before.size() - 1);
        if (last.size() != layout.columns() || !last.isWords()) {
            return NONE;
        }
        if (before.size() == 1) {
            return ofOne(last);
        }
        Row above = before.get(before.size() - 2);
        return above.size() == last.size() && areUnits(last, above) ? ofTwo(above, last) : ofOne(last);
    }

    /** Under the word time there may stand a unit that nobody knows. */
    private static boolean areUnits(Row row, Row above) {
        boolean timed = above.columns().get(0).strip().toLowerCase(Locale.ROOT).matches("t|time.*");
        return row.columns().stream().skip(timed && row.size() > 1 ? 1 : 0).allMatch(Headings::isUnit);
    }

    private static Headings ofTwo(Row above, Row last) {
        return new Headings(
                above.columns().stream().map(String::strip).toList(),
                last.columns().stream().map(Headings::bare).toList());
    }

    private static Headings ofOne(Row row) {
        List<String> names = new ArrayList<>();
        List<String> units = new ArrayList<>();
        for (String column : row.columns()) {
            Matcher bracket = IN_BRACKETS.matcher(column);
            boolean found = bracket.matches() && isUnit(bracket.group(2));
            boolean first = names.isEmpty() && row.size() > 1;
            names.add(found ? bracket.group(1).strip() : column.strip());
            // What stands in brackets behind a channel may be anything, behind the time it is a unit.
            units.add(found || (first && bracket.matches()) ? bare(bracket.group(2)) : "");
        }
        return new Headings(names, units);
    }

    /** A unit without its brackets, in the spelling of the library. */
    static String bare(String unit) {
        String bare = unit.strip().replaceAll("^[(\\[]|[)\\]]$", "");
        return WORDS.getOrDefault(bare.toLowerCase(Locale.ROOT), bare);
    }

    private static boolean isUnit(String text) {
        return List.of(Unit.SECOND, Unit.VOLT, Unit.AMPERE).stream().anyMatch(unit -> isMultiple(bare(text), unit));
    }

    private static boolean isMultiple(String text, Unit unit) {
        try {
            return !text.isEmpty() && Quantity.parse("1 " + text, unit) > 0;
        } catch (IllegalArgumentException e) {
            return false;
        }
    }

    /** By what to multiply the numbers of a column; NaN if its heading names another unit. */
    double factor(int column, Unit unit) {
        String given = units.isEmpty() ? "" : units.get(column);
        if (given.isEmpty()) {
            return 1;
        }
        boolean none = column == 0 && unit != Unit.SECOND && !isUnit(given);
        return isMultiple(given, unit) ? Quantity.parse("1 " + given, unit) : none ? 1 : Double.NaN;
    }
}
