package org.voltsecond.measure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;

/** The table of the measurements as part of a page. */
final class Table {
    private static final String BEGIN = "<!-- measured: begin -->";
    private static final String END = "<!-- measured: end -->";

    private final Map<String, Map<Row, Spread>> columns;
    private final Map<String, Spread> floors;
    private final int rounds;

    Table(Map<String, Map<Row, Spread>> columns, Map<String, Spread> floors, int rounds) {
        this.columns = columns;
        this.floors = floors;
        this.rounds = rounds;
    }

    /** Puts it between the marks of a page, or into a page of its own. */
    void into(Path page) throws IOException {
        String old = Files.exists(page) ? Files.readString(page) : BEGIN + END;
        int begin = old.indexOf(BEGIN);
        int end = old.indexOf(END);
        if (begin < 0 || end < begin) {
            throw new IOException(page + " has no marks " + BEGIN + " and " + END + " for the table to go between");
        }
        Files.writeString(page, old.substring(0, begin + BEGIN.length()) + "\n" + html() + old.substring(end));
    }

    private String html() {
        StringBuilder text = new StringBuilder();
        text.append("<p>Median (range) of ")
                .append(rounds)
                .append(rounds == 1 ? " Java machine" : " Java machines")
                .append(
                        "; in each the least of many short runs, of a rate the highest.</p>\n<table>\n<tr><th></th><th>C program</th>");
        columns.keySet().forEach(jdk -> text.append("<th>" + jdk + "</th><th>× C</th>"));
        text.append("<th>aim</th></tr>\n");
        Set<Row> rows = new LinkedHashSet<>();
        columns.values().forEach(column -> rows.addAll(column.keySet()));
        rows.forEach(row -> line(text, row));
        return text.append("</table>\n").toString();
    }

    private void line(StringBuilder text, Row row) {
        Spread floor = floors.getOrDefault(row.floor(), new Spread());
        text.append(
                "<tr><td>" + row.label() + ", " + row.unit() + "</td><td>" + (floor.isEmpty() ? "" : floor) + "</td>");
        for (Map<Row, Spread> column : columns.values()) {
            Spread spread = column.get(row);
            boolean both = !floor.isEmpty() && !spread.isEmpty();
            String ratio = both ? Spread.digits(spread.median() / floor.median()) : "";
            text.append("<td>" + spread + "</td><td>" + ratio + "</td>");
        }
        text.append("<td>" + row.aim() + "</td></tr>\n");
    }
}
