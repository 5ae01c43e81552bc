package org.voltsecond.bench;

import de.siegmar.fastcsv.reader.CsvRecord;
import java.util.List;

/** One row of a file: its line and its columns, without what separators at the end or in a run would add. */
record Row(long line, List<String> columns) {
    static Row of(CsvRecord csv, Dialect dialect) {
        List<String> fields = csv.getFields();
        if (dialect.separator() == ' ') {
            fields = fields.stream().filter(field -> !field.isEmpty()).toList();
        } else if (fields.size() > 1 && fields.get(fields.size() - 1).isBlank()) {
            fields = fields.subList(0, fields.size() - 1);
        }
        return new Row(csv.getStartingLineNumber(), fields);
    }

    int size() {
        return columns.size();
    }

    boolean isBlank() {
        return columns.stream().allMatch(String::isBlank);
    }

    boolean isNumbers(char decimal) {
        return !columns.isEmpty() && columns.stream().allMatch(column -> Numeral.is(column, decimal));
    }

    boolean startsWithNumber(char decimal) {
        return !columns.isEmpty() && Numeral.is(columns.get(0), decimal);
    }

    boolean isWholeNumbers() {
        return columns.stream().allMatch(column -> column.strip().matches("-?[0-9]+"));
    }

    boolean isWords() {
        return columns.stream().noneMatch(column -> Numeral.is(column, '.') || Numeral.is(column, ','));
    }
}
