package org.voltsecond.plot.page;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A drawing as part of a page. The names that a drawing has within itself are those of every other drawing, so each gets
 * its own here: a browser would else take the first of the page for all.
 *
 * @param svg the drawing as a file of its own
 * @param name a name that no other drawing of the page has
 */
record InlineDrawing(String svg, String name) {
    private static final Pattern TAG = Pattern.compile("<[^>]*>");
    private static final Pattern STYLE = Pattern.compile("\\bstyle=\"([^\"]*)\"");
    /** Line ends that the writer of drawings puts before the end of a tag. */
    private static final Pattern SPACE_IN_TAG = Pattern.compile("\\s+(/?>)");
    /** From so many elements on a class of its own is shorter than the look at each. */
    private static final int OFTEN = 4;

    private static final Pattern OWN_NAME = Pattern.compile("(\\bid=\"|url\\(#)");

    String labelled(String description) {
        String root = svg.substring(svg.indexOf("<svg"));
        String named = TAG.matcher(root).replaceAll(tag -> Matcher.quoteReplacement(ownNames(tag.group())));
        return "<svg role=\"img\" aria-label=\"" + Markup.of(description) + "\""
                + terse(named.substring("<svg".length()));
    }

    /** The same with each look that many elements have said once, as a class: a map has thousands of rectangles of a few looks. */
    private String terse(String drawing) {
        Map<String, Integer> uses = new HashMap<>();
        STYLE.matcher(drawing).results().forEach(style -> uses.merge(style.group(1), 1, Integer::sum));
        Map<String, String> classes = new LinkedHashMap<>();
        String shortened = STYLE.matcher(SPACE_IN_TAG.matcher(drawing).replaceAll("$1"))
                .replaceAll(style -> Matcher.quoteReplacement(
                        Objects.requireNonNull(uses.get(style.group(1))) < OFTEN
                                ? style.group()
                                : "class=\""
                                        + classes.computeIfAbsent(style.group(1), all -> name + "-" + classes.size())
                                        + "\""));
        StringBuilder looks = new StringBuilder("<style>");
        classes.forEach((look, of) -> looks.append('.')
                .append(of)
                .append('{')
                .append(look.replace("; ", ";").replace(": ", ":"))
                .append('}'));
        return classes.isEmpty()
                ? shortened
                : shortened.replaceFirst(">", ">" + Matcher.quoteReplacement(looks + "</style>"));
    }

    /** Few of the many tags of a drawing have a name within it. */
    private String ownNames(String tag) {
        return tag.contains("id=\"") || tag.contains("url(#")
                ? OWN_NAME.matcher(tag).replaceAll("$1" + name + "-")
                : tag;
    }
}
