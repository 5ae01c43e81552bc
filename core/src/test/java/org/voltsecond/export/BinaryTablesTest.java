package org.voltsecond.export;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.jhdf.HdfFile;
import io.jhdf.api.Dataset;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.SampleTable;
import org.voltsecond.waveform.Waveform;

/** What is read back, by the reader of the library, is the table bit by bit. */
class BinaryTablesTest {
    @TempDir
    private Path folder;

    private static Waveform wave(String name, Unit unit, double first, double second) {
        return Waveform.of(
                name,
                unit,
                List.of(
                        Piece.of(0, 1e-6 / 3, new double[] {first, Math.PI * first}),
                        Piece.of(1e-6 / 3, 1e-6, new double[] {second, 0.1 * second, -second})));
    }

    private static SampleTable table() {
        return SampleTable.of(
                1e-7,
                List.of(
                        wave("switch node", Unit.VOLT, 12, -0.4),
                        wave("switch/node", Unit.AMPERE, -0.0, Double.MIN_VALUE),
                        wave("impedance", Unit.OHM, 1e300, -1e-300)));
    }

    private static double[] values(HdfFile file, String path) {
        return (double[]) file.getDatasetByPath(path).getData();
    }

    @Test
    void everyNumberReadsBackBitByBit() throws IOException {
        SampleTable table = table();
        Path file = folder.resolve("rail.h5");
        BinaryTables.titled("rail, µ and Ω")
                .group("period", "one period", table)
                .writeTo(file);
        try (HdfFile hdf = new HdfFile(file)) {
            assertThat(hdf.getAttribute("title").getData()).isEqualTo("rail, µ and Ω");
            assertThat(hdf.getByPath("/period").getAttribute("meaning").getData())
                    .isEqualTo("one period");
            double[] time = values(hdf, "/period/time");
            assertThat(time).hasSize(table.size());
            List<String> names = List.of("switch_node", "switch_node_2", "impedance");
            for (int row = 0; row < table.size(); row++) {
                assertSameBits(time[row], table.time(row));
                for (int column = 0; column < names.size(); column++) {
                    assertSameBits(values(hdf, "/period/" + names.get(column))[row], table.value(row, column));
                }
            }
            Dataset impedance = hdf.getDatasetByPath("/period/impedance");
            assertThat(impedance.getAttribute("unit").getData()).isEqualTo("Ω");
            assertThat(hdf.getDatasetByPath("/period/switch_node_2")
                            .getAttribute("meaning")
                            .getData())
                    .isEqualTo("switch/node");
        }
        assertThat(jumps(table)).isEqualTo(1);
    }

    private static void assertSameBits(double read, double written) {
        assertThat(Double.doubleToRawLongBits(read)).isEqualTo(Double.doubleToRawLongBits(written));
    }

    private static int jumps(SampleTable table) {
        int jumps = 0;
        for (int row = 1; row < table.size(); row++) {
            jumps += table.time(row) == table.time(row - 1) ? 1 : 0;
        }
        return jumps;
    }

    @Test
    void partsFollowEachOther() throws IOException {
        Path file = folder.resolve("parts.h5");
        SampleTable table = table();
        BinaryTables.titled("")
                .group("run", "", List.of("a", "b", "c"), List.of(table, table))
                .writeTo(file);
        try (HdfFile hdf = new HdfFile(file)) {
            double[] values = values(hdf, "/run/a");
            assertThat(values).hasSize(2 * table.size());
            assertSameBits(values[table.size()], table.value(0, 0));
        }
    }

    @Test
    void theSameTablesGiveTheSameBytes() throws IOException {
        Path one = folder.resolve("one.h5");
        Path other = folder.resolve("other.h5");
        BinaryTables tables = BinaryTables.titled("rail").group("period", "one period", table());
        tables.writeTo(one);
        tables.writeTo(other);
        assertThat(Files.readAllBytes(other)).isEqualTo(Files.readAllBytes(one));
    }

    @Test
    void nothingIsLeftWhereItCannotBeWritten() throws IOException {
        Path inTheWay = Files.createDirectory(folder.resolve("rail.h5"));
        Files.writeString(inTheWay.resolve("note"), "keep");
        BinaryTables tables = BinaryTables.titled("rail").group("period", "one period", table());
        assertThatThrownBy(() -> tables.writeTo(inTheWay)).isInstanceOf(IOException.class);
        assertThatThrownBy(() -> tables.writeTo(folder.resolve("missing/rail.h5")))
                .isInstanceOf(IOException.class);
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files).containsExactly(inTheWay);
        }
        assertThat(inTheWay.resolve("note")).hasContent("keep");
    }

    @Test
    void namesThatDoNotFitAreRefused() {
        BinaryTables tables = BinaryTables.titled("rail").group("period", "one period", table());
        assertThatThrownBy(() -> tables.group("period", "", table())).hasMessageContaining("each once");
        assertThatThrownBy(() -> tables.group("a/b", "", table())).hasMessageContaining("letters, digits");
        assertThatThrownBy(() -> tables.group("other", "", List.of("a", "time", "c"), List.of(table())))
                .hasMessageContaining("data sets of other");
        assertThatThrownBy(() -> tables.group("other", "", List.of("a"), List.of(table())))
                .hasMessageContaining("the same 1 waveforms");
        assertThatThrownBy(() -> tables.group("other", "", List.of(), List.of()))
                .hasMessageContaining("at least one table");
    }
}
