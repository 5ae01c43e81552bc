package org.voltsecond.plot.explain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.HashMap;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Port;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.waveform.Waveform;

class CurrentPathsTest {
    @Test
    void currentsAtEachNodeAddUpToZero() {
        Stages.all().forEach((name, converter) -> {
            CurrentPaths paths = CurrentPaths.of(converter.steadyState());
            assertThat(paths.slices()).as(name).hasSizeGreaterThan(1);
            for (CurrentPaths.Slice slice : paths.slices()) {
                Map<String, Double> sums = new HashMap<>();
                double largest = 0;
                for (Port port : converter.circuit().ports()) {
                    double current = slice.currents().getOrDefault(port.name(), Double.NaN);
                    sums.merge(port.plus(), current, Double::sum);
                    sums.merge(port.minus(), -current, Double::sum);
                    largest = Math.max(largest, Math.abs(current));
                }
                double limit = 1e-12 * largest;
                assertThat(sums.values())
                        .as(name + " " + sums)
                        .allSatisfy(sum -> assertThat(sum).isCloseTo(0, within(limit)));
            }
        });
    }

    @Test
    void slicesOfALightBuckAreOnOffAndIdle() {
        ConverterSteadyState steady = Stages.lightBuck().steadyState();
        CurrentPaths paths = CurrentPaths.of(steady);
        assertThat(paths.slices().stream().map(CurrentPaths.Slice::kind))
                .containsExactly(TimeBand.Kind.ON, TimeBand.Kind.OFF, TimeBand.Kind.IDLE);
        CurrentPaths.Slice on = paths.slices().get(0);
        CurrentPaths.Slice idle = paths.slices().get(2);
        assertThat(on.conducting()).containsExactly("Q1");
        assertThat(on.currents().getOrDefault("Q1", Double.NaN))
                .isCloseTo(on.currents().getOrDefault("L1", Double.NaN), within(1e-12));
        assertThat(on.currents().getOrDefault("D1", Double.NaN)).isCloseTo(0, within(1e-12));
        assertThat(idle.conducting()).isEmpty();
        assertThat(idle.currents().getOrDefault("L1", Double.NaN)).isCloseTo(0, within(1e-12));
        assertThat(idle.currents().getOrDefault("C1", Double.NaN))
                .isCloseTo(-idle.currents().getOrDefault("R1", Double.NaN), within(1e-12));
        assertThat(paths.slices().get(2).end()).isCloseTo(steady.period(), within(1e-18));
    }

    /** Each mean weighted by its time is the mean of the period. */
    @Test
    void slicesTogetherAreThePeriod() {
        ConverterSteadyState steady = Stages.boost().steadyState();
        double charge = CurrentPaths.of(steady).slices().stream()
                .mapToDouble(slice -> slice.currents().getOrDefault("L1", Double.NaN) * (slice.end() - slice.start()))
                .sum();
        double mean = steady.of(steady.converter().inductorCurrent()).mean();
        assertThat(charge / steady.period()).isCloseTo(mean, within(1e-12 * mean));
    }

    @Test
    void thePictureTellsTheIntervalsAndTheirCurrents() {
        Picture picture =
                CurrentPaths.of(Stages.buck().steadyState()).picture("Buck").orElseThrow();
        assertThat(picture.svg()).contains("Q1 conducts", "D1 conducts", "903 mA", "7.46 V", "not a safety approval");
        assertThat(picture.slim(390).height()).isGreaterThan(390);
    }

    /** The second transistor of a push-pull stage, and the second diagonal of a bridge, charge the inductor as the first do. */
    @ParameterizedTest
    @ValueSource(strings = {"push-pull", "half bridge", "full bridge"})
    void bothTurnsOfABridgeAreOn(String stage) {
        ConverterSteadyState steady =
                Objects.requireNonNull(Stages.all().get(stage)).steadyState();
        assertThat(TimeBand.of(steady))
                .extracting(TimeBand::kind)
                .containsExactly(TimeBand.Kind.ON, TimeBand.Kind.OFF, TimeBand.Kind.ON, TimeBand.Kind.OFF);
        for (CurrentPaths.Slice slice : CurrentPaths.of(steady).slices()) {
            Waveform current = steady.of(steady.converter().inductorCurrent());
            boolean charged = current.at(slice.end()) > current.at(slice.start());
            assertThat(slice.kind()).isEqualTo(charged ? TimeBand.Kind.ON : TimeBand.Kind.OFF);
        }
    }

    @Test
    void aCircuitWithTooManyPartsHasNoPicture() {
        Circuit.Builder ladder = Circuit.builder().voltageSource("V1", "n0", Circuit.GROUND, 1);
        for (int k = 0; k < 40; k++) {
            ladder.resistor("R" + k, "n" + k, "n" + (k + 1), 1).resistor("S" + k, "n" + (k + 1), Circuit.GROUND, 1);
        }
        assertThat(org.voltsecond.plot.page.CurrentDrawing.plan(ladder.build())).isEmpty();
    }
}
