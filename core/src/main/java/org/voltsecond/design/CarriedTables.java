package org.voltsecond.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.tomlj.TomlArray;
import org.tomlj.TomlTable;

/** Tables beside [rail] that ask for more of the proposed design, and are carried over into it. */
final class CarriedTables {
    private CarriedTables() {}

    /** The tables as text; what is wrong with them is told where they stand. Empty if there are none. */
    static String text(Section root) {
        LossReader.read(root, null);
        ToleranceReader.read(root, null);
        List<String> tables = new ArrayList<>();
        for (String name : List.of("losses", "tolerance")) {
            if (root.has(name) && root.given(name) instanceof TomlTable table) {
                write(tables, name, table);
            }
        }
        return String.join("\n\n", tables);
    }

    private static void write(List<String> tables, String name, TomlTable table) {
        List<String> lines = new ArrayList<>();
        List<String> inner = new ArrayList<>();
        for (Map.Entry<String, Object> entry : table.entrySet()) {
            if (entry.getValue() instanceof TomlTable further) {
                write(inner, name + "." + entry.getKey(), further);
            } else {
                lines.add(entry.getKey() + " = " + value(entry.getValue()));
            }
        }
        tables.add(DesignText.table(name, lines.toArray(String[]::new)).strip());
        tables.addAll(inner);
    }

    private static String value(Object value) {
        if (value instanceof String text) {
            return DesignText.quoted(text);
        }
        if (value instanceof TomlArray array) {
            return IntStream.range(0, array.size())
                    .mapToObj(i -> value(array.get(i)))
                    .collect(Collectors.joining(", ", "[", "]"));
        }
        return value.toString();
    }
}
