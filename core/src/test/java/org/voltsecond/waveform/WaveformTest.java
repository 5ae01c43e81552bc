package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;

/** Waveforms against closed forms. */
class WaveformTest {
    private static final Offset<Double> TIGHT = within(1e-13);

    @Test
    void decayHasItsClosedFormMeasures() {
        double tau = 3e-6;
        Waveform decay = Waveform.of(Runs.decay(5, tau, 1e-6, 10e-6), Runs.STATE);
        double end = Math.exp(-10.0 / 3);
        assertThat(decay.at(4.5e-6)).isCloseTo(5 * Math.exp(-1.5), TIGHT);
        assertThat(decay.maximum()).isEqualTo(5);
        assertThat(decay.minimum()).isCloseTo(5 * end, TIGHT);
        assertThat(decay.timeOfMinimum()).isEqualTo(decay.endTime());
        assertThat(decay.integral()).isCloseTo(5 * tau * (1 - end), within(1e-19));
        assertThat(decay.rms()).isCloseTo(5 * Math.sqrt(0.15 * (1 - end * end)), TIGHT);
    }

    @Test
    void extremesOfAnOscillationLieInsideIntervals() {
        double omega = 2 * Math.PI * 70e3;
        Waveform swing = Waveform.of(Runs.oscillation(omega, 5e-6, 1e-3), Runs.STATE);
        Waveform part = swing.between(2e-6, 12e-6);
        assertThat(part.minimum()).isCloseTo(-1, TIGHT);
        assertThat(part.timeOfMinimum()).isCloseTo(Math.PI / omega, within(1e-12));
        // within two microseconds of the start and after the next maximum the cosine does not reach 1
        assertThat(part.maximum()).isCloseTo(Math.cos(omega * 2e-6), TIGHT);
        assertThat(swing.maximum()).isCloseTo(1, TIGHT);
        assertThat(swing.rms()).isCloseTo(Math.sqrt(0.5), TIGHT);
        assertThat(swing.mean()).isCloseTo(0, TIGHT);
    }

    @Test
    void bothSidesOfAJumpAreSeen() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 5e-6), Runs.STATE);
        assertThat(saw.at(2e-6, Side.BEFORE)).isCloseTo(1, TIGHT);
        assertThat(saw.at(2e-6, Side.AFTER)).isZero();
        assertThat(saw.at(2e-6)).isZero();
        assertThat(saw.at(saw.startTime(), Side.BEFORE)).isZero();
        assertThat(saw.at(saw.endTime(), Side.AFTER)).isCloseTo(1, TIGHT);
        assertThat(saw.maximum()).isCloseTo(1, TIGHT);
        assertThat(saw.minimum()).isZero();
        assertThat(saw.mean()).isCloseTo(0.5, TIGHT);
        assertThat(saw.rms()).isCloseTo(1 / Math.sqrt(3), TIGHT);
    }

    @Test
    void edgesAreJumpsAndNothingElse() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 4e-6), Runs.STATE);
        assertThat(saw.edges()).hasSize(3);
        assertThat(saw.edges().get(0).time()).isEqualTo(1e-6);
        assertThat(saw.edges().get(0).height()).isCloseTo(-1, TIGHT);
        var chopper = Runs.chopper(12, -0.4, 22e-6, 2e-6, 8e-6);
        assertThat(Waveform.of(chopper, Runs.STATE).edges()).hasSize(7);
        assertThat(Waveform.of(chopper, Runs.SECOND).edges()).isEmpty();
    }

    @Test
    void timesThatMissASwitchingInstantByRoundingAreThatInstant() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 50e-6), Runs.STATE);
        for (int k = 1; k < 49; k++) {
            double sum = 0;
            for (int j = 0; j < k; j++) {
                sum += 1e-6;
            }
            Waveform period = saw.between(Math.nextUp(k * 1e-6), Math.nextDown((k + 1) * 1e-6));
            assertThat(period.intervalCount()).isEqualTo(1);
            assertThat(period.at(period.startTime())).isZero();
            assertThat(saw.at(Math.nextDown(k * 1e-6))).as("%s and %s", k, sum).isZero();
        }
    }

    @Test
    void crossingsAreFoundOnSlopesAndInJumps() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 3e-6), Runs.STATE);
        List<Crossing> crossings = saw.crossings(0.25);
        assertThat(crossings).extracting(Crossing::rising).containsExactly(true, false, true, false, true);
        assertThat(crossings.get(0).time()).isCloseTo(0.25e-6, within(1e-20));
        assertThat(crossings.get(1).time()).isEqualTo(1e-6);
        assertThat(saw.crossings(2)).isEmpty();
    }

    @Test
    void aTouchIsNoCrossing() {
        Waveform parabola = Waveform.of("touch", Unit.VOLT, List.of(Piece.of(0, 1, new double[] {0.25, -1, 1})));
        assertThat(parabola.crossings(0)).isEmpty();
        assertThat(parabola.crossings(0.01)).extracting(Crossing::rising).containsExactly(false, true);
        assertThat(parabola.crossings(0.01).get(0).time()).isCloseTo(0.4, TIGHT);
    }

    @Test
    void aRestOnTheLevelCrossesWhereItIsLeft() {
        Waveform rest = Waveform.of(
                "rest",
                Unit.AMPERE,
                List.of(
                        Piece.of(0, 1, new double[] {1, -1}),
                        Piece.of(1, 1, new double[] {0}),
                        Piece.of(2, 1, new double[] {0, -1})));
        assertThat(rest.crossings(0)).containsExactly(new Crossing(2, false));
        Waveform back = Waveform.of(
                "idle",
                Unit.AMPERE,
                List.of(
                        Piece.of(0, 1, new double[] {1, -1}),
                        Piece.of(1, 1, new double[] {0}),
                        Piece.of(2, 1, new double[] {0, 1})));
        assertThat(back.crossings(0)).isEmpty();
    }

    @Test
    void powerIsTheProductAtEveryInstant() {
        var run = Runs.chopper(12, -12, 24e-6, 2e-6, 2e-6);
        Waveform node = Waveform.of(run, Runs.STATE);
        Waveform current = Waveform.of(run, Runs.SECOND);
        Waveform power = node.times(current);
        assertThat(power.unit()).isEqualTo(Unit.WATT);
        assertThat(power.at(0.5e-6)).isCloseTo(12 * 0.25, TIGHT);
        assertThat(power.at(1.5e-6)).isCloseTo(-12 * 0.25, TIGHT);
        // what flows in while on, half L times the peak current squared, comes back while off
        assertThat(power.between(0, 1e-6).integral()).isCloseTo(0.5 * 24e-6 * 0.25, within(1e-19));
        assertThat(power.integral()).isCloseTo(0, within(1e-20));
    }

    @Test
    void smallRippleOnALargeMeanKeepsItsDigits() {
        Waveform wave = Waveform.of(
                "rail", Unit.VOLT, List.of(Piece.of(0, 1, new double[] {1 - 1e-6, 2e-6}), Piece.of(1, 1, new double[] {
                    1 + 1e-6, -2e-6
                })));
        assertThat(wave.mean()).isEqualTo(1);
        assertThat(wave.ripple().rms()).isCloseTo(1e-6 / Math.sqrt(3), within(1e-15));
        assertThat(wave.ripple().peakToPeak()).isCloseTo(2e-6, within(1e-15));
    }

    @Test
    void settlingIsTheLastTimeOutsideTheBand() {
        double tau = 3e-6;
        Waveform decay = Waveform.of(Runs.decay(5, tau, 1e-6, 30e-6), Runs.STATE);
        assertThat(decay.settlingTime(0, 0.05).orElseThrow()).isCloseTo(tau * Math.log(100), within(1e-18));
        assertThat(decay.settlingTime(0, 6).orElseThrow()).isZero();
        assertThat(decay.settlingTime(1, 0.5)).isEmpty();
        Waveform ring = Waveform.of(Runs.oscillation(1e6, 1e-6, 21e-6), Runs.STATE);
        assertThat(ring.settlingTime(0, 0.5)).isEmpty();
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 3.5e-6), Runs.STATE);
        assertThat(saw.settlingTime(0.25, 0.3).orElseThrow()).isEqualTo(3e-6);
    }

    @Test
    void aRepeatedPeriodGoesOn() {
        Waveform period = Waveform.of(Runs.oscillation(2 * Math.PI * 1e5, 5e-6, 10e-6), Runs.SECOND);
        Waveform three = period.repeated(3);
        assertThat(three.endTime()).isCloseTo(30e-6, within(1e-20));
        assertThat(three.at(22.5e-6)).isCloseTo(-1, TIGHT);
        assertThat(three.edges()).isEmpty();
        assertThat(three.switchingTimes()).hasSize(7);
        assertThat(three.rms()).isCloseTo(period.rms(), TIGHT);
        assertThat(Waveform.of(Runs.sawtooth(1e-6, 1e-6), Runs.STATE)
                        .repeated(4)
                        .edges())
                .hasSize(3);
        assertThatThrownBy(() -> period.repeated(0)).hasMessageContaining("at least 1");
    }

    @Test
    void aDelayedWaveformHasTheSameValuesLater() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 3.5e-6), Runs.STATE);
        Waveform later = saw.delayed(2.5e-6);
        assertThat(later.startTime()).isEqualTo(2.5e-6);
        assertThat(later.endTime()).isEqualTo(6e-6);
        for (int k = 0; k < 14; k++) {
            double time = (k + 0.5) * 0.25e-6;
            assertThat(later.at(time + 2.5e-6)).isCloseTo(saw.at(time), TIGHT);
        }
        assertThat(later.rms()).isCloseTo(saw.rms(), TIGHT);
        assertThat(later.timeOfMaximum()).isCloseTo(saw.timeOfMaximum() + 2.5e-6, within(1e-20));
        assertThat(later.between(3e-6, 5e-6).mean())
                .isCloseTo(saw.between(0.5e-6, 2.5e-6).mean(), TIGHT);
        assertThat(later.delayed(-2.5e-6).switchingTimes()).containsExactly(saw.switchingTimes(), within(1e-20));
    }

    @Test
    void droopAndOvershootAreNeverNegative() {
        Waveform decay = Waveform.of(Runs.decay(5, 1e-6, 1e-6, 1e-6), Runs.STATE);
        assertThat(decay.overshootAbove(4)).isCloseTo(1, TIGHT);
        assertThat(decay.overshootAbove(6)).isZero();
        assertThat(decay.droopBelow(2)).isCloseTo(2 - 5 / Math.E, TIGHT);
        assertThat(decay.droopBelow(1)).isZero();
    }

    @Test
    void faultsSayWhatWhereAndWhatIsValid() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 2e-6), Runs.STATE);
        Waveform other = Waveform.of(Runs.sawtooth(1e-6, 2e-6), Runs.STATE);
        assertThatThrownBy(() -> saw.at(3e-6)).hasMessageContaining("2.0E-6 s but was 3.0E-6 s");
        assertThatThrownBy(() -> saw.at(Double.NaN)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> saw.between(1e-6, 1e-6)).hasMessageContaining("must last");
        assertThatThrownBy(() -> saw.between(Double.NaN, 1e-6)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> saw.plus(other)).hasMessageContaining("same run");
        assertThatThrownBy(() -> saw.plus(saw.between(0, 1e-6))).hasMessageContaining("same time");
        assertThatThrownBy(() -> saw.times(saw)).hasMessageContaining("voltage and a current");
        assertThatThrownBy(() -> saw.settlingTime(1, Double.NaN)).hasMessageContaining("band");
        assertThatThrownBy(() -> saw.spectrum(0)).hasMessageContaining("harmonic");
        assertThatThrownBy(() -> saw.envelope(0, 1e-6, 0)).hasMessageContaining("column");
        assertThatThrownBy(() -> Waveform.of("x", Unit.VOLT, List.of())).hasMessageContaining("at least one piece");
        assertThatThrownBy(() -> Waveform.of(
                        "x", Unit.VOLT, List.of(Piece.of(0, 1, new double[1]), Piece.of(2, 1, new double[1]))))
                .hasMessageContaining("gap");
    }

    @Test
    void aLongRunIsMeasuredWhole() {
        int periods = 25_000;
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, periods * 1e-6), Runs.STATE);
        assertThat(saw.intervalCount()).isEqualTo(periods);
        assertThat(saw.mean()).isCloseTo(0.5, within(1e-14));
        assertThat(saw.edges()).hasSize(periods - 1);
        assertThat(saw.at(12_345.75e-6)).isCloseTo(0.75, within(1e-10));
        assertThat(saw.crossings(0.5)).hasSize(2 * periods - 1);
    }
}
