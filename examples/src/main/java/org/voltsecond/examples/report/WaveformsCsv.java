package org.voltsecond.examples.report;

import java.io.IOException;
import java.io.Writer;
import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.SampleTable;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * Writes waveforms.csv: one period of the steady state with rows in between, and the transient at its switching instants
 * alone. Where a value jumps there are two rows at the same time, before and after. Every value is exact, none is
 * interpolated. Of a transient of very many periods only every so many are written, each whole.
 */
final class WaveformsCsv {
    private static final int ROWS_OF_A_PERIOD = 200;
    private static final long MOST_PERIODS = 5_000;

    private final Writer writer;
    private final Map<String, Signal> signals;
    private final StringBuilder line = new StringBuilder();

    private WaveformsCsv(Writer writer, Map<String, Signal> signals) {
        this.writer = writer;
        this.signals = signals;
    }

    static void write(Outcome outcome, Writer writer) throws IOException {
        WaveformsCsv csv = new WaveformsCsv(writer, StageSignals.of(outcome.converter()));
        csv.writeHeader();
        if (outcome.steadyState().exists()) {
            var steady = outcome.steadyState().get();
            csv.writeRows("steady_state", SampleTable.of(steady.period() / ROWS_OF_A_PERIOD, csv.waveforms(steady)));
        }
        Found<TransientOutcome> run = outcome.transientRun();
        if (run != null && run.exists()) {
            csv.writeTransient(run.get().run(), outcome.converter().driven().clockPeriod());
        }
    }

    private void writeHeader() throws IOException {
        line.append("section,time (s)");
        signals.forEach(
                (name, signal) -> line.append(',').append(name).append(signal.unit() == Unit.VOLT ? " (V)" : " (A)"));
        endLine();
    }

    private void writeTransient(ConverterTransient run, double period) throws IOException {
        List<Waveform> whole = waveforms(run);
        long periods = (long) Math.ceil(run.finalTime() / period);
        long every = 1 + (periods - 1) / MOST_PERIODS;
        if (every == 1) {
            writeRows("transient", SampleTable.of(Double.POSITIVE_INFINITY, whole));
            return;
        }
        for (long k = 0; k < periods; k += every) {
            double from = k * period;
            double to = Math.min((k + 1) * period, run.finalTime());
            if (to > from) {
                List<Waveform> part =
                        whole.stream().map(one -> one.between(from, to)).toList();
                writeRows("transient", SampleTable.of(Double.POSITIVE_INFINITY, part));
            }
        }
    }

    private List<Waveform> waveforms(WaveformSource source) {
        return signals.values().stream().map(source::of).toList();
    }

    private void writeRows(String section, SampleTable table) throws IOException {
        for (int row = 0; row < table.size(); row++) {
            line.append(section).append(',').append(table.time(row));
            for (int column = 0; column < signals.size(); column++) {
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
