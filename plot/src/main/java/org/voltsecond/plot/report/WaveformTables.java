package org.voltsecond.plot.report;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.export.BinaryTables;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.SampleTable;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * The waveforms of a design as tables: one period of the steady state with rows in between, and the transient at its
 * switching instants alone. Where a value jumps there are two rows at the same time, before and after. Every value is exact,
 * none is interpolated. Of a transient of very many periods only every so many are given, each whole.
 *
 * @param outcome what the design does
 * @param signals the signals, by the names that they have in files
 */
record WaveformTables(Findings outcome, Map<String, Signal> signals) {
    private static final String STEADY_STATE = "steady_state";
    private static final String TRANSIENT = "transient";
    private static final Map<String, String> MEANINGS = Map.of(
            STEADY_STATE, "one period of the periodic steady state",
            TRANSIENT,
                    "transient, at its switching instants; of a run of more than 5000 periods every so many, each whole");

    private static final int ROWS_OF_A_PERIOD = 200;
    private static final long MOST_PERIODS = 5_000;

    /** Takes one table after the other; those of one section follow each other in time. */
    @FunctionalInterface
    private interface Reader {
        void read(String section, SampleTable table) throws IOException;
    }

    static WaveformTables of(Findings outcome) {
        return new WaveformTables(outcome, NamedSignals.of(outcome.converter()));
    }

    /** Makes one table at a time, so that no more than one needs to be held. */
    private void forEach(Reader reader) throws IOException {
        if (outcome.steadyState().exists()) {
            ConverterSteadyState steady = outcome.steadyState().get();
            reader.read(STEADY_STATE, SampleTable.of(steady.period() / ROWS_OF_A_PERIOD, waveforms(steady)));
        }
        Result<TransientFigures> run = outcome.transientRun();
        if (run != null && run.exists()) {
            transientRun(run.get().run(), outcome.converter().driven().clockPeriod(), reader);
        }
    }

    private void transientRun(ConverterTransient run, double period, Reader reader) throws IOException {
        List<Waveform> whole = waveforms(run);
        long periods = (long) Math.ceil(run.finalTime() / period);
        long every = 1 + (periods - 1) / MOST_PERIODS;
        if (every == 1) {
            reader.read(TRANSIENT, SampleTable.of(Double.POSITIVE_INFINITY, whole));
            return;
        }
        for (long k = 0; k < periods; k += every) {
            double from = k * period;
            double to = Math.min((k + 1) * period, run.finalTime());
            if (to > from) {
                List<Waveform> part =
                        whole.stream().map(one -> one.between(from, to)).toList();
                reader.read(TRANSIENT, SampleTable.of(Double.POSITIVE_INFINITY, part));
            }
        }
    }

    private List<Waveform> waveforms(WaveformSource source) {
        return signals.values().stream().map(source::of).toList();
    }

    /** Writes waveforms.csv: a line for each row. */
    void writeCsv(Writer writer) throws IOException {
        StringBuilder line = new StringBuilder("section,time (s)");
        signals.forEach(
                (name, signal) -> line.append(',').append(name).append(signal.unit() == Unit.VOLT ? " (V)" : " (A)"));
        end(line, writer);
        forEach((section, table) -> {
            int columns = table.names().size();
            for (int row = 0; row < table.size(); row++) {
                line.append(section).append(',').append(table.time(row));
                for (int column = 0; column < columns; column++) {
                    line.append(',').append(table.value(row, column));
                }
                end(line, writer);
            }
        });
    }

    private static void end(StringBuilder line, Writer writer) throws IOException {
        writer.append(line.append('\n'));
        line.setLength(0);
    }

    /** Writes waveforms.h5: the same numbers bit by bit, a group for each section. */
    void writeBinary(Path file) throws IOException {
        Map<String, List<SampleTable>> sections = new LinkedHashMap<>();
        forEach((section, table) ->
                sections.computeIfAbsent(section, name -> new ArrayList<>()).add(table));
        BinaryTables binary = BinaryTables.titled(Printable.of(outcome.name()));
        List<String> names = List.copyOf(signals.keySet());
        sections.forEach(
                (section, parts) -> binary.group(section, MEANINGS.getOrDefault(section, section), names, parts));
        binary.writeTo(file);
    }
}
