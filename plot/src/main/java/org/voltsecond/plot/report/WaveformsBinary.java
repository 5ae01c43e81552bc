package org.voltsecond.plot.report;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.export.BinaryTables;
import org.voltsecond.units.Printable;
import org.voltsecond.waveform.SampleTable;

/** Writes waveforms.h5: the numbers of waveforms.csv, bit by bit, a group for each section. */
final class WaveformsBinary {
    private static final Map<String, String> MEANINGS = Map.of(
            WaveformTables.STEADY_STATE, "one period of the periodic steady state",
            WaveformTables.TRANSIENT,
                    "transient, at its switching instants; of a run of more than 5000 periods every so many, each whole");

    private WaveformsBinary() {}

    static void write(Findings outcome, Path file) throws IOException {
        WaveformTables tables = WaveformTables.of(outcome);
        Map<String, List<SampleTable>> sections = new LinkedHashMap<>();
        tables.forEach((section, table) ->
                sections.computeIfAbsent(section, name -> new ArrayList<>()).add(table));
        BinaryTables binary = BinaryTables.titled(Printable.of(outcome.name()));
        List<String> names = List.copyOf(tables.signals().keySet());
        sections.forEach(
                (section, parts) -> binary.group(section, MEANINGS.getOrDefault(section, section), names, parts));
        binary.writeTo(file);
    }
}
