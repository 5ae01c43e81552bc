package org.voltsecond.design;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignTree.Items;
import org.voltsecond.design.DesignTree.Table;

/** A tree of values as lines, a line for each value with its place, and back without a parser. */
final class TreeLines {
    /** Between the keys of a place. */
    private static final char INNER = '\u001f';

    private TreeLines() {}

    static String of(Table root) {
        List<String> lines = new ArrayList<>();
        writeLines("", root, lines);
        return String.join("\n", lines);
    }

    static Table read(String text) {
        return (Table) new LineReader(text.split("\n", -1)).read("");
    }

    private static void writeLines(String place, Object value, List<String> lines) {
        if (value instanceof Table table) {
            lines.add(place + "\tt");
            table.values().forEach((key, inner) -> writeLines(place + INNER + escaped(key), inner, lines));
        } else if (value instanceof Items items) {
            lines.add(place + "\ta");
            for (int i = 0; i < items.size(); i++) {
                writeLines(place + INNER + i, items.get(i), lines);
            }
        } else {
            String letter =
                    value instanceof Long ? "w" : value instanceof Double ? "d" : value instanceof Boolean ? "b" : "s";
            lines.add(place + "\t" + letter + escaped(String.valueOf(value)));
        }
    }

    private static String escaped(String text) {
        return text.replace("\\", "\\\\")
                .replace("\n", "\\n")
                .replace("\t", "\\t")
                .replace(String.valueOf(INNER), "\\i");
    }

    private static String unescaped(String text) {
        StringBuilder plain = new StringBuilder();
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c == '\\') {
                char next = text.charAt(++i);
                plain.append(next == 'n' ? '\n' : next == 't' ? '\t' : next == 'i' ? INNER : next);
            } else {
                plain.append(c);
            }
        }
        return plain.toString();
    }

    /** Walks through the lines once. */
    private static final class LineReader {
        private final String[] lines;
        private int next;

        LineReader(String[] lines) {
            this.lines = lines;
        }

        Object read(String place) {
            int tab = place.length();
            char letter = lines[next].charAt(tab + 1);
            String rest = unescaped(lines[next].substring(tab + 2));
            next++;
            return switch (letter) {
                case 't' -> table(place);
                case 'a' -> items(place);
                case 'w' -> Long.valueOf(rest);
                case 'd' -> Double.valueOf(rest);
                case 'b' -> Boolean.valueOf(rest);
                default -> rest;
            };
        }

        private Table table(String place) {
            Map<String, Object> values = new LinkedHashMap<>();
            for (@Nullable String key = keyBelow(place); key != null; key = keyBelow(place)) {
                values.put(unescaped(key), read(place + INNER + key));
            }
            return new Table(values, Map.of());
        }

        private Items items(String place) {
            List<Object> values = new ArrayList<>();
            for (@Nullable String key = keyBelow(place); key != null; key = keyBelow(place)) {
                values.add(read(place + INNER + key));
            }
            return new Items(values, Collections.nCopies(values.size(), 1));
        }

        /** The key of the next line if it lies directly below a place. */
        private @Nullable String keyBelow(String place) {
            return next < lines.length && lines[next].startsWith(place + INNER)
                    ? lines[next].substring(place.length() + 1, lines[next].indexOf('\t'))
                    : null;
        }
    }
}
