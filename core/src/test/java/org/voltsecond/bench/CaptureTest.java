package org.voltsecond.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

class CaptureTest {
    private final Capture capture =
            Capture.of("channel 1", Unit.VOLT, new double[] {0, 1, 3, 4}, new double[] {0, 2, 2, -2});

    @Test
    void valuesLieOnStraightLines() {
        assertThat(capture.at(0.5)).isEqualTo(1);
        assertThat(capture.at(2)).isEqualTo(2);
        assertThat(capture.at(3.25)).isEqualTo(1);
        assertThat(capture.at(-1)).isZero();
        assertThat(capture.at(9)).isEqualTo(-2);
        assertThat(capture.minimum()).isEqualTo(-2);
        assertThat(capture.maximum()).isEqualTo(2);
    }

    @Test
    void meanIsThatOfTheLines() {
        assertThat(capture.mean(0, 4)).isCloseTo((1 + 4 + 0) / 4.0, within(1e-15));
        assertThat(capture.mean(0.5, 1.5)).isCloseTo(0.75 + 1, within(1e-15));
    }

    @Test
    void waveformIsThePartAskedForUnderItsNewTime() {
        Waveform part = capture.waveform(0.5, 3.5, 10);
        assertThat(part.startTime()).isEqualTo(10.5);
        assertThat(part.endTime()).isEqualTo(13.5);
        assertThat(part.intervalCount()).isEqualTo(1);
        assertThat(part.at(10.5)).isCloseTo(1, within(1e-14));
        assertThat(part.at(12)).isCloseTo(2, within(1e-14));
        assertThat(part.at(13.25)).isCloseTo(1, within(1e-14));
        assertThat(part.mean()).isCloseTo(capture.mean(0.5, 3.5), within(1e-14));
        assertThatThrownBy(() -> capture.waveform(5, 6, 0)).hasMessageContaining("nothing of it");
    }

    @Test
    void fixedIntervalGivesTimes() {
        Capture sampled = Capture.sampled("a", Unit.AMPERE, -1, 0.5, new double[] {1, 2, 3});
        assertThat(sampled.time(0)).isEqualTo(-1);
        assertThat(sampled.endTime()).isZero();
        assertThat(sampled.size()).isEqualTo(3);
        assertThat(sampled.unit()).isEqualTo(Unit.AMPERE);
    }

    @Test
    void faultsNameTheSample() {
        double[] good = {0, 1, 2};
        refused(good, new double[] {1, Double.NaN, 2}, "sample 1 is NaN V");
        refused(new double[] {0, 1, 1}, good, "sample 2 is at 1.0 s, after one at 1.0 s");
        refused(new double[] {0, 2, 1}, good, "time must go forward");
        refused(new double[] {0, 1, Double.POSITIVE_INFINITY}, good, "finite");
        refused(new double[] {0}, new double[] {0}, "at least 2");
        refused(good, new double[] {0, 1}, "3 times and 2 values");
        assertThatThrownBy(() -> Capture.sampled("a", Unit.VOLT, 0, Double.NaN, good))
                .hasMessageContaining("more than 0 s");
    }

    private static void refused(double[] times, double[] values, String message) {
        assertThatThrownBy(() -> Capture.of("a", Unit.VOLT, times, values))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining(message);
    }
}
