package org.voltsecond.plot.page;

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
 */
public record Cell(String text, Tone tone) {
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
