package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import io.jhdf.HdfFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The option that writes waveforms.h5: the numbers of waveforms.csv, bit by bit. */
class WaveformsBinaryTest {
    @TempDir
    private Path folder;

    @Test
    void everyNumberIsThatOfTheText() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK + "[transient]\nduration = \"0.2 ms\"\n");
        CommandRun run = CommandRun.of(design, "--into", folder.resolve("out"), "--no-pictures", "--binary");
        assertThat(run.err()).isEmpty();
        assertThat(run.exitCode()).isZero();
        compare(2);
        // a second run replaces the folder, which holds nothing but files of the command
        assertThat(CommandRun.of(design, "--into", folder.resolve("out"), "--no-pictures")
                        .exitCode())
                .isZero();
        assertThat(folder.resolve("out/rail/waveforms.h5")).doesNotExist();
    }

    /** Of a run this long only every second period is written. */
    @Test
    void aLongRunHasTheSamePartsInBoth() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.IDEAL_BOOST + "[transient]\nduration = \"24 ms\"\n");
        CommandRun run = CommandRun.of(design, "--into", folder.resolve("out"), "--no-pictures", "--binary");
        assertThat(run.exitCode()).isZero();
        compare(2);
    }

    private void compare(int sections) throws IOException {
        List<String[]> lines = Files.readAllLines(folder.resolve("out/rail/waveforms.csv")).stream()
                .map(line -> line.split(",", -1))
                .toList();
        String[] headings = lines.get(0);
        try (HdfFile hdf = new HdfFile(folder.resolve("out/rail/waveforms.h5"))) {
            assertThat(hdf.getChildren()).hasSize(sections);
            for (String section : hdf.getChildren().keySet()) {
                List<String[]> rows =
                        lines.stream().filter(row -> row[0].equals(section)).toList();
                assertThat(rows).hasSizeGreaterThan(100);
                for (int column = 1; column < headings.length; column++) {
                    compare(hdf, section, headings[column], rows, column);
                }
            }
        }
    }

    private static void compare(HdfFile hdf, String section, String heading, List<String[]> rows, int column) {
        String name = heading.substring(0, heading.indexOf(' '));
        String unit = heading.substring(heading.indexOf('(') + 1, heading.indexOf(')'));
        var dataset = hdf.getDatasetByPath("/" + section + "/" + name);
        assertThat(dataset.getAttribute("unit").getData()).isEqualTo(unit);
        assertThat(String.valueOf(dataset.getAttribute("meaning").getData())).isNotBlank();
        double[] values = (double[]) dataset.getData();
        assertThat(values).hasSize(rows.size());
        for (int row = 0; row < values.length; row++) {
            long written = Double.doubleToRawLongBits(Double.parseDouble(rows.get(row)[column]));
            assertThat(Double.doubleToRawLongBits(values[row])).isEqualTo(written);
        }
    }
}
