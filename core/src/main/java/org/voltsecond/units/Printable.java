package org.voltsecond.units;

/**
 * Makes text of unknown origin safe to print on one line of a terminal.
 *
 * <pre>{@code
 * int length = Printable.of("rail" + (char) 7).length(); // 10
 * }</pre>
 */
public final class Printable {
    private static final int LONGEST = 80;

    private Printable() {}

    /**
     * Returns the text with everything escaped that could move the cursor, colour the terminal, turn the direction of
     * writing or break the line, and shortened if it is long.
     *
     * @param text any text
     * @return the same text where it is harmless; at most about 80 characters
     */
    public static String of(String text) {
        String shown = all(text.length() > LONGEST ? head(text) : text);
        return text.length() > LONGEST ? shown + "… (" + text.length() + " characters)" : shown;
    }

    /**
     * Returns the text with the same characters escaped, at its full length.
     *
     * @param text any text
     * @return the same text where it is harmless
     */
    public static String all(String text) {
        StringBuilder shown = new StringBuilder();
        text.codePoints().forEach(point -> append(shown, point));
        return shown.toString();
    }

    /** The beginning, not cut between the two halves of a character. */
    private static String head(String text) {
        boolean pair = Character.isHighSurrogate(text.charAt(LONGEST - 1));
        return text.substring(0, pair ? LONGEST - 1 : LONGEST);
    }

    private static void append(StringBuilder shown, int point) {
        if (!isHarmful(point)) {
            shown.appendCodePoint(point);
        } else if (point <= 0xffff) {
            shown.append(String.format("\\u%04x", point));
        } else {
            shown.append(String.format("\\U%08x", point));
        }
    }

    private static boolean isHarmful(int point) {
        return switch (Character.getType(point)) {
            case Character.CONTROL,
                    Character.FORMAT,
                    Character.SURROGATE,
                    Character.LINE_SEPARATOR,
                    Character.PARAGRAPH_SEPARATOR,
                    Character.PRIVATE_USE,
                    Character.UNASSIGNED -> true;
            default -> false;
        };
    }
}
