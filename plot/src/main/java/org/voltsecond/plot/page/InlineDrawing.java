package org.voltsecond.plot.page;

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
    private static final Pattern OWN_NAME = Pattern.compile("(\\bid=\"|url\\(#)");

    String labelled(String description) {
        String root = svg.substring(svg.indexOf("<svg"));
        String named = TAG.matcher(root).replaceAll(tag -> Matcher.quoteReplacement(ownNames(tag.group())));
        return "<svg role=\"img\" aria-label=\"" + Markup.of(description) + "\"" + named.substring("<svg".length());
    }

    /** Few of the many tags of a drawing have a name within it. */
    private String ownNames(String tag) {
        return tag.contains("id=\"") || tag.contains("url(#")
                ? OWN_NAME.matcher(tag).replaceAll("$1" + name + "-")
                : tag;
    }
}
