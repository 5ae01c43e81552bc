package org.voltsecond.bench;

import java.io.StringReader;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * How a file is laid out: its dialect, what stands before its rows of numbers, and how many columns they have. Found from
 * the beginning of the file: that dialect and number of columns under which most lines are rows of numbers.
 *
 * @param dialect the dialect
 * @param columns the number of columns of a row of numbers
 * @param before the rows before the first row of numbers
 * @param first the first row of numbers; null if there is none
 * @param mayBeFractions whether each row could be one number with a decimal comma as well as two whole numbers
 */
record Layout(
        Dialect dialect,
        int columns,
        List<Row> before,
        @Nullable Row first,
        boolean mayBeFractions) {
    private record Guess(Dialect dialect, List<Row> rows, int columns, int count) {
        boolean isRow(Row row) {
            return row.size() == columns && row.isNumbers(dialect.decimal());
        }

        /** A row of several columns counts for more than any number of rows of one: a wrong separator leaves one column. */
        long score() {
            long halves = rows.stream()
                    .filter(row -> row.size() > 1 && row.startsWithNumber(dialect.decimal()))
                    .count();
            return columns > 1 ? (long) count << 40 : ((long) count << 20) + halves;
        }

        boolean mayBeFractions() {
            return dialect.separator() == ','
                    && columns == 2
                    && rows.stream().filter(this::isRow).allMatch(Row::isWholeNumbers);
        }
    }

    static Layout of(String beginning) {
        Guess best = null;
        for (Dialect dialect : Dialect.ALL) {
            Guess guess = guess(dialect, dialect.rows(new StringReader(beginning)));
            boolean better = best == null || guess.score() > best.score();
            best = better ? guess : best;
        }
        return of(Objects.requireNonNull(best));
    }

    private static Layout of(Guess chosen) {
        List<Row> rows = chosen.rows;
        for (int i = 0; i < rows.size(); i++) {
            if (chosen.isRow(rows.get(i))) {
                return new Layout(
                        chosen.dialect, chosen.columns, rows.subList(0, i), rows.get(i), chosen.mayBeFractions());
            }
        }
        return new Layout(chosen.dialect, chosen.columns, rows, null, false);
    }

    private static Guess guess(Dialect dialect, List<Row> rows) {
        Map<Integer, Integer> counts = new HashMap<>();
        for (Row row : rows) {
            if (row.isNumbers(dialect.decimal())) {
                counts.merge(row.size(), 1, Integer::sum);
            }
        }
        int columns = 0;
        int most = 0;
        for (Map.Entry<Integer, Integer> entry : counts.entrySet()) {
            boolean several = entry.getKey() > 1 || columns <= 1;
            if (several && (entry.getValue() > most || (entry.getKey() > 1 && columns == 1))) {
                columns = entry.getKey();
                most = entry.getValue();
            }
        }
        return new Guess(dialect, rows, columns, most);
    }
}
