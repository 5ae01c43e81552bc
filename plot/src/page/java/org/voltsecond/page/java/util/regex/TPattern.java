package org.voltsecond.page.java.util.regex;

import java.util.ArrayList;
import java.util.List;
import org.teavm.jso.JSBody;
import org.teavm.jso.JSObject;

/**
 * In place of the regular expressions of the compiler's class library, which brings along the classes of all characters: those of the
 * browser, which understand what this library asks for.
 */
public final class TPattern {
    public static final int CASE_INSENSITIVE = 2;

    private final JSObject anywhere;
    private final JSObject whole;

    private TPattern(String pattern, int flags) {
        String source = pattern.replace("\\p{Cntrl}", "\\p{Cc}");
        String letters = (flags == CASE_INSENSITIVE ? "i" : "") + (source.contains("\\p") ? "gu" : "g");
        anywhere = expression(source, letters);
        whole = expression("^(?:" + source + ")$", letters);
    }

    public static TPattern compile(String pattern) {
        return new TPattern(pattern, 0);
    }

    public static TPattern compile(String pattern, int flags) {
        return new TPattern(pattern, flags);
    }

    public static boolean matches(String pattern, CharSequence text) {
        return compile(pattern).matcher(text).matches();
    }

    public TMatcher matcher(CharSequence text) {
        return new TMatcher(anywhere, whole, text.toString());
    }

    public String[] split(CharSequence text) {
        return split(text, 0);
    }

    public String[] split(CharSequence text, int limit) {
        List<String> parts = new ArrayList<>();
        String all = text.toString();
        TMatcher matcher = matcher(all);
        int from = 0;
        while ((limit <= 0 || parts.size() < limit - 1) && matcher.find()) {
            if (matcher.end() > 0) {
                parts.add(all.substring(from, matcher.start()));
                from = matcher.end();
            }
        }
        parts.add(all.substring(from));
        while (limit == 0 && parts.size() > 1 && parts.get(parts.size() - 1).isEmpty()) {
            parts.remove(parts.size() - 1);
        }
        return parts.toArray(new String[0]);
    }

    @JSBody(
            params = {"source", "letters"},
            script = "return new RegExp(source, letters);")
    private static native JSObject expression(String source, String letters);
}
