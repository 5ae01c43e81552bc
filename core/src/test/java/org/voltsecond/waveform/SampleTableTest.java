package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;

class SampleTableTest {
    @Test
    void jumpsHaveTwoRowsAndSlopesOne() {
        var run = Runs.chopper(12, -0.4, 22e-6, 2e-6, 4e-6);
        Waveform node = Waveform.of(run, Runs.STATE);
        Waveform current = Waveform.of(run, Runs.SECOND);
        SampleTable both = SampleTable.of(Double.POSITIVE_INFINITY, List.of(node, current));
        assertThat(both.size()).isEqualTo(8);
        assertThat(both.time(1)).isEqualTo(both.time(2)).isEqualTo(1e-6);
        assertThat(both.value(1, 0)).isEqualTo(12);
        assertThat(both.value(2, 0)).isEqualTo(-0.4);
        assertThat(both.value(1, 1)).isCloseTo(both.value(2, 1), within(1e-15));
        assertThat(SampleTable.of(Double.POSITIVE_INFINITY, List.of(current)).size())
                .isEqualTo(5);
        assertThat(both.names()).containsExactly("state", "second");
        assertThat(both.units()).containsExactly(node.unit(), current.unit());
    }

    @Test
    void noStepIsLongerThanAskedFor() {
        Waveform decay = Waveform.of(Runs.decay(5, 3e-6, 1e-6, 3e-6), Runs.STATE);
        SampleTable table = SampleTable.of(0.3e-6, List.of(decay));
        assertThat(table.size()).isEqualTo(13);
        for (int row = 0; row < table.size(); row++) {
            assertThat(table.value(row, 0)).isCloseTo(5 * Math.exp(-table.time(row) / 3e-6), within(1e-13));
            assertThat(row == 0 || table.time(row) - table.time(row - 1) <= 0.3e-6)
                    .isTrue();
        }
    }

    @Test
    void instantsOfOnesOwnHaveTheValuesThatTheWaveformHasThere() {
        var run = Runs.chopper(12, -0.4, 22e-6, 2e-6, 4e-6);
        Waveform node = Waveform.of(run, Runs.STATE);
        Waveform current = Waveform.of(run, Runs.SECOND);
        double[] times = new Random(7)
                .doubles(500, current.startTime(), current.endTime())
                .toArray();
        // a switching instant, one that rounding has moved, and both ends
        System.arraycopy(new double[] {1e-6, Math.nextDown(1e-6), current.endTime(), 0, 1e-6}, 0, times, 100, 5);
        SampleTable table = SampleTable.of(times, List.of(node, current));
        assertThat(table.size()).isEqualTo(times.length);
        for (int row = 0; row < times.length; row++) {
            assertThat(table.time(row)).isEqualTo(times[row]);
            assertThat(table.value(row, 0)).isEqualTo(node.at(times[row]));
            assertThat(table.value(row, 1)).isEqualTo(current.at(times[row]));
        }
        assertThat(node.at(new double[0])).isEmpty();
    }

    /** Samples of a capture are one interval of very many pieces. */
    @Test
    void aMillionInstantsOfAWaveformOfAMillionPiecesAreFoundOneByOne() {
        int count = 1_000_000;
        List<Piece> ramps = IntStream.range(0, count)
                .mapToObj(i -> Piece.of(i, 1, new double[] {2 * i, 2}))
                .toList();
        Waveform ramp = Waveform.unbroken("ramp", Unit.VOLT, ramps);
        double[] times = IntStream.range(0, count).mapToDouble(i -> i + 0.25).toArray();
        double[] values = ramp.at(times);
        for (int i = 0; i < count; i++) {
            assertThat(values[i] == 2 * times[i]).isTrue();
        }
    }

    @Test
    void instantsOutsideAreCounted() {
        Waveform decay = Waveform.of(Runs.decay(5, 3e-6, 1e-6, 3e-6), Runs.STATE);
        assertThatThrownBy(() -> decay.at(new double[] {1e-6, 4e-6, Double.NaN, 2e-6}))
                .hasMessageContaining(
                        "from 0.0 s to 3.0E-6 s but 2 of 4 are not, the first of them 4.0E-6 s at index 1");
        assertThatThrownBy(() -> SampleTable.of(new double[] {0}, List.of())).hasMessageContaining("at least one");
    }

    /** Of two runs: a row wherever one of them switches, two where one of them jumps, and each has its own values there. */
    @Test
    void waveformsOfTwoRunsHaveTheInstantsOfBoth() {
        Waveform slow = Waveform.of(Runs.sawtooth(1, 3), Runs.STATE);
        Waveform quick = Waveform.of(Runs.sawtooth(0.75, 3), Runs.STATE);
        SampleTable table = SampleTable.of(Double.POSITIVE_INFINITY, List.of(slow, quick));
        double[] times =
                IntStream.range(0, table.size()).mapToDouble(table::time).toArray();
        assertThat(times).containsExactly(0, 0.75, 0.75, 1, 1, 1.5, 1.5, 2, 2, 2.25, 2.25, 3);
        assertThat(table.value(1, 1)).isEqualTo(quick.at(0.75, Side.BEFORE)).isNotEqualTo(table.value(2, 1));
        assertThat(table.value(1, 0)).isEqualTo(slow.at(0.75)).isEqualTo(table.value(2, 0));
        assertThat(SampleTable.of(0.1, List.of(slow, quick)).size()).isGreaterThan(30);
    }

    @Test
    void faultsAreTold() {
        Waveform one = Waveform.of(Runs.sawtooth(1, 2), Runs.STATE);
        Waveform other = Waveform.of(Runs.sawtooth(1, 3), Runs.STATE);
        assertThatThrownBy(() -> SampleTable.of(0, List.of(one))).hasMessageContaining("more than 0 s");
        assertThatThrownBy(() -> SampleTable.of(1, List.of())).hasMessageContaining("at least one");
        assertThatThrownBy(() -> SampleTable.of(1, List.of(one, other)))
                .hasMessageContaining("must stand over the same time");
    }
}
