package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;

/** What is written reads back as the same bits, jumps included. */
class SampleTextTest {
    private final Waveform node = Waveform.of(Runs.chopper(12, -0.4, 22e-6, 2e-6, 4e-6), Runs.STATE);
    private final SampleTable table = SampleTable.of(0.3e-6, List.of(node));

    @Test
    void csvReadsBack() throws IOException {
        StringBuilder out = new StringBuilder();
        table.writeCsv(out);
        List<String> lines = out.toString().lines().toList();
        assertThat(lines.get(0))
                .isEqualTo("time (s),state" + (node.unit().symbol().isEmpty() ? "" : " (" + node.unit().symbol() + ")"));
        assertRows(lines.subList(1, lines.size()), ",");
    }

    @Test
    void pairsReadBack() throws IOException {
        StringBuilder out = new StringBuilder();
        table.writePairs(0, out);
        assertRows(out.toString().lines().toList(), " ");
        assertThatThrownBy(() -> table.writePairs(1, out)).isInstanceOf(IndexOutOfBoundsException.class);
    }

    private void assertRows(List<String> lines, String separator) {
        assertThat(lines).hasSize(table.size());
        int jumps = 0;
        for (int row = 0; row < table.size(); row++) {
            String[] fields = lines.get(row).split(separator, -1);
            assertThat(fields).hasSize(2);
            assertThat(Double.parseDouble(fields[0])).isEqualTo(table.time(row));
            assertThat(Double.parseDouble(fields[1])).isEqualTo(table.value(row, 0));
            jumps += row > 0 && table.time(row) == table.time(row - 1) ? 1 : 0;
        }
        assertThat(jumps).isEqualTo(node.edges().size()).isPositive();
    }

    @Test
    void jsonReadsBack() throws IOException {
        StringBuilder out = new StringBuilder();
        table.writeJson(out);
        Matcher arrays = Pattern.compile("\"values\": \\[([^]]*)]").matcher(out);
        assertThat(arrays.find()).isTrue();
        double[] times = numbers(arrays.group(1));
        assertThat(arrays.find()).isTrue();
        double[] values = numbers(arrays.group(1));
        assertThat(arrays.find()).isFalse();
        assertThat(times).hasSize(table.size());
        for (int row = 0; row < table.size(); row++) {
            assertThat(times[row]).isEqualTo(table.time(row));
            assertThat(values[row]).isEqualTo(table.value(row, 0));
        }
    }

    private static double[] numbers(String list) {
        return Arrays.stream(list.split(", ", -1)).mapToDouble(Double::parseDouble).toArray();
    }

    @Test
    void hostileNamesStayText() throws IOException {
        String name = "a,\"b\"\n\\ \ud83d\ude00 \ud83d";
        SampleTable hostile = SampleTable.of(
                1, List.of(Waveform.of(name, Unit.VOLT, List.of(Piece.of(0, 1, new double[] {2})))));
        StringBuilder csv = new StringBuilder();
        hostile.writeCsv(csv);
        assertThat(csv.toString()).startsWith("time (s),\"a,\"\"b\"\"\n\\ \ud83d\ude00 \ud83d (V)\"\n");
        StringBuilder json = new StringBuilder();
        hostile.writeJson(json);
        assertThat(json.toString()).contains("\"name\": \"a,\\\"b\\\"\\u000a\\\\ \ud83d\ude00 \\ud83d\"");
    }
}
