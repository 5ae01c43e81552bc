package org.voltsecond.design;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignTree.Items;
import org.voltsecond.design.DesignTree.Table;
import org.voltsecond.design.RailDesign.DesignText;

/** A tree of values as text: as a design file, and as lines, a line for each value with its place, and back without a parser. */
final class TreeText {
    /** Between the keys of a place. */
    private static final char INNER = '\u001f';

    private TreeText() {}

    /** The whole tree as a design file. */
    static String toml(Table root) {
        List<String> lines = new ArrayList<>();
        List<String> tables = new ArrayList<>();
        write("", root, lines, tables);
        return String.join("\n", lines) + (lines.isEmpty() ? "" : "\n\n") + String.join("\n\n", tables) + "\n";
    }

    /** The tables of a table, one after the other, as text. */
    static List<String> tables(String name, Table table) {
        List<String> lines = new ArrayList<>();
        List<String> inner = new ArrayList<>();
        write(name + ".", table, lines, inner);
        List<String> tables = new ArrayList<>();
        tables.add(DesignText.table(name, lines.toArray(String[]::new)).strip());
        tables.addAll(inner);
        return tables;
    }

    private static void write(String prefix, Table table, List<String> lines, List<String> tables) {
        table.values().forEach((key, value) -> {
            String name = prefix + key(key);
            if (value instanceof Table further) {
                tables.addAll(tables(name, further));
            } else if (value instanceof Items items && items.size() > 0 && items.get(0) instanceof Table) {
                items.values().forEach(item -> tables.addAll(oneOfSeveral(name, (Table) item)));
            } else {
                lines.add(key(key) + " = " + value(value));
            }
        });
    }

    /** One table of several: the same in two brackets, and what lies within it belongs to the last of them. */
    private static List<String> oneOfSeveral(String name, Table table) {
        List<String> one = tables(name, table);
        one.set(0, "[" + one.get(0).replaceFirst("]", "]]"));
        return one;
    }

    private static String key(String key) {
        boolean bare = key.chars().allMatch(c -> c == '_' || c == '-' || (c < 128 && Character.isLetterOrDigit(c)));
        return bare && !key.isEmpty() ? key : DesignText.quoted(key);
    }

    private static String value(Object value) {
        if (value instanceof String text) {
            return DesignText.quoted(text);
        }
        if (value instanceof Items items) {
            return items.values().stream().map(TreeText::value).collect(Collectors.joining(", ", "[", "]"));
        }
        if (value instanceof Table table) {
            return table.values().entrySet().stream()
                    .map(entry -> key(entry.getKey()) + " = " + value(entry.getValue()))
                    .collect(Collectors.joining(", ", "{ ", " }"));
        }
        return value.toString();
    }

    static String lines(Table root) {
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
