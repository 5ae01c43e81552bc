package org.voltsecond.bench;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import java.io.Reader;
import java.util.ArrayList;
import java.util.List;

/**
 * How a file separates its columns and writes its fractions.
 *
 * @param separator what stands between columns
 * @param decimal what stands before a fraction, a point or a comma
 */
record Dialect(char separator, char decimal) {
    /** A line longer than this is no row of a capture. */
    static final int LONGEST_LINE = 1 << 16;

    static final List<Dialect> ALL = List.of(
            new Dialect('\t', '.'),
            new Dialect('\t', ','),
            new Dialect(';', '.'),
            new Dialect(';', ','),
            new Dialect(',', '.'),
            new Dialect(' ', '.'),
            new Dialect(' ', ','));

    CsvReader<CsvRecord> reader(Reader text) {
        return CsvReader.builder()
                .fieldSeparator(separator)
                .maxBufferSize(LONGEST_LINE)
                .skipEmptyLines(false)
                .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
                .extraFieldStrategy(FieldMismatchStrategy.IGNORE)
                .ofCsvRecord(text);
    }

    /** The rows of the beginning of a file, up to one that cannot be read. */
    List<Row> rows(Reader text) {
        List<Row> rows = new ArrayList<>();
        try {
            for (CsvRecord csv : reader(text)) {
                rows.add(Row.of(csv, this));
            }
        } catch (CsvParseException e) {
            // What is wrong is told when the file is read, with the line; for guessing the dialect the rows so far do.
            return rows;
        }
        return rows;
    }
}
