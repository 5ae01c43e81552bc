package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Unit;

class RunWaveformsTest {
    private final Trajectory swing = Runs.oscillation(1e6, 1e-6, 5e-6);
    private final RunWaveforms waveforms = RunWaveforms.of(swing);

    @Test
    void anEqualSignalGetsTheSameWaveform() {
        Waveform state = waveforms.of(Runs.STATE);
        assertThat(state.maximum()).isCloseTo(1, within(1e-15));
        assertThat(waveforms.of(Signal.channel("state", Unit.VOLT, 0))).isSameAs(state);
        assertThat(waveforms.of(Runs.STATE.times(2)).maximum()).isCloseTo(2, within(1e-15));
        assertThat(waveforms.of(Runs.SECOND).name()).isEqualTo("second");
        assertThat(waveforms.trajectory()).isSameAs(swing);
    }

    @Test
    void aNewNameKeepsTheMeasures() {
        Waveform state = waveforms.of(Runs.STATE);
        Waveform named = state.named("swing");
        assertThat(named.name()).isEqualTo("swing");
        assertThat(named.rms()).isEqualTo(state.rms());
        assertThat(named.mean()).isEqualTo(Waveform.of(swing, Runs.STATE).mean());
    }

    @Test
    void everNewSignalsAreRead() {
        IntStream.rangeClosed(1, 300)
                .forEach(k ->
                        assertThat(waveforms.of(Runs.STATE.times(k)).maximum()).isCloseTo(k, within(1e-15 * k)));
    }

    @Test
    void aSignalOfAnotherCircuitIsToldEachTime() {
        Signal missing = Signal.channel("missing", Unit.VOLT, 7);
        for (int i = 0; i < 2; i++) {
            assertThatThrownBy(() -> waveforms.of(missing)).hasMessageContaining("another circuit");
        }
    }
}
