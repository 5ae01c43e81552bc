package org.voltsecond.units;

import java.util.Collection;
import java.util.stream.Collectors;

/**
 * Writes texts and numbers as JSON (RFC 8259).
 *
 * <pre>{@code
 * String key = JsonText.quoted("ripple, \"worst\""); // "ripple, \"worst\"" with its quotation marks escaped
 * String none = JsonText.number(Double.NaN); // null
 * }</pre>
 */
public final class JsonText {
    private JsonText() {}

    /**
     * Returns a text in quotation marks. Lone halves of a character pair are escaped as well, so that the text can be
     * written in UTF-8.
     *
     * @param text any text
     * @return a string of JSON
     */
    public static String quoted(String text) {
        StringBuilder out = new StringBuilder("\"");
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c == '"' || c == '\\') {
                out.append('\\').append(c);
            } else if (c < ' ' || (Character.isSurrogate(c) && isLone(text, i))) {
                out.append(String.format("\\u%04x", (int) c));
            } else {
                out.append(c);
            }
        }
        return out.append('"').toString();
    }

    private static boolean isLone(String text, int i) {
        char c = text.charAt(i);
        return Character.isHighSurrogate(c)
                ? i + 1 == text.length() || !Character.isLowSurrogate(text.charAt(i + 1))
                : i == 0 || !Character.isHighSurrogate(text.charAt(i - 1));
    }

    /**
     * Returns a number with all its digits.
     *
     * @param value any value
     * @return a number of JSON; null for what is not finite
     */
    public static String number(double value) {
        return Double.isFinite(value) ? Double.toString(value) : "null";
    }

    /**
     * Returns an array of numbers.
     *
     * @param values any values
     * @return an array of JSON
     */
    public static String numbers(Collection<Double> values) {
        return values.stream().map(JsonText::number).collect(Collectors.joining(", ", "[", "]"));
    }

    /**
     * Returns an array of texts.
     *
     * @param texts any texts
     * @return an array of JSON
     */
    public static String texts(Collection<String> texts) {
        return texts.stream().map(JsonText::quoted).collect(Collectors.joining(", ", "[", "]"));
    }
}
