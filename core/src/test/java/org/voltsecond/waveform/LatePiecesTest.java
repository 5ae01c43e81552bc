package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;

/** Pieces far from time zero, whose ends and beginnings agree only to the last digits of the time. */
class LatePiecesTest {

    @Test
    void aGapOfTheLastDigitOfTimeIsNone() {
        double begin = 1.8e-3;
        double middle = 0.00186296062271832;
        Piece first = Piece.of(begin, middle - begin, new double[] {1, 2});
        Piece second = Piece.of(Math.nextUp(middle), 1.68e-15, new double[] {3});
        Waveform waveform = Waveform.of("late", Unit.VOLT, List.of(first, second));
        assertThat(waveform.maximum()).isEqualTo(3);
        assertThat(waveform.mean()).isCloseTo(2, within(1e-9));
    }
}
