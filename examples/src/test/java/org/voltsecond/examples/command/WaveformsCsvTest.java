package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What waveforms.csv holds. */
class WaveformsCsvTest {
    private static final int TIME = 1;
    private static final int OUTPUT = 2;
    private static final int INDUCTOR = 3;
    private static final int SWITCH_NODE = 4;

    @TempDir
    Path folder;

    private List<String[]> rows(String design) throws IOException {
        Path file = Designs.write(folder, "rail.toml", design);
        assertThat(CommandRun.of(file, "--into", folder.resolve("out"), "--no-pictures")
                        .exitCode())
                .isZero();
        return Files.readAllLines(folder.resolve("out/rail/waveforms.csv")).stream()
                .map(line -> line.split(",", -1))
                .toList();
    }

    private static List<String[]> section(List<String[]> rows, String name) {
        return rows.stream().filter(row -> row[0].equals(name)).toList();
    }

    private static double number(String[] row, int column) {
        return Double.parseDouble(row[column]);
    }

    @Test
    void headerNamesEveryColumnWithItsUnit() throws IOException {
        List<String[]> rows = rows(Designs.BUCK);
        assertThat(rows.get(0))
                .containsExactly(
                        "section",
                        "time (s)",
                        "output_voltage (V)",
                        "inductor_current (A)",
                        "switch_node_voltage (V)",
                        "transistor_current (A)",
                        "transistor_voltage (V)",
                        "rectifier_current (A)",
                        "rectifier_voltage (V)",
                        "output_capacitor_current (A)",
                        "input_current (A)",
                        "load_current (A)");
        assertThat(rows).allMatch(row -> row.length == 12);
    }

    /** The switch node jumps by V_in + V_F and the drops, at the end of the on interval. */
    @Test
    void thereAreTwoRowsWhereAValueJumps() throws IOException {
        List<String[]> steady = section(rows(Designs.BUCK), "steady_state");
        List<String[]> edge =
                steady.stream().filter(row -> number(row, TIME) == 1.5e-6).toList();
        assertThat(edge).hasSize(2);
        double current = number(edge.get(0), INDUCTOR);
        assertThat(number(edge.get(0), SWITCH_NODE)).isCloseTo(12 - 0.08 * current, within(1e-12));
        assertThat(number(edge.get(1), SWITCH_NODE)).isCloseTo(-0.4 - 0.02 * current, within(1e-12));
        assertThat(number(edge.get(1), INDUCTOR)).isCloseTo(current, within(1e-14));
        assertThat(number(steady.get(steady.size() - 1), TIME)).isEqualTo(1 / 300e3);
    }

    @Test
    void theTransientStandsAtItsSwitchingInstants() throws IOException {
        List<String[]> rows = section(rows(Designs.BUCK + "[transient]\nduration = " + 30 / 300e3 + "\n"), "transient");
        assertThat(rows.stream().map(row -> row[TIME]).distinct()).hasSize(1 + 2 * 30);
        assertThat(number(rows.get(0), OUTPUT)).isZero();
        assertThat(number(rows.get(rows.size() - 1), TIME)).isEqualTo(30 / 300e3);
    }

    /** Beyond 5,000 periods every so many are left out, but those that are there are whole. */
    @Test
    void aLongTransientIsThinnedByWholePeriods() throws IOException {
        List<String[]> rows = section(
                rows(Designs.BUCK + "[transient]\nstart = \"steady-state\"\nduration = " + 12_000 / 300e3 + "\n"),
                "transient");
        List<Double> times =
                rows.stream().map(row -> number(row, TIME)).distinct().toList();
        assertThat(times).hasSize(3 * 4_000).isSorted();
        for (int k = 0; k < times.size(); k += 3) {
            assertThat(times.get(k + 2) - times.get(k)).isCloseTo(1 / 300e3, within(1e-15));
        }
    }
}
