package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.units.Unit;

/** Lines of a table of comma-separated values (RFC 4180, with line feeds alone). */
final class Csv {
    private Csv() {}

    static String heading(String name, Unit unit) {
        return unit.symbol().isEmpty() ? name : name + " (" + unit.symbol() + ")";
    }

    /** What is not a number stays empty. */
    static String number(double value) {
        return Double.isNaN(value) ? "" : Double.toString(value);
    }

    static String text(String text) {
        boolean plain = text.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
        return plain ? text : '"' + text.replace("\"", "\"\"") + '"';
    }

    /** Mode of conduction, figures and, last, the reason why there are none. */
    static List<String> cells(Outcome<OperatingPoint> outcome, int figures) {
        List<String> cells = new ArrayList<>();
        OperatingPoint point = outcome.value().orElse(null);
        cells.add(point == null ? "" : point.conduction().toString());
        for (int k = 0; k < figures; k++) {
            cells.add(point == null ? "" : number(point.values().get(k)));
        }
        cells.add(text(outcome.reason().orElse("")));
        return cells;
    }

    static String line(List<String> cells) {
        return String.join(",", cells) + "\n";
    }
}
