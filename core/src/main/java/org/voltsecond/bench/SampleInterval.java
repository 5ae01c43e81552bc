package org.voltsecond.bench;

import java.util.Locale;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Reads lines such as "sample interval,4e-9", "Sampling interval: 4 ns" or "sample interval;4;ns". */
final class SampleInterval {
    private SampleInterval() {}

    /** The interval in s; NaN of any other line. */
    static double of(Row row, Dialect dialect) {
        String line = String.join(String.valueOf(dialect.separator()), row.columns());
        String lower = line.toLowerCase(Locale.ROOT);
        if (!lower.contains("sample interval") && !lower.contains("sampling interval")) {
            return Double.NaN;
        }
        String text = line.substring(lower.indexOf("interval") + "interval".length())
                .replaceFirst("^[\\s:=,;]+", "")
                .replaceFirst("[\\s,;]+$", "")
                .replaceFirst("[,;\\t]", " ");
        if (Numeral.is(text, '.')) {
            return Numeral.value(text, '.');
        }
        int unit = text.replaceFirst("[^0-9]*$", "").length();
        try {
            return Quantity.parse(text.substring(0, unit) + " " + Headings.bare(text.substring(unit)), Unit.SECOND);
        } catch (IllegalArgumentException e) {
            return Double.NaN;
        }
    }
}
