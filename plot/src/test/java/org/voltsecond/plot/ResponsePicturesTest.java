package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Bifurcation;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.numeric.Complex;

/** Pictures of known transfer functions. */
class ResponsePicturesTest {
    /** An integrator of 1 kHz with two poles at 10 kHz: -180 degrees at 10 kHz, where the gain is 1/20, or -26 dB. */
    private static FrequencyResponse loop(double... frequencies) {
        return FrequencyResponse.of("loop gain", "", frequencies, f -> {
            Complex pole = new Complex(1, f / 10e3);
            return new Complex(0, f / 1e3).multiply(pole).multiply(pole).reciprocal();
        });
    }

    private static FrequencyResponse loop() {
        return loop(FrequencyResponse.decades(10, 100e3, 30));
    }

    @Test
    void bodeMarksTheMargins() {
        Picture picture = ResponsePictures.loopGain("Loop", "an integrator and two poles", loop());
        assertThat(picture.svg())
                .contains("gain margin 26.0 dB at 10.00 kHz", "phase margin 78.7 degrees", "crossover 990.3 Hz")
                .contains(">100 Hz<", ">10 kHz<", "Phase (degrees)", "Magnitude (dB)", "not a safety approval");
        Pixels pixels = new Pixels(picture.image());
        assertThat(pixels.count(Look.trace(0))).isGreaterThan(1200);
        assertThat(pixels.paperAround(8)).isTrue();
    }

    @Test
    void magnitudeFallsAcrossThePanelAndPhaseBelowIt() {
        Picture picture = ResponsePictures.bode("Loop", "", loop());
        Pixels pixels = new Pixels(picture.image());
        int left = 14 + Axes.LEFT;
        int right = picture.width() - 14 - Axes.RIGHT;
        int early = pixels.highest(Look.trace(0), left + 60, 70, left + 100, 400);
        int late = pixels.highest(Look.trace(0), right - 60, 70, right - 20, 400);
        assertThat(late).isGreaterThan(early + 150);
        assertThat(picture.svg()).doesNotContain("margin");
    }

    @Test
    void nyquistShowsThePointMinusOne() {
        Picture picture = ResponsePictures.nyquist("Loop", "", loop());
        assertThat(picture.svg())
                .contains(">-1<", "phase margin 78.7 degrees at 990.3 Hz", "gain margin 26.0 dB", "Real part");
        assertThat(new Pixels(picture.image()).count(Look.trace(0))).isGreaterThan(200);
    }

    @Test
    void bifurcationHasADotForEachSample() {
        Bifurcation sweep = new Bifurcation(
                "output voltage",
                "V",
                List.of(
                        new Bifurcation.Point(1, List.of(5.0, 5.0), ""),
                        new Bifurcation.Point(2, List.of(4.0, 6.0), ""),
                        new Bifurcation.Point(3, List.of(), "chattering")));
        Picture picture = ResponsePictures.bifurcation("Doubling", "", "Input voltage (V)", sweep);
        assertThat(picture.svg()).contains("output voltage on the clock edge (V)", "Input voltage (V)");
        String svg = picture.svg();
        assertThat(svg.split("width=\"1.4\"", -1).length - 1).isEqualTo(3);
    }

    @Test
    void tooLittleToDrawIsRefused() {
        assertThatThrownBy(() -> ResponsePictures.bode("b", "")).hasMessageContaining("at least one response");
        assertThatThrownBy(() -> ResponsePictures.nyquist("n", "", loop(100))).hasMessageContaining("2 frequencies");
        FrequencyResponse impedance = FrequencyResponse.of("z", "Ω", new double[] {1, 2}, f -> Complex.ONE);
        assertThatThrownBy(() -> ResponsePictures.bode("b", "", loop(), impedance))
                .hasMessageContaining("one unit");
        Bifurcation one = new Bifurcation("v", "V", List.of(new Bifurcation.Point(1, List.of(5.0), "")));
        assertThatThrownBy(() -> ResponsePictures.bifurcation("b", "", "x", one))
                .hasMessageContaining("two values");
    }
}
