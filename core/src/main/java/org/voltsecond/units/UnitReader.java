package org.voltsecond.units;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** Recognises a unit with its prefixes, in any of its spellings. */
final class UnitReader {

    private static final Map<String, Scaled> KNOWN = known();

    private UnitReader() {}

    /** A unit, and the power of ten that its prefixes amount to. */
    record Scaled(Unit unit, int exponent) {}

    /** The unit written so, or null. Prefixes and units are case sensitive. */
    static @Nullable Scaled read(String text) {
        return KNOWN.get(plain(text));
    }

    /** A spelling that differs from the text in capitals only, for a hint; one of the wanted unit if there is any. */
    static Optional<String> otherCapitals(String text, Unit wanted) {
        String plain = plain(text);
        return KNOWN.entrySet().stream()
                .filter(entry ->
                        entry.getValue().unit == wanted && entry.getKey().equalsIgnoreCase(plain))
                .map(Map.Entry::getKey)
                .findFirst();
    }

    /** One code point for micro and one for ohm: Unicode has two of each, and they look the same. */
    private static String plain(String text) {
        return text.replace('\u03BC', '\u00B5').replace('\u2126', '\u03A9');
    }

    private static Map<String, Scaled> known() {
        Map<String, Scaled> known = new LinkedHashMap<>();
        for (Unit unit : Unit.values()) {
            unit.spellings().forEach(spelling -> add(known, spelling, unit));
        }
        return known;
    }

    private static void add(Map<String, Scaled> known, Unit.Spelling spelling, Unit unit) {
        Scaled earlier = known.put(spelling.text(), new Scaled(unit, spelling.exponent()));
        if (earlier != null) {
            throw new IllegalStateException(
                    "\"" + spelling.text() + "\" could be read as " + earlier.unit + " and as " + unit);
        }
    }
}
