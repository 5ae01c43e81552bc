package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;

import io.jhdf.HdfFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The files hold the same numbers, read by other means than they were written. */
class ExportWaveformsTest {
    @TempDir
    private Path folder;

    @Test
    void filesAgreeAndShowTheJumps() throws Exception {
        List<String> printed = Printed.by(ExportWaveforms::main, folder.toString());
        List<String> csv = Files.readAllLines(folder.resolve("rail.csv"));
        assertThat(csv.get(0)).isEqualTo("time (s),switch node (V),inductor current (A)");
        assertThat(printed).containsExactly((csv.size() - 1) + " rows of [switch node, inductor current]");
        Map<String, Object> json = Json.read(Files.readString(folder.resolve("rail.json")));
        List<?> times = (List<?>) Json.at(json, "time.values");
        List<?> signals = (List<?>) Json.at(json, "signals");
        List<?> node = (List<?>) values(signals.get(0));
        List<?> current = (List<?>) values(signals.get(1));
        List<String> pairs = Files.readAllLines(folder.resolve("switch-node.txt"));
        assertThat(pairs).hasSize(csv.size() - 1);
        assertThat(times).hasSize(pairs.size());
        double[][] binary = binary();
        int jumps = 0;
        for (int row = 0; row < pairs.size(); row++) {
            String[] fields = csv.get(row + 1).split(",", -1);
            assertThat(pairs.get(row)).isEqualTo(fields[0] + " " + fields[1]);
            assertThat(((Number) times.get(row)).doubleValue()).isEqualTo(Double.parseDouble(fields[0]));
            assertThat(((Number) node.get(row)).doubleValue()).isEqualTo(Double.parseDouble(fields[1]));
            assertThat(((Number) current.get(row)).doubleValue()).isEqualTo(Double.parseDouble(fields[2]));
            for (int column = 0; column < 3; column++) {
                assertThat(Double.doubleToRawLongBits(binary[column][row]))
                        .isEqualTo(Double.doubleToRawLongBits(Double.parseDouble(fields[column])));
            }
            jumps += row > 0 && times.get(row).equals(times.get(row - 1)) ? 1 : 0;
        }
        // From on to off, and from off to idle, where the node goes to the output voltage.
        assertThat(jumps).isEqualTo(2);
    }

    private double[][] binary() {
        try (HdfFile file = new HdfFile(folder.resolve("rail.h5"))) {
            return Stream.of("time", "switch_node", "inductor_current")
                    .map(name -> file.getDatasetByPath("/steady_state/" + name).getData())
                    .toArray(double[][]::new);
        }
    }

    private static Object values(Object signal) {
        return Objects.requireNonNull(((Map<?, ?>) signal).get("values"));
    }
}
