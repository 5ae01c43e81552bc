package org.voltsecond.plot.report;

import java.io.IOException;
import java.io.Writer;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.SampleTable;

/** Writes waveforms.csv: the {@link WaveformTables}, a line for each row. */
final class WaveformsCsv {
    private final Writer writer;
    private final WaveformTables tables;
    private final StringBuilder line = new StringBuilder();

    private WaveformsCsv(Writer writer, WaveformTables tables) {
        this.writer = writer;
        this.tables = tables;
    }

    static void write(Findings outcome, Writer writer) throws IOException {
        WaveformsCsv csv = new WaveformsCsv(writer, WaveformTables.of(outcome));
        csv.writeHeader();
        csv.tables.forEach(csv::writeRows);
    }

    private void writeHeader() throws IOException {
        line.append("section,time (s)");
        tables.signals()
                .forEach((name, signal) ->
                        line.append(',').append(name).append(signal.unit() == Unit.VOLT ? " (V)" : " (A)"));
        endLine();
    }

    private void writeRows(String section, SampleTable table) throws IOException {
        int columns = table.names().size();
        for (int row = 0; row < table.size(); row++) {
            line.append(section).append(',').append(table.time(row));
            for (int column = 0; column < columns; column++) {
                line.append(',').append(table.value(row, column));
            }
            endLine();
        }
    }

    private void endLine() throws IOException {
        writer.append(line.append('\n'));
        line.setLength(0);
    }
}
