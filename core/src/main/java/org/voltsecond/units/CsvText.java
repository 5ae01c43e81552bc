package org.voltsecond.units;

import java.util.List;

/**
 * Writes texts and numbers as lines of comma-separated values (RFC 4180, with line feeds alone).
 *
 * <pre>{@code
 * String heading = CsvText.heading("output ripple", Unit.VOLT); // "output ripple (V)"
 * String line = CsvText.line(List.of(CsvText.number(0.5), CsvText.text("met"))); // "0.5,met" and a line feed
 * }</pre>
 */
public final class CsvText {
    private CsvText() {}

    /**
     * Returns the heading of a column.
     *
     * @param name what stands in the column
     * @param unit its unit
     * @return the name, with the unit in parentheses where it has a symbol
     */
    public static String heading(String name, Unit unit) {
        return unit.symbol().isEmpty() ? name : name + " (" + unit.symbol() + ")";
    }

    /**
     * Returns a number to all its digits.
     *
     * @param value any value
     * @return the shortest text that reads back as the same number; empty for what is not a number
     */
    public static String number(double value) {
        return Double.isNaN(value) ? "" : Double.toString(value);
    }

    /**
     * Returns a text, in quotation marks where it needs them.
     *
     * @param text any text
     * @return a cell
     */
    public static String text(String text) {
        boolean plain = text.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
        return plain ? text : '"' + text.replace("\"", "\"\"") + '"';
    }

    /**
     * Joins the cells of one line.
     *
     * @param cells the cells, as the other methods give them
     * @return the line, with its line feed
     */
    public static String line(List<String> cells) {
        return String.join(",", cells) + "\n";
    }
}
