package org.voltsecond.page.java.util.regex;

import org.teavm.jso.JSBody;
import org.teavm.jso.JSObject;

/** Matches of {@link TPattern}. */
public final class TMatcher {
    private final JSObject anywhere;
    private final JSObject whole;
    private final String text;
    private JSObject match;
    private int from;

    TMatcher(JSObject anywhere, JSObject whole, String text) {
        this.anywhere = anywhere;
        this.whole = whole;
        this.text = text;
    }

    public boolean matches() {
        match = found(whole, text, 0);
        return match != null;
    }

    public boolean find() {
        match = from > text.length() ? null : found(anywhere, text, from);
        if (match == null) {
            return false;
        }
        from = end() > start() ? end() : end() + 1;
        return true;
    }

    public int start() {
        return index(match);
    }

    public int end() {
        return index(match) + group(match, 0).length();
    }

    public String group() {
        return group(match, 0);
    }

    public String group(int number) {
        return group(match, number);
    }

    public String replaceAll(String replacement) {
        return replaced(anywhere, text, replacement);
    }

    public String replaceFirst(String replacement) {
        JSObject first = found(anywhere, text, 0);
        if (first == null) {
            return text;
        }
        int end = index(first) + group(first, 0).length();
        return replaced(anywhere, text.substring(0, end), replacement) + text.substring(end);
    }

    @JSBody(
            params = {"expression", "text", "from"},
            script = "expression.lastIndex = from; return expression.exec(text);")
    private static native JSObject found(JSObject expression, String text, int from);

    @JSBody(params = "match", script = "return match.index;")
    private static native int index(JSObject match);

    @JSBody(
            params = {"match", "number"},
            script = "return match[number] === undefined ? null : match[number];")
    private static native String group(JSObject match, int number);

    @JSBody(
            params = {"expression", "text", "replacement"},
            script = "expression.lastIndex = 0; return text.replace(expression, replacement);")
    private static native String replaced(JSObject expression, String text, String replacement);
}
