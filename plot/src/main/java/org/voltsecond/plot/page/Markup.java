package org.voltsecond.plot.page;

import java.util.Locale;

/** Turns text of unknown origin into markup, or into a string of a script's data, that shows just this text. */
final class Markup {
    private Markup() {}

    /** The start of an element that a reader may have to scroll, also one without a mouse. */
    static String scrolling(String tag, String attributes, String label) {
        return "<" + tag + " " + attributes + " tabindex=\"0\" role=\"region\" aria-label=\"" + of(label) + "\">";
    }

    /** The text for an element or a quoted attribute. Line breaks stay; what could turn the direction is shown escaped. */
    static String of(String text) {
        StringBuilder markup = new StringBuilder(text.length() + 16);
        text.codePoints().forEach(point -> append(markup, point));
        return markup.toString();
    }

    private static void append(StringBuilder markup, int point) {
        switch (point) {
            case '&' -> markup.append("&amp;");
            case '<' -> markup.append("&lt;");
            case '>' -> markup.append("&gt;");
            case '"' -> markup.append("&quot;");
            case '\'' -> markup.append("&#39;");
            case '\n', '\t' -> markup.appendCodePoint(point);
            default -> appendVisibly(markup, point);
        }
    }

    private static void appendVisibly(StringBuilder shown, int point) {
        if (isHidden(point)) {
            shown.append(String.format(Locale.ROOT, point <= 0xffff ? "\\u%04x" : "\\U%08x", point));
        } else {
            shown.appendCodePoint(point);
        }
    }

    /** What has no shape of its own, or acts upon its neighbours. */
    private static boolean isHidden(int point) {
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

    /** The text as a quoted JSON string which cannot end the script element that it stands in. */
    static String quoted(String text) {
        StringBuilder string = new StringBuilder(text.length() + 2).append('"');
        text.codePoints().forEach(point -> {
            if (point == '\n' || point == '\t') {
                string.append(' ');
            } else if (point == '"' || point == '\\' || point == '<' || point == '>' || point == '&') {
                string.append(String.format(Locale.ROOT, "\\u%04x", point));
            } else if (isHidden(point)) {
                StringBuilder shown = new StringBuilder();
                appendVisibly(shown, point);
                string.append('\\').append(shown);
            } else {
                string.appendCodePoint(point);
            }
        });
        return string.append('"').toString();
    }
}
