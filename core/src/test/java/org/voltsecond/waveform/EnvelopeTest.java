package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;

class EnvelopeTest {
    @Test
    void everyColumnHoldsTheExactExtremesOfItsPart() {
        Waveform filter = Waveform.of(Runs.filter(12, 0.45, 3.3e-6, 500e-6), Runs.SECOND);
        Envelope envelope = filter.envelope(10e-6, 490e-6, 77);
        for (int column = 0; column < 77; column++) {
            Waveform part = filter.between(envelope.startOf(column), envelope.startOf(column + 1));
            assertThat(envelope.minimum(column)).isCloseTo(part.minimum(), within(1e-9));
            assertThat(envelope.maximum(column)).isCloseTo(part.maximum(), within(1e-9));
            assertThat(envelope.first(column)).isCloseTo(part.at(part.startTime()), within(1e-9));
            assertThat(envelope.last(column)).isCloseTo(part.at(part.endTime()), within(1e-9));
        }
    }

    @Test
    void aNeedleBetweenTwoColumnsIsNotLost() {
        Waveform needle = Waveform.of(
                "needle",
                Unit.VOLT,
                List.of(
                        Piece.of(0, 1, new double[] {0}),
                        Piece.of(1, 1e-9, new double[] {0, 4, -4}),
                        Piece.of(1 + 1e-9, 9, new double[] {0})));
        Envelope envelope = needle.envelope(0, needle.endTime(), 7);
        assertThat(envelope.maximum(0)).isCloseTo(1, within(1e-15));
        assertThat(envelope.maximum(1)).isZero();
        assertThat(envelope.minimum(0)).isZero();
    }

    @Test
    void aJumpOnTheBorderBelongsToBothColumnsWithItsOwnSide() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 5e-6), Runs.STATE);
        Envelope envelope = saw.envelope(0, 5e-6, 5);
        for (int column = 0; column < 5; column++) {
            assertThat(envelope.first(column)).isCloseTo(0, within(1e-12));
            assertThat(envelope.last(column)).isCloseTo(1, within(1e-12));
        }
    }

    /** In columns of 0.6 periods some would hold the jump back and some not: the envelope of a steady state would swing. */
    @Test
    void inColumnsOfWholeCyclesWhatRepeatsItselfLooksTheSame() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 600e-6), Runs.STATE);
        assertThat(saw.columnsOfCycles(0, 600e-6, 1000)).isEqualTo(600);
        assertThat(saw.columnsOfCycles(0.4e-6, 599.9e-6, 1000)).isEqualTo(599);
        assertThat(saw.columnsOfCycles(0, 600e-6, 100)).isEqualTo(100);
        Envelope envelope = saw.envelope(0.4e-6, 599.9e-6, 599);
        for (int column = 0; column < 599; column++) {
            assertThat(envelope.minimum(column)).isCloseTo(0, within(1e-12));
            assertThat(envelope.maximum(column)).isCloseTo(1, within(1e-12));
        }
    }

    @Test
    void whereEachCycleIsSeenTheColumnsStay() {
        Waveform saw = Waveform.of(Runs.sawtooth(1e-6, 600e-6), Runs.STATE);
        assertThat(saw.columnsOfCycles(0, 20e-6, 1000)).isEqualTo(1000);
        assertThat(Waveform.of("flat", Unit.VOLT, List.of(Piece.of(0, 1, new double[] {1})))
                        .columnsOfCycles(0, 1, 70))
                .isEqualTo(70);
    }

    @Test
    void fewerIntervalsThanColumnsAreFollowedAsACurve() {
        Waveform swing = Waveform.of(Runs.oscillation(1e6, 1e-6, 6e-6), Runs.STATE);
        Envelope envelope = swing.envelope(0, 6e-6, 600);
        for (int column = 0; column < 600; column++) {
            assertThat(envelope.first(column)).isCloseTo(Math.cos(column * 0.01), within(1e-12));
        }
        assertThat(envelope.columns()).isEqualTo(600);
        assertThat(envelope.minimum(314)).isCloseTo(-1, within(1e-12));
    }
}
