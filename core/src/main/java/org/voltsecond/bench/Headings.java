package org.voltsecond.bench;

import java.util.ArrayList;
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

    private static final Map<String, String> WORDS =
            Map.of("second", "s", "seconds", "s", "volt", "V", "volts", "V", "ampere", "A", "amperes", "A", "amp", "A");

    private static final Headings NONE = new Headings(List.of(), List.of());

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
        if (before.size() == 1 || !last.columns().stream().allMatch(Headings::isUnit)) {
            return ofOne(last);
        }
        Row above = before.get(before.size() - 2);
        return above.size() == last.size() ? ofTwo(above, last) : ofOne(last);
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
            names.add(found ? bracket.group(1).strip() : column.strip());
            units.add(found ? bare(bracket.group(2)) : "");
        }
        return new Headings(names, units);
    }

    private static String bare(String unit) {
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
        return isMultiple(given, unit) ? Quantity.parse("1 " + given, unit) : Double.NaN;
    }
}
