package org.voltsecond.emission;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Piece;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Spectrum;
import org.voltsecond.waveform.Waveform;

/** The switch node of a lossless synchronous stage is a rectangle; with edges that take a time it is a trapezoid. */
class TrapezoidTest {
    private static final double VOLTS = 12;
    private static final double DUTY = 0.3;
    private static final double PERIOD = 4e-6;

    private static Spectrum spectrum(double rise, double fall, int harmonics) {
        Converter stage = PowerStage.buck()
                .input(VOLTS)
                .inductor(22e-6)
                .outputCapacitor(47e-6)
                .synchronousRectifier(0)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(DUTY, 1 / PERIOD));
        return Spectrum.of(
                stage.steadyState().periodic().trajectory(),
                stage.switchNode(),
                harmonics,
                (Interval before, Interval after) -> after.sinceTick() < PERIOD / 10 ? rise : fall);
    }

    /** Both edges differ: each has the coefficient of its step, with the sine over its argument as factor. */
    @Test
    void coefficientsAreThoseOfTheClosedForm() {
        double rise = 40e-9;
        double fall = 150e-9;
        Spectrum found = spectrum(rise, fall, 500);
        for (int k = 1; k <= 500; k++) {
            double omega = 2 * Math.PI * k / PERIOD;
            Complex up = Complex.of(VOLTS * sinc(omega * rise / 2));
            Complex down = Complex.polar(VOLTS * sinc(omega * fall / 2), -omega * DUTY * PERIOD);
            double expected = up.subtract(down).multiply(2 / PERIOD / omega).magnitude();
            assertThat(found.amplitude(k)).as("harmonic %s", k).isCloseTo(expected, within(1e-12));
        }
    }

    /** The same trapezoid drawn with straight lines, and integrated piece by piece. */
    @Test
    void coefficientsAreThoseOfTheDrawnTrapezoid() {
        double rise = 40e-9;
        double fall = 150e-9;
        double on = DUTY * PERIOD;
        Waveform drawn = Waveform.of(
                "trapezoid",
                Unit.VOLT,
                List.of(
                        Piece.of(0, rise, new double[] {0, VOLTS}),
                        Piece.of(rise, on - rise / 2 - fall / 2, new double[] {VOLTS}),
                        Piece.of(rise / 2 + on - fall / 2, fall, new double[] {VOLTS, -VOLTS}),
                        Piece.of(rise / 2 + on + fall / 2, PERIOD - rise / 2 - on - fall / 2, new double[] {0})));
        Spectrum expected = drawn.spectrum(300);
        Spectrum found = spectrum(rise, fall, 300);
        for (int k = 1; k <= 300; k++) {
            assertThat(found.amplitude(k)).as("harmonic %s", k).isCloseTo(expected.amplitude(k), within(1e-12));
        }
    }

    /**
     * The envelope of a trapezoid of equal edges: 2 A D up to 1 / (pi tau), then falling with 20 dB a decade up to 1 / (pi t_r), from
     * there on with 40 (H. W. Ott, Electromagnetic Compatibility Engineering, Wiley 2009, sec. 12.1.3, from memory). It bounds every
     * harmonic, and some come close to it on each of its three parts.
     */
    @Test
    void envelopeHasItsCorners() {
        double duty = DUTY;
        double edge = 100e-9;
        double lowCorner = 1 / (Math.PI * duty * PERIOD);
        double highCorner = 1 / (Math.PI * edge);
        Spectrum found = spectrum(edge, edge, 800);
        double[] closest = new double[3];
        for (int k = 1; k <= 800; k++) {
            double frequency = k / PERIOD;
            double envelope =
                    2 * VOLTS * duty * Math.min(1, lowCorner / frequency) * Math.min(1, highCorner / frequency);
            double share = found.amplitude(k) / envelope;
            assertThat(share).as("harmonic %s", k).isLessThanOrEqualTo(1 + 1e-9);
            int part = frequency < lowCorner ? 0 : frequency < highCorner ? 1 : 2;
            closest[part] = Math.max(closest[part], share);
        }
        assertThat(closest[0]).isGreaterThan(0.8);
        assertThat(closest[1]).isGreaterThan(0.9);
        assertThat(closest[2]).isGreaterThan(0.9);
    }

    private static double sinc(double x) {
        return Math.sin(x) / x;
    }
}
