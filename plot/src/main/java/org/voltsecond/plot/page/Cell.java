package org.voltsecond.plot.page;

import org.jspecify.annotations.Nullable;

/**
 * One cell of a table.
 *
 * <pre>{@code
 * Cell met = new Cell("31 mV of 50 mV", Cell.Tone.GOOD);
 * PageTable table = PageTable.headed("limit", "result").row(List.of(Cell.of("output ripple"), met));
 * }</pre>
 *
 * @param text what it says; any text
 * @param tone how it is set off
 * @param told the figure that it shows; null for none
 */
public record Cell(String text, Tone tone, @Nullable Told told) {
    /**
     * A figure that a cell shows.
     *
     * @param place its place in figures.json
     * @param value the figure with all its digits; not a number where it does not exist
     * @param unit the symbol of its unit
     */
    public record Told(String place, double value, String unit) {}

    /**
     * A cell that shows a text.
     *
     * @param text what it says; any text
     * @param tone how it is set off
     */
    public Cell(String text, Tone tone) {
        this(text, tone, null);
    }

    /** How a cell is set off: by a sign or a pattern as well as by its colour, so that it can be told in grey. */
    public enum Tone {
        /** Like any other. */
        PLAIN(""),
        /** As it should be. */
        GOOD("✓ "),
        /** Not as it should be. */
        BAD("✗ "),
        /** Not known. */
        OPEN("– "),
        /** The first of several kinds. */
        FIRST(""),
        /** The second of several kinds. */
        SECOND(""),
        /** The third of several kinds. */
        THIRD("");

        private final String sign;

        Tone(String sign) {
            this.sign = sign;
        }

        String sign() {
            return sign;
        }

        boolean isOfKind() {
            return this == FIRST || this == SECOND || this == THIRD;
        }
    }

    /**
     * Returns a cell like any other.
     *
     * @param text what it says; any text
     * @return the cell
     */
    public static Cell of(String text) {
        return new Cell(text, Tone.PLAIN);
    }
}
