package org.voltsecond.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.Writer;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.units.Unit;

class CaptureFileTest {
    private static final CaptureChoice FIRST = CaptureChoice.first(Unit.VOLT);

    @TempDir
    private Path folder;

    private Path file(String text) throws IOException {
        return file(text, StandardCharsets.UTF_8);
    }

    private Path file(String text, Charset charset) throws IOException {
        return Files.writeString(folder.resolve("capture.csv"), text, charset);
    }

    private Capture read(String text) throws IOException, CaptureException {
        return CaptureFile.read(file(text), FIRST);
    }

    /** The same three samples in every dialect. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "0,1.5\n1e-6,2.5\n2e-6,-3\n",
                "time,channel 1\n0,1.5\n1e-6,2.5\n2e-6,-3",
                "0;1,5\r\n1e-6;2,5\r\n2e-6;-3\r\n",
                "0;1.5\n1e-6;2.5\n2e-6;-3\n",
                "0\t1,5\n0,000001\t2,5\n0,000002\t-3\n",
                "0\t1.5\n1.0E-6\t+2.50\n2e-6\t-3.\n",
                "0 1.5\n1e-6   2.5\n  2e-6 -3\n",
                "0 1,5\n1e-6 2,5\n2e-6 -3\n",
                "0,1.5,\n1e-6,2.5,\n2e-6,-3,\n\n",
                "\"0\",\"1.5\"\n\"1e-6\",\"2.5\"\n\"2e-6\",\"-3\"\n",
                "\ufefftime (s),channel 1 (V)\n0,1.5\n1e-6,2.5\n2e-6,-3\n",
                "Time (µs);channel 1 [mV]\n0;1500\n1;2500\n2;-3000\n",
                "taken: 1 May\nlength,3\n\nt,channel 1\nsecond,Volt\n0,1.5\n1e-6,2.5\n2e-6,-3\n",
                "# a remark, with 7, numbers\n#\n0,1.5\n1e-6,2.5\n2e-6,-3\n",
                "sample interval: 1e-6\n1.5\n2.5\n-3\n",
                "sample interval: 1 usec\n1.5\n2.5\n-3\n",
                "time (usec),channel 1 (V)\n0,1.5\n1,2.5\n2,-3\n",
                "time [µsec],channel 1 (V)\n0,1.5\n1,2.5\n2,-3\n",
                "time (sec),channel 1 (V)\n0,1.5\n1e-6,2.5\n2e-6,-3\n",
                "time (msec),channel 1 (millivolts)\n0,1500\n1e-3,2500\n2e-3,-3000\n",
                "time (microseconds),channel 1 (V)\n0,1.5\n1,2.5\n2,-3\n",
                "time,channel 1\nus,V\n0,1.5\n1,2.5\n2,-3\n",
                "Sample Interval,1 µs\nchannel 1\n1.5\n2.5\n-3\n",
                "Sampling interval;1e-6;s\n1.5\n2.5\n-3.0\n"
            })
    void everyDialectIsRead(String text) throws Exception {
        Capture capture = read(text);
        assertThat(capture.size()).isEqualTo(3);
        double[] times = {0, 1e-6, 2e-6};
        double[] values = {1.5, 2.5, -3};
        for (int i = 0; i < 3; i++) {
            assertThat(capture.time(i)).isEqualTo(times[i]);
            assertThat(capture.value(i)).isEqualTo(values[i]);
        }
        assertThat(capture.name()).isEqualTo("channel 1");
    }

    @Test
    void otherEncodingsAreRead() throws Exception {
        String text = "time (µs),channel 1\n0,1.5\n1,2.5\n2,-3\n";
        for (Charset charset : new Charset[] {StandardCharsets.ISO_8859_1, StandardCharsets.UTF_16}) {
            Capture capture = CaptureFile.read(file(text, charset), FIRST);
            assertThat(capture.time(2)).isEqualTo(2e-6);
            assertThat(capture.value(2)).isEqualTo(-3);
        }
    }

    @Test
    void channelsAreChosenByNameOrNumber() throws Exception {
        Path file = file("t,node,coil (mA)\n0,1,10\n1,2,20\n");
        Capture byName = CaptureFile.read(file, new CaptureChoice(Unit.AMPERE, "coil", Double.NaN));
        assertThat(byName.value(1)).isEqualTo(0.02);
        assertThat(byName.name()).isEqualTo("coil");
        Capture byNumber = CaptureFile.read(file, new CaptureChoice(Unit.AMPERE, "2", Double.NaN));
        assertThat(byNumber.value(1)).isEqualTo(0.02);
        refused("channel \"3\" is missing; valid: 1 to 2, or \"node\", \"coil\"", 1, file, "3");
        refused("channel \"t\" is missing", 1, file, "t");
        refused("names the unit mA; valid here: V", 1, file, "coil");
        refused("channel \"2\" is missing; valid: 1", 1, file("0,1\n1,2\n"), "2");
    }

    @Test
    void sampleIntervalStandsForTheTime() throws Exception {
        Path file = file("node;coil\n1;10\n2;20\n");
        Capture capture = CaptureFile.read(file, new CaptureChoice(Unit.VOLT, "2", 4e-9));
        assertThat(capture.time(1)).isEqualTo(4e-9);
        assertThat(capture.value(1)).isEqualTo(20);
        refusedAt(
                "may be one number with a decimal comma or two",
                1,
                file("1,5\n2,5\n"),
                new CaptureChoice(Unit.VOLT, "1", 4e-9));
        refused("may be one number with a decimal comma", 2, "sample interval;1e-6;s\n1,5\n2,5\n-3,0\n");
    }

    @Test
    void faultsNameTheLine() throws Exception {
        refused("column 2 is no finite number: \"abc\"", 3, "0,1\n1,2\n2,abc\n3,4\n");
        refused("column 2 is no finite number: \"abc\"", 2, "t,v\n0,abc\n1,2\n2,3\n");
        refused("no finite number: \"NaN\"", 2, "0,1\n1,NaN\n2,3\n");
        refused("no finite number: \"NaN\"", 2, "t,v\n0,NaN\n1,NaN\n");
        refused("no finite number: \"Infinity\"", 2, "0,1\n1,Infinity\n2,3\n");
        refused("no finite number: \"1e999\"", 2, "0,1\n1,1e999\n2,3\n");
        refused("no finite number: \"0x10\"", 2, "0,1\n1,0x10\n2,3\n");
        refused("no finite number: \"12d\"", 2, "0,1\n1,12d\n2,3\n");
        refused("column 2 is empty", 2, "0,1,5\n1,,5\n2,3,5\n");
        refused("has 1 column but the rows above have 2", 3, "0,1\n1,2\n2\n3,4\n");
        refused("has 3 columns but the rows above have 2", 3, "0,1\n1,2\n2,1,3\n3,4\n");
        refused("time runs backwards: 500 ms after 1 s", 5, "preamble\nt,v\n0,1\n1,2\n0.5,3\n2,4\n");
        refused("time stands still: 1 s after 1 s", 3, "0,1\n1,2\n1,3\n2,4\n");
        refused("only 1 sample", 2, "t,v\n0,1\n");
        refused("only 1 sample", 1, "0,1");
        refused("is empty", 1, "");
        refused("is empty", 1, "\n \n");
        refused("no line contains only numbers", 1, "t,v\n");
        refused("no line contains only numbers", 1, "nothing to see here");
        refused("only one column, so no time", 2, "v\n1.5\n2.5\n");
        refused("zero byte", 2, "0,1\n1,\0\n");
        refused("quotation mark is not closed", 3, "0,1\n1,2\n\"2,3\n" + "4,5\n".repeat(30_000));
        refused("longer than 65536 characters", 3, "0,1\n1,2\n" + "7".repeat(200_000) + ",1\n");
        refused("no finite number: \"?[31m\"", 2, "0,1\n1,\u001b[31m\n2,3\n");
    }

    /** A unit of time that is none was once read as a second. */
    @Test
    void anUnknownUnitOfTimeIsRefused() throws IOException {
        String told = "the heading of column 1 names the unit fortnight; valid here: s and its multiples";
        refused(told, 1, "time (fortnight),node (V)\n0,1\n1,2\n2,3\n");
        refused(told, 2, "time,node\nfortnight,V\n0,1\n1,2\n2,3\n");
    }

    /** What stands in brackets behind a channel may be anything. */
    @Test
    void bracketsBehindAChannelAreOfItsName() throws Exception {
        assertThat(read("time (s),node (probe 2)\n0,1\n1,2\n2,3\n").name()).isEqualTo("node (probe 2)");
    }

    @Test
    void filesThatAreNoneAreTold() {
        assertThatThrownBy(() -> CaptureFile.read(folder.resolve("none.csv"), FIRST))
                .isInstanceOf(CaptureException.class)
                .hasMessageContaining("none.csv:1: does not exist");
        assertThatThrownBy(() -> CaptureFile.read(folder, FIRST)).hasMessageContaining(":1: is not a regular file");
    }

    /** Past the beginning from which the dialect is guessed, faults are found as well. */
    @Test
    void longFilesAreReadToTheEnd() throws Exception {
        StringBuilder text = new StringBuilder("t;v\n");
        for (int i = 0; i < 100_000; i++) {
            text.append(i).append(";0,5\n");
        }
        Capture capture = read(text.toString());
        assertThat(capture.size()).isEqualTo(100_000);
        assertThat(capture.maximum()).isEqualTo(0.5);
        refused("no finite number: \"x\"", 100_002, text + "100000;x\n");
    }

    @Test
    void hugeFilesAreRefusedAtTheFirstLineTooMany() throws Exception {
        Path file = folder.resolve("huge.csv");
        try (Writer writer = Files.newBufferedWriter(file)) {
            for (int i = 0; i < CaptureFile.MOST_SAMPLES + 3; i++) {
                writer.write(Integer.toString(i));
                writer.write(",1\n");
            }
        }
        refused("too many samples; valid: at most 5000000", CaptureFile.MOST_SAMPLES + 1, file, "1");
    }

    private void refused(String message, int line, String text) throws IOException {
        refused(message, line, file(text), "1");
    }

    private static void refused(String message, int line, Path file, String channel) {
        refusedAt(message, line, file, new CaptureChoice(Unit.VOLT, channel, Double.NaN));
    }

    private static void refusedAt(String message, int line, Path file, CaptureChoice choice) {
        assertThatThrownBy(() -> CaptureFile.read(file, choice))
                .isInstanceOf(CaptureException.class)
                .hasMessageStartingWith(file + ":" + line + ": ")
                .hasMessageContaining(message);
    }
}
