package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A drawing as part of a page. The names that a drawing has within itself are those of every other drawing, so each gets
 * its own here: a browser would else take the first of the page for all. Searched by fixed texts, since regular expressions took longer
 * than drawing it.
 *
 * @param svg the drawing as a file of its own
 * @param name a name that no other drawing of the page has
 */
record InlineDrawing(String svg, String name) {
    private static final String STYLE = "style=\"";
    private static final String ID = "id=\"";
    private static final String REFERENCE = "url(#";
    /** From so many elements on a class of its own is shorter than the look at each. */
    private static final int OFTEN = 4;

    /** Where an element says how it looks: the whole attribute, and what it says. */
    private record Look(int from, int to, String words) {}

    String labelled(String description) {
        String root = svg.substring(svg.indexOf("<svg"));
        return "<svg role=\"img\" aria-label=\"" + Markup.of(description) + "\""
                + terse(tight(withOwnNames(root).substring("<svg".length())));
    }

    /** With the name of this drawing before each name within a tag. */
    private String withOwnNames(String drawing) {
        StringBuilder named = new StringBuilder(drawing.length());
        int done = 0;
        int id = drawing.indexOf(ID);
        int reference = drawing.indexOf(REFERENCE);
        while (id >= 0 || reference >= 0) {
            boolean isId = reference < 0 || (id >= 0 && id < reference);
            int at = isId ? id : reference;
            int behind = at + (isId ? ID : REFERENCE).length();
            if (isWithinTag(drawing, at) && !(isId && continuesWord(drawing, at))) {
                named.append(drawing, done, behind).append(name).append('-');
                done = behind;
            }
            if (isId) {
                id = drawing.indexOf(ID, behind);
            } else {
                reference = drawing.indexOf(REFERENCE, behind);
            }
        }
        return named.append(drawing, done, drawing.length()).toString();
    }

    private static boolean isWithinTag(String drawing, int at) {
        return drawing.lastIndexOf('<', at) > drawing.lastIndexOf('>', at);
    }

    private static boolean continuesWord(String drawing, int at) {
        return at > 0 && (Character.isLetterOrDigit(drawing.charAt(at - 1)) || drawing.charAt(at - 1) == '_');
    }

    /** Without the line ends that the writer of drawings puts before the end of a tag. */
    private static String tight(String drawing) {
        StringBuilder tight = new StringBuilder(drawing.length());
        int done = 0;
        for (int close = drawing.indexOf('>'); close >= 0; close = drawing.indexOf('>', close + 1)) {
            int end = close > 0 && drawing.charAt(close - 1) == '/' ? close - 1 : close;
            int last = end;
            while (last > done && Character.isWhitespace(drawing.charAt(last - 1))) {
                last--;
            }
            tight.append(drawing, done, last);
            done = end;
        }
        return tight.append(drawing, done, drawing.length()).toString();
    }

    /** With each look that many elements have said once, as a class: a map has thousands of rectangles of a few looks. */
    private String terse(String drawing) {
        List<Look> looks = looks(drawing);
        Map<String, Integer> uses = new HashMap<>();
        looks.forEach(look -> uses.merge(look.words, 1, Integer::sum));
        Map<String, String> classes = new LinkedHashMap<>();
        StringBuilder terse = new StringBuilder(drawing.length());
        int done = 0;
        for (Look look : looks) {
            if (uses.getOrDefault(look.words, 0) >= OFTEN) {
                String known = classes.computeIfAbsent(look.words, all -> name + "-" + classes.size());
                terse.append(drawing, done, look.from)
                        .append("class=\"")
                        .append(known)
                        .append('"');
                done = look.to;
            }
        }
        terse.append(drawing, done, drawing.length());
        if (!classes.isEmpty()) {
            StringBuilder sheet = new StringBuilder("<style>");
            classes.forEach((look, of) -> sheet.append('.')
                    .append(of)
                    .append('{')
                    .append(look.replace("; ", ";").replace(": ", ":"))
                    .append('}'));
            terse.insert(terse.indexOf(">") + 1, sheet.append("</style>"));
        }
        return terse.toString();
    }

    private static List<Look> looks(String drawing) {
        List<Look> looks = new ArrayList<>();
        for (int at = drawing.indexOf(STYLE); at >= 0; at = drawing.indexOf(STYLE, at + STYLE.length())) {
            int to = drawing.indexOf('"', at + STYLE.length());
            if (to >= 0 && !continuesWord(drawing, at)) {
                looks.add(new Look(at, to + 1, drawing.substring(at + STYLE.length(), to)));
            }
        }
        return looks;
    }
}
