package org.voltsecond.design;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URL;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignTree.Items;
import org.voltsecond.figures.Limit;
import org.voltsecond.stage.Topology;

/**
 * The keys of the design file with their units, defaults and examples: one table, {@code keys.txt}, by which files are read
 * and faults told, and from which the reference comes.
 *
 * <pre>{@code
 * boolean told = DesignKeys.text().contains("inductance = \"22 µH\""); // true
 * }</pre>
 */
public final class DesignKeys {
    private static final String LIMITS = "limits";
    private static final String VALUES = "tolerance.values";

    private static final String INTRODUCTION = """
            A design file is TOML 1.0. A quantity is a text with its unit ("22 µH", "22uH", "80 mohm", "300 kHz") or a bare
            number in SI units. A key that is not in this list is a fault. Each key stands with an example, what it means,
            its unit, what is valid, and what holds if it is left out.""";

    private static final List<Table> TABLES = read();

    private static final Map<String, Table> BY_PATH = TABLES.stream()
            .flatMap(table -> table.paths().stream().map(path -> Map.entry(path, table)))
            .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));

    private DesignKeys() {}

    /**
     * A table of the file.
     *
     * @param paths where it stands; several tables may have the same keys
     */
    private record Table(List<String> paths, String meaning, List<Key> keys) {
        String heading() {
            return paths.stream()
                    .map(path -> path.isEmpty() ? "top of the file" : "[" + path.replace(".*", ".VALUE") + "]")
                    .collect(Collectors.joining(" "));
        }
    }

    /** A key of a table; of those that a kind of the table alone has, that of the given kind. */
    static Key of(String path, String name, String kind) {
        Table table = Objects.requireNonNull(table(path), () -> "no table of keys: " + path);
        List<Key> named =
                table.keys().stream().filter(key -> key.name().equals(name)).toList();
        return named.stream()
                .filter(key -> key.isOf(kind))
                .findFirst()
                .or(() -> named.stream().findFirst())
                .orElseThrow(() -> new IllegalStateException("no key " + name + " in the table of keys: " + path));
    }

    static List<String> paths() {
        return TABLES.stream().flatMap(table -> table.paths().stream()).toList();
    }

    static List<Key> keys(String path) {
        return Objects.requireNonNull(BY_PATH.get(path), path).keys();
    }

    /** A key of a table; null if there is no such table or key. */
    static @Nullable Key find(String path, String name, String kind) {
        Table table = table(path);
        boolean known = table != null
                && table.keys().stream().anyMatch(key -> key.name().equals(name));
        return known ? of(path, name, kind) : null;
    }

    static Key of(String path, String name) {
        return of(path, name, "");
    }

    private static @Nullable Table table(String path) {
        Table exact = BY_PATH.get(path);
        return exact != null
                ? exact
                : BY_PATH.entrySet().stream()
                        .filter(entry -> entry.getKey().contains("*")
                                && path.matches(
                                        entry.getKey().replace(".", "\\.").replace("*", ".+")))
                        .max(Comparator.comparingInt(entry -> entry.getKey().length()))
                        .map(Map.Entry::getValue)
                        .orElse(null);
    }

    /** Where a key belongs that its table does not take: to another kind of it, or to another table. */
    static Optional<String> whereItBelongs(String path, String name) {
        Table here = table(path);
        Optional<String> kinds = here == null
                ? Optional.empty()
                : here.keys().stream()
                        .filter(key -> key.name().equals(name))
                        .map(key -> key.of().isEmpty()
                                ? "it does not apply to this design"
                                : "it is for " + String.join(", ", key.of()))
                        .findFirst();
        return kinds.isPresent()
                ? kinds
                : TABLES.stream()
                        .filter(table ->
                                !table.paths().contains(path) && !table.paths().contains(VALUES))
                        .filter(table ->
                                table.keys().stream().anyMatch(key -> key.name().equals(name)))
                        .map(table -> "there is one in " + table.heading())
                        .findFirst();
    }

    private static List<Table> read() {
        List<Table> tables = new ArrayList<>();
        Stream.of(Source.lines().split("\n", -1)).map(String::strip).forEach(line -> {
            if (line.startsWith("[")) {
                int end = line.indexOf(']');
                List<String> paths = List.of(line.substring(1, end).split(" ", -1));
                tables.add(new Table(paths, line.substring(end + 1).strip(), new ArrayList<>(listed(paths))));
            } else if (!line.isEmpty() && !line.startsWith("#")) {
                tables.get(tables.size() - 1).keys().add(Key.of(line));
            }
        });
        return List.copyOf(tables);
    }

    /** Keys that follow from lists of the library. */
    private static List<Key> listed(List<String> paths) {
        Stream<Key> keys = paths.contains(LIMITS)
                ? Stream.of(Limit.values()).map(LimitsReader::described)
                : paths.contains(VALUES) ? StageNames.VALUES.keySet().stream().map(DesignKeys::share) : Stream.empty();
        return keys.toList();
    }

    private static Key share(String value) {
        String words = value.replace('_', ' ');
        return new Key(
                value,
                List.of(),
                "number",
                "from 0 to 1",
                "as it is",
                "0.2",
                "Share by which the " + words + " may be off.");
    }

    /**
     * Returns the table of keys itself, for a page that reads designs.
     *
     * @return lines as {@code keys.txt} has them; which stages there are is left open, since a page has those of the library alone
     */
    public static String source() {
        return Source.lines("{stages}");
    }

    /** Where the table of keys comes from. */
    static final class Source {
        private static final String ELSEWHERE = "META-INF/voltsecond/keys.txt";

        private Source() {}

        /** Those of the library, and those of stages from elsewhere, which their archives bring along in the same form. */
        static String lines() {
            return lines(Topology.all().stream().map(Topology::key).collect(Collectors.joining(", ")));
        }

        private static String lines(String stages) {
            try (InputStream stream = DesignKeys.class.getResourceAsStream("keys.txt")) {
                StringBuilder all = new StringBuilder(text(Objects.requireNonNull(stream, "keys.txt"))
                        .replace("{stages}", stages)
                        .replace("{values}", String.join(", ", StageNames.VALUES.keySet()))
                        .replace("{figures}", String.join(", ", StageNames.FIGURES.keySet())));
                for (URL found : Collections.list(ClassLoader.getSystemResources(ELSEWHERE))) {
                    try (InputStream more = found.openStream()) {
                        all.append('\n').append(text(more));
                    }
                }
                return all.toString();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        private static String text(InputStream stream) throws IOException {
            return new String(stream.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    /**
     * Returns the reference of all keys for a terminal.
     *
     * @return text, lines separated by newlines
     */
    public static String text() {
        StringBuilder text = new StringBuilder(INTRODUCTION).append('\n');
        for (Table table : TABLES) {
            text.append('\n')
                    .append(table.heading())
                    .append("  ")
                    .append(table.meaning())
                    .append('\n');
            for (Key key : table.keys()) {
                text.append("  ").append(example(key)).append("\n      ");
                text.append(String.join(" ", facts(key).values())).append('\n');
            }
        }
        return text.toString();
    }

    private static String example(Key key) {
        return key.type().equals("tables") ? key.example() : key.name() + " = " + key.example();
    }

    private static Map<String, String> facts(Key key) {
        Map<String, String> facts = new LinkedHashMap<>();
        facts.put("meaning", key.meaning());
        facts.put("valid", key.valuesAsSentence());
        facts.put("left out", key.isNeeded() ? Key.sentence(key.otherwise()) : "Left out: " + key.leftOut() + ".");
        if (!key.of().isEmpty()) {
            facts.put("kinds", "Of " + String.join(", ", key.of()) + ".");
        }
        return facts;
    }

    /**
     * Returns the same reference as a page for a browser.
     *
     * @return HTML
     */
    public static String page() {
        StringBuilder page = new StringBuilder("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
                + "<meta name=\"viewport\" content=\"width=device-width\"><title>Keys of the design file</title><style>"
                + "body{font:16px/1.45 sans-serif;margin:2em auto;max-width:75em;padding:0 1em}"
                + "table{border-collapse:collapse;width:100%}td,th{border:1px solid #999;padding:.3em .5em;text-align:left;"
                + "vertical-align:top}</style></head><body>\n<h1>Keys of the design file</h1>\n<p>");
        page.append(escaped(INTRODUCTION)).append("</p>\n");
        for (Table table : TABLES) {
            page.append("<h2>")
                    .append(escaped(table.heading()))
                    .append("</h2>\n<p>")
                    .append(escaped(table.meaning()));
            page.append("</p>\n<table><tr><th>key and example<th>meaning<th>unit, and what is valid<th>if left out\n");
            for (Key key : table.keys()) {
                Map<String, String> facts = facts(key);
                page.append("<tr><td><code>").append(escaped(example(key))).append("</code><td>");
                page.append(escaped(key.meaning() + " " + facts.getOrDefault("kinds", "")));
                page.append("<td>").append(escaped(key.values())).append("<td>").append(escaped(key.leftOut()));
                page.append('\n');
            }
            page.append("</table>\n");
        }
        return page.append("</body></html>\n").toString();
    }

    private static String escaped(String text) {
        return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
    }

    /**
     * Writes the page.
     *
     * @param arguments the file to write
     * @throws IOException if it cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        Path file = Path.of(arguments[0]);
        Files.createDirectories(Objects.requireNonNull(file.toAbsolutePath().getParent()));
        Files.writeString(file, page());
    }

    /** Who is told of each value: its key, what the list of keys says of it, null for one that it does not know, and the value. */
    @FunctionalInterface
    interface Visitor {
        void visit(String key, @Nullable Key told, Object value);
    }

    /** Everything at a key and below it; the table is where the key stands, without the numbers of arrays. */
    static void walk(String key, String table, String name, String kind, Object value, Visitor visitor) {
        String path = table.isEmpty() ? name : table + "." + name;
        if (value instanceof DesignTree.Table inner) {
            walk(key, path, inner, visitor);
        } else if (value instanceof Items items
                && items.values().stream().anyMatch(DesignTree.Table.class::isInstance)) {
            for (int i = 0; i < items.size(); i++) {
                String part = path.equals("part") ? DesignTree.nameOf(items.get(i)) : "";
                String numbered = part.isEmpty() ? key + "[" + (i + 1) + "]" : part;
                walk(
                        numbered,
                        path,
                        items.get(i) instanceof DesignTree.Table inner ? inner : DesignTree.Table.EMPTY,
                        visitor);
            }
        } else if (value instanceof Items items) {
            for (int i = 0; i < items.size(); i++) {
                visitor.visit(key + "[" + (i + 1) + "]", find(table, name, kind), items.get(i));
            }
        } else {
            visitor.visit(key, find(table, name, kind), value);
        }
    }

    private static void walk(String key, String path, DesignTree.Table table, Visitor visitor) {
        String kind = table.values().get("kind") instanceof String word ? word : "";
        if (table.values().isEmpty()) {
            visitor.visit(key, null, table);
        }
        table.values().forEach((name, inner) -> walk(key + "." + name, path, name, kind, inner, visitor));
    }
}
