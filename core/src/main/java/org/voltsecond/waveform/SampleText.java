package org.voltsecond.waveform;

import java.io.IOException;
import org.voltsecond.units.JsonText;
import org.voltsecond.units.Unit;

/** Writes tables as text. Numbers have as many digits as bring back the same bits. */
final class SampleText {
    private final SampleTable table;
    private final Appendable out;

    SampleText(SampleTable table, Appendable out) {
        this.table = table;
        this.out = out;
    }

    void writeCsv() throws IOException {
        out.append("time (s)");
        for (int column = 0; column < columns(); column++) {
            out.append(',').append(quoted(heading(column)));
        }
        out.append('\n');
        for (int row = 0; row < table.size(); row++) {
            out.append(Double.toString(table.time(row)));
            for (int column = 0; column < columns(); column++) {
                out.append(',').append(Double.toString(table.value(row, column)));
            }
            out.append('\n');
        }
    }

    private String heading(int column) {
        Unit unit = table.units().get(column);
        String symbol = unit.symbol();
        return table.names().get(column) + (symbol.isEmpty() ? "" : " (" + symbol + ")");
    }

    /** RFC 4180. */
    private static String quoted(String text) {
        boolean plain = text.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
        return plain ? text : '"' + text.replace("\"", "\"\"") + '"';
    }

    void pairs(int column) throws IOException {
        for (int row = 0; row < table.size(); row++) {
            out.append(Double.toString(table.time(row)))
                    .append(' ')
                    .append(Double.toString(table.value(row, column)))
                    .append('\n');
        }
    }

    void writeJson() throws IOException {
        out.append("{\n\"time\": {\"unit\": \"s\", \"values\": ");
        array(-1);
        out.append("},\n\"signals\": [");
        for (int column = 0; column < columns(); column++) {
            out.append(column == 0 ? "\n{\"name\": " : ",\n{\"name\": ");
            out.append(JsonText.quoted(table.names().get(column)));
            out.append(", \"unit\": ");
            out.append(JsonText.quoted(table.units().get(column).symbol()));
            out.append(", \"values\": ");
            array(column);
            out.append('}');
        }
        out.append("\n]\n}\n");
    }

    /** The times for column -1. */
    private void array(int column) throws IOException {
        out.append('[');
        for (int row = 0; row < table.size(); row++) {
            double value = column < 0 ? table.time(row) : table.value(row, column);
            out.append(row == 0 ? "" : ", ").append(JsonText.number(value));
        }
        out.append(']');
    }

    private int columns() {
        return table.names().size();
    }
}
