package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

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
    void faultsAreTold() {
        Waveform one = Waveform.of(Runs.sawtooth(1, 2), Runs.STATE);
        Waveform other = Waveform.of(Runs.sawtooth(1, 3), Runs.STATE);
        assertThatThrownBy(() -> SampleTable.of(0, List.of(one))).hasMessageContaining("more than 0 s");
        assertThatThrownBy(() -> SampleTable.of(1, List.of())).hasMessageContaining("at least one");
        assertThatThrownBy(() -> SampleTable.of(1, List.of(one, other))).hasMessageContaining("same run");
    }
}
