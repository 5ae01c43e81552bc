package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.export.BinaryTables;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.SampleTable;

/** Example: hand one period to another program: two signals as CSV, JSON and HDF5, one as a plain list of time and value. */
public final class ExportWaveforms {
    private ExportWaveforms() {}

    /**
     * Writes {@code rail.csv}, {@code rail.json}, {@code rail.h5} and {@code switch-node.txt}.
     *
     * @param arguments the folder to write into; the working directory if there is none
     * @throws IOException if a file cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        Path folder = Files.createDirectories(Path.of(arguments.length > 0 ? arguments[0] : ""));
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(100))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        ConverterSteadyState steady = rail.steadyState();
        // At every switching instant, two rows where a value jumps, and at most 50 ns from row to row.
        SampleTable table =
                SampleTable.of(50e-9, List.of(steady.of(rail.switchNode()), steady.of(rail.inductorCurrent())));
        try (Writer csv = Files.newBufferedWriter(folder.resolve("rail.csv"));
                Writer json = Files.newBufferedWriter(folder.resolve("rail.json"));
                Writer pairs = Files.newBufferedWriter(folder.resolve("switch-node.txt"))) {
            table.writeCsv(csv);
            table.writeJson(json);
            table.writePairs(0, pairs);
        }
        BinaryTables.titled("rail").group("steady_state", "one period", table).writeTo(folder.resolve("rail.h5"));
        System.out.println(table.size() + " rows of " + table.names());
    }
}
