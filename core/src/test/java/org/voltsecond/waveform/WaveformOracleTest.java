package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import org.hipparchus.analysis.integration.IterativeLegendreGaussIntegrator;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Trajectory;

/** Measures against the quadrature of an independent library, which knows the waveform by its values alone. */
class WaveformOracleTest {
    private static final int PERIODS = 60;
    private static final double PERIOD = 3.3e-6;

    private final Trajectory run = Runs.filter(12, 0.45, PERIOD, PERIODS * PERIOD);
    private final Waveform voltage = Waveform.of(run, Runs.STATE);
    private final Waveform current = Waveform.of(run, Runs.SECOND);

    @Test
    void meanRmsAndPowerAgreeWithQuadrature() {
        double duration = voltage.endTime();
        assertThat(voltage.mean()).isCloseTo(quadrature(voltage::at) / duration, within(1e-9));
        assertThat(current.mean()).isCloseTo(quadrature(current::at) / duration, within(1e-9));
        assertThat(current.rms())
                .isCloseTo(Math.sqrt(quadrature(t -> Math.pow(current.at(t), 2)) / duration), within(1e-9));
        assertThat(voltage.times(current).integral())
                .isCloseTo(quadrature(t -> voltage.at(t) * current.at(t)), within(1e-13));
    }

    private double quadrature(DoubleUnaryOperator value) {
        var gauss = new IterativeLegendreGaussIntegrator(9, 1e-12, 1e-18);
        double sum = 0;
        for (int k = 0; k < run.size(); k++) {
            double start = run.interval(k).start();
            double end = Math.nextDown(run.interval(k).end());
            sum += gauss.integrate(100_000, value::applyAsDouble, start, end);
        }
        return sum;
    }

    @Test
    void crossingsAreWhereTheValueIsTheLevel() {
        double level = 0.5 * (current.minimum() + current.maximum());
        var crossings = current.crossings(level);
        assertThat(crossings).isNotEmpty();
        for (Crossing crossing : crossings) {
            assertThat(current.at(crossing.time())).isCloseTo(level, within(1e-10));
        }
        for (int k = 1; k < crossings.size(); k++) {
            assertThat(crossings.get(k).rising())
                    .isNotEqualTo(crossings.get(k - 1).rising());
        }
    }

    @Test
    void noDenseSampleIsOutsideTheExtremes() {
        for (int k = 0; k <= 200_000; k++) {
            double value = current.at(current.endTime() * k / 200_000);
            assertThat(value).isBetween(current.minimum(), current.maximum());
        }
        double best = Double.NEGATIVE_INFINITY;
        for (int k = -1000; k <= 1000; k++) {
            double time = Math.max(0, Math.min(current.endTime(), current.timeOfMaximum() + k * 1e-12));
            best = Math.max(best, current.at(time));
        }
        assertThat(current.maximum()).isCloseTo(best, within(1e-12));
    }
}
