package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.analysis.integration.IterativeLegendreGaussIntegrator;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Trajectory;

class SpectrumTest {
    @Test
    void squareWaveHasOddHarmonicsOnly() {
        Waveform node = Waveform.of(Runs.chopper(12, -12, 24e-6, 2e-6, 2e-6), Runs.STATE);
        Spectrum spectrum = node.spectrum(41);
        assertThat(spectrum.fundamentalFrequency()).isCloseTo(500e3, within(1e-6));
        assertThat(spectrum.mean()).isCloseTo(0, within(1e-14));
        for (int k = 1; k <= 41; k++) {
            // Fourier series of a square wave: 4 A / (k pi) sin for odd k
            double expected = k % 2 == 1 ? 48 / (k * Math.PI) : 0;
            assertThat(spectrum.amplitude(k)).as("harmonic %s", k).isCloseTo(expected, within(1e-13));
        }
        assertThat(spectrum.phase(1)).isCloseTo(-Math.PI / 2, within(1e-13));
        assertThat(spectrum.harmonics()).isEqualTo(41);
    }

    @Test
    void cosineHasOneHarmonic() {
        Waveform swing = Waveform.of(Runs.oscillation(2 * Math.PI * 1e5, 5e-6, 10e-6), Runs.STATE);
        Spectrum spectrum = swing.spectrum(20);
        assertThat(spectrum.amplitude(1)).isCloseTo(1, within(1e-13));
        assertThat(spectrum.phase(1)).isCloseTo(0, within(1e-12));
        for (int k = 2; k <= 20; k++) {
            assertThat(spectrum.amplitude(k)).isCloseTo(0, within(1e-13));
        }
    }

    @Test
    void partsOfAPeriodCarryTheirPhase() {
        // from a quarter of a period on, the cosine is minus a sine: phase +90 degrees
        Waveform swing = Waveform.of(Runs.oscillation(2 * Math.PI * 1e5, 5e-6, 20e-6), Runs.STATE);
        assertThat(swing.between(2.5e-6, 12.5e-6).spectrum(1).phase(1)).isCloseTo(Math.PI / 2, within(1e-12));
    }

    @Test
    void momentsAgreeWithQuadratureOnBothSidesOfTheTurn() {
        var gauss = new IterativeLegendreGaussIntegrator(20, 1e-13, 1e-13);
        for (double theta : new double[] {0, 1e-9, 0.3, 0.999, 1, 3.7, 12, 18.5, 60, 300}) {
            double[][] moments = Moments.of(24, theta);
            for (int m : new int[] {0, 1, 2, 5, 11, 12, 13, 18, 19, 24}) {
                double re = gauss.integrate(1_000_000, u -> Math.pow(u, m) * Math.cos(theta * u), 0, 1);
                double im = gauss.integrate(1_000_000, u -> -Math.pow(u, m) * Math.sin(theta * u), 0, 1);
                assertThat(moments[0][m]).as("re %s of %s", m, theta).isCloseTo(re, within(2e-13));
                assertThat(moments[1][m]).as("im %s of %s", m, theta).isCloseTo(im, within(2e-13));
            }
        }
    }

    @Test
    void endsOfTheIntervalsTellTheSameAsTheWaveform() {
        same(Runs.chopper(12, -12, 24e-6, 2e-6, 2e-6), Runs.STATE);
        same(Runs.chopper(12, -12, 24e-6, 2e-6, 2e-6), Runs.SECOND);
        same(Runs.sawtooth(3e-6, 3e-6), Runs.STATE);
        same(Runs.decay(5, 1e-6, 3e-6, 3e-6), Runs.STATE);
    }

    /** There the ends tell nothing: zero over zero. */
    @Test
    void harmonicOnAnUndampedResonanceIsFound() {
        same(Runs.oscillation(2 * Math.PI * 1e5, 5e-6, 10e-6), Runs.STATE);
    }

    private static void same(Trajectory period, Signal signal) {
        Spectrum whole = Waveform.of(period, signal).spectrum(200);
        Spectrum ends = Spectrum.of(period, signal, 200, (before, after) -> 0);
        assertThat(ends.mean()).isEqualTo(whole.mean());
        assertThat(ends.fundamentalFrequency()).isEqualTo(whole.fundamentalFrequency());
        for (int k = 1; k <= 200; k++) {
            assertThat(ends.amplitude(k) * Math.cos(ends.phase(k)))
                    .as("harmonic %s", k)
                    .isCloseTo(whole.amplitude(k) * Math.cos(whole.phase(k)), within(1e-13));
            assertThat(ends.amplitude(k) * Math.sin(ends.phase(k)))
                    .as("harmonic %s", k)
                    .isCloseTo(whole.amplitude(k) * Math.sin(whole.phase(k)), within(1e-13));
        }
    }
}
