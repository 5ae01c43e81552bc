package org.voltsecond.waveform;

import java.io.IOException;
import org.voltsecond.units.Unit;

/** Writes tables as text. Numbers have as many digits as bring back the same bits. */
final class SampleText {
    private final SampleTable table;
    private final Appendable out;

    SampleText(SampleTable table, Appendable out) {
        this.table = table;
        this.out = out;
    }

    void csv() throws IOException {
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

    void json() throws IOException {
        out.append("{\n\"time\": {\"unit\": \"s\", \"values\": ");
        array(-1);
        out.append("},\n\"signals\": [");
        for (int column = 0; column < columns(); column++) {
            out.append(column == 0 ? "\n{\"name\": " : ",\n{\"name\": ");
            string(table.names().get(column));
            out.append(", \"unit\": ");
            string(table.units().get(column).symbol());
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
            out.append(row == 0 ? "" : ", ").append(Double.isFinite(value) ? Double.toString(value) : "null");
        }
        out.append(']');
    }

    /** RFC 8259; lone halves of a character pair are escaped as well, so that the text can be written in UTF-8. */
    private void string(String text) throws IOException {
        out.append('"');
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c == '"' || c == '\\') {
                out.append('\\').append(c);
            } else if (c < ' ' || (Character.isSurrogate(c) && isLone(text, i))) {
                out.append(String.format("\\u%04x", (int) c));
            } else {
                out.append(c);
            }
        }
        out.append('"');
    }

    private static boolean isLone(String text, int i) {
        char c = text.charAt(i);
        return Character.isHighSurrogate(c)
                ? i + 1 == text.length() || !Character.isLowSurrogate(text.charAt(i + 1))
                : i == 0 || !Character.isHighSurrogate(text.charAt(i - 1));
    }

    private int columns() {
        return table.names().size();
    }
}
