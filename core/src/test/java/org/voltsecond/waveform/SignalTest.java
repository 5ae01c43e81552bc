package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Unit;

class SignalTest {
    private static final Signal A = Signal.channel("a", Unit.VOLT, 0);
    private static final Signal B = Signal.channel("b", Unit.VOLT, 1);

    @Test
    void combinationsFollowTheirChannels() {
        Trajectory swing = Runs.oscillation(1e6, 1e-6, 5e-6);
        double a = Waveform.of(swing, A).at(1.3e-6);
        double b = Waveform.of(swing, B).at(1.3e-6);
        assertThat(a).isCloseTo(Math.cos(1.3), within(1e-14));
        assertThat(b).isCloseTo(-Math.sin(1.3), within(1e-14));
        assertThat(Waveform.of(swing, A.plus(B)).at(1.3e-6)).isCloseTo(a + b, within(1e-15));
        assertThat(Waveform.of(swing, A.minus(B.times(3))).at(1.3e-6)).isCloseTo(a - 3 * b, within(1e-15));
        assertThat(Waveform.of(swing, A.minus(A)).maximum()).isZero();
    }

    @Test
    void namesTellTheCombination() {
        assertThat(A.plus(B).name()).isEqualTo("a + b");
        assertThat(A.minus(B).named("difference").name()).isEqualTo("difference");
    }

    @Test
    void signalsThatLookAtTheSameAreEqual() {
        assertThat(A).isEqualTo(Signal.channel("a", Unit.VOLT, 0)).hasSameHashCodeAs(Signal.channel("a", Unit.VOLT, 0));
        assertThat(A.plus(B)).isEqualTo(A.plus(B)).isNotEqualTo(A.minus(B).named("a + b"));
        assertThat(A)
                .isNotEqualTo(A.named("b"))
                .isNotEqualTo(Signal.channel("a", Unit.VOLT, 1))
                .isNotEqualTo(Signal.channel("a", Unit.AMPERE, 0))
                .isNotEqualTo(A.times(2))
                .isNotEqualTo("a (V)");
    }

    @Test
    void faultsAreTold() {
        Signal current = Signal.channel("c", Unit.AMPERE, 0);
        Signal missing = Signal.channel("missing", Unit.VOLT, 7);
        assertThatThrownBy(() -> A.plus(current)).hasMessageContaining("same unit");
        assertThatThrownBy(() -> A.times(Double.NaN)).hasMessageContaining("finite");
        assertThatThrownBy(() -> Signal.channel("x", Unit.VOLT, -1)).hasMessageContaining("-1");
        assertThatThrownBy(() -> Waveform.of(Runs.sawtooth(1, 2), missing)).hasMessageContaining("another circuit");
    }
}
