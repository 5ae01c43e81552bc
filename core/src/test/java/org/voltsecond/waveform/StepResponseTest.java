package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;

class StepResponseTest {
    @Test
    void firstOrderTransitionTakesLogNineTimeConstants() {
        double tau = 3e-6;
        Waveform decay = Waveform.of(Runs.decay(5, tau, 1e-6, 40e-6), Runs.STATE);
        StepResponse falling = StepResponse.of(decay, 5, 0);
        assertThat(falling.transitionDuration().orElseThrow()).isCloseTo(tau * Math.log(9), within(1e-17));
        assertThat(falling.transitionDuration(0.2, 0.8).orElseThrow()).isCloseTo(tau * Math.log(4), within(1e-17));
        assertThat(falling.instantOf(0.5).orElseThrow()).isCloseTo(tau * Math.log(2), within(1e-17));
        assertThat(falling.transitionSettlingDuration(0.02).orElseThrow())
                .isCloseTo(tau * (Math.log(50) - Math.log(2)), within(1e-17));
        assertThat(falling.overshoot()).isZero();
        assertThat(falling.undershoot()).isZero();
    }

    @Test
    void overshootAndUndershootAreFractionsOfTheStep() {
        // one cubic from 1 V to 3 V that first dips and then swings over
        Waveform wave = Waveform.of(
                "swing",
                Unit.VOLT,
                List.of(
                        Piece.of(0, 1, new double[] {1, -1}),
                        Piece.of(1, 1, new double[] {0, 3.5}),
                        Piece.of(2, 1, new double[] {3.5, -0.5})));
        StepResponse step = StepResponse.of(wave, 1, 3);
        assertThat(step.overshoot()).isCloseTo(0.25, within(1e-15));
        assertThat(step.undershoot()).isCloseTo(0.5, within(1e-15));
        assertThat(step.transitionDuration().orElseThrow()).isCloseTo(1.6 / 3.5, within(1e-14));
    }

    @Test
    void aTransitionThatIsNotMadeHasNoDuration() {
        Waveform decay = Waveform.of(Runs.decay(5, 3e-6, 1e-6, 1e-6), Runs.STATE);
        StepResponse step = StepResponse.of(decay, 5, 0);
        assertThat(step.transitionDuration()).isEmpty();
        assertThat(step.transitionSettlingDuration(0.1)).isEmpty();
        assertThatThrownBy(() -> StepResponse.of(decay, 5, 5)).hasMessageContaining("two different finite levels");
        assertThatThrownBy(() -> StepResponse.of(decay, 5, Double.NaN)).hasMessageContaining("finite");
        assertThatThrownBy(() -> step.transitionDuration(0.9, 0.1)).hasMessageContaining("ascending");
    }
}
