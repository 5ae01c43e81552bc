package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.assertj.core.api.InstanceOfAssertFactories;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Plant;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.numeric.Complex;
import org.voltsecond.reference.PublishedBuck;
import org.voltsecond.stage.Load;

/** Orbits that take several periods of the clock, and what is said where there are none. */
class SubharmonicOrbitTest {
    private static final double PERIOD = 1e-5;
    private static final double INDUCTANCE = 100e-6;
    private static final double PEAK = 5;

    /** An inductor between two ideal sources, through a buck stage in peak current mode. */
    private static DrivenCircuit betweenSources(double input, double output, double slope) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, input)
                .switchPart("Q1", "in", "sw", 0)
                .rectifier("D1", Circuit.GROUND, "sw", 0, 0)
                .inductor("L1", "sw", "out", INDUCTANCE)
                .voltageSource("V2", "out", Circuit.GROUND, output)
                .build();
        DrivenCircuit open = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.5, 1 / PERIOD))
                .build();
        Plant plant = new Plant("Q1", null, open.nodeVoltage("out"), open.current("L1"), open.nodeVoltage("in"));
        return DrivenCircuit.builder(circuit)
                .controlledBy(CurrentMode.peak(1 / PERIOD, PEAK)
                        .withSlopeCompensation(slope)
                        .on(plant))
                .build();
    }

    /**
     * The map of the valley current from clock edge to clock edge, for rising slope m1, falling slope m2, compensating slope
     * mc and peak I: a pulse of t = (I - i) / (m1 + mc) leaves i + m1 t - m2 (T - t), of slope -(m2 - mc) / (m1 + mc); one
     * that does not reach the command within the period leaves i + m1 T (current programmed control as in R. W. Erickson,
     * D. Maksimovic, Fundamentals of Power Electronics, ch. 18, from memory; worked out further for this test). An orbit of
     * two periods has one pulse of each kind: its low valley is the fixed point of the one after the other.
     */
    @ParameterizedTest
    @CsvSource({"12, 7, 0", "12, 9, 0", "12, 10, 5000", "24, 16, 10000"})
    void anOrbitOfTwoPeriodsIsThatOfTheValleyMap(double input, double output, double slope) {
        double up = (input - output) / INDUCTANCE;
        double down = output / INDUCTANCE;
        double factor = (up + down) / (up + slope);
        // i1 = i0 + up T;  i0 = i1 + factor (I - i1) - down T
        double low = PEAK - up * PERIOD - (down - up) * PERIOD / factor;
        double multiplier = 1 - factor;
        DrivenCircuit circuit = betweenSources(input, output, slope);
        SteadyState found = SteadyState.of(circuit, new double[] {low - 0.01}, 2);
        assertThat(found.state()[0]).isCloseTo(low, within(1e-12 * PEAK));
        assertThat(found.repeatsAfter()).isEqualTo(2);
        assertThat(found.multipliers().get(0))
                .satisfies(m -> assertThat(m.real()).isCloseTo(multiplier, within(1e-11)));
        assertThat(found.isStable()).isFalse();
        double once = (PEAK * factor - down * PERIOD) / factor;
        SteadyState single = SteadyState.of(circuit, new double[] {once}, 2);
        assertThat(single.state()[0]).isCloseTo(once, within(1e-12 * PEAK));
        assertThat(single.repeatsAfter()).isEqualTo(1);
        assertThat(single.periods()).isEqualTo(2);
        assertThat(single.multipliers().get(0).real()).isCloseTo(multiplier * multiplier, within(1e-10));
    }

    @ParameterizedTest
    @CsvSource({"24.6, 2", "28, 2", "31.0, 2", "31.2, 4", "32.0, 4", "32.12, 8"})
    void theConverterSettlesToAnOrbitOfAsManyPeriodsAsItsBifurcationShows(double input, int periods) {
        Converter converter = PublishedBuck.at(input);
        ConverterSteadyState steady = converter.steadyState(periods);
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.periodic().repeatsAfter()).isEqualTo(periods);
        assertThat(steady.period()).isCloseTo(periods / 2500.0, within(1e-15));
        assertThat(steady.audit().residual()).isLessThan(1e-11);
        double[] state = steady.periodic().state();
        double[] later =
                PeriodMap.of(steady.periodic().circuit().law(), 100 * periods).apply(state);
        assertThat(later).containsExactly(state, within(1e-9));
    }

    /** By the chain rule the derivative over both periods is the product of those over each. */
    @Test
    void theMultipliersAreThoseOfBothPeriodsInSuccession() {
        SteadyState orbit = PublishedBuck.at(28).steadyState(2).periodic();
        PeriodMap map = PeriodMap.withDerivative(orbit.circuit().law(), 1);
        double[] between = map.apply(orbit.state());
        double[][] first = map.derivative();
        map.apply(between);
        double[][] second = map.derivative();
        double determinant = determinant(first) * determinant(second);
        double trace = 0;
        for (int i = 0; i < 2; i++) {
            for (int j = 0; j < 2; j++) {
                trace += second[i][j] * first[j][i];
            }
        }
        Complex product =
                orbit.multipliers().get(0).multiply(orbit.multipliers().get(1));
        Complex sum = orbit.multipliers().get(0).add(orbit.multipliers().get(1));
        assertThat(product.real()).isCloseTo(determinant, within(1e-10));
        assertThat(sum.real()).isCloseTo(trace, within(1e-10));
    }

    @Test
    void whatRepeatsSoonerIsNoOrbitOfMorePeriods() {
        assertThatThrownBy(() -> PublishedBuck.at(22).steadyState(2))
                .hasMessageContaining("after 1 already, in a stable steady state")
                .asInstanceOf(InstanceOfAssertFactories.type(NoSteadyStateException.class))
                .extracting(NoSteadyStateException::reason)
                .isEqualTo(NoSteadyStateException.Reason.REPEATS_SOONER);
        assertThat(PublishedBuck.at(22).steadyState(1).periodic().repeatsAfter())
                .isEqualTo(1);
        assertThat(PublishedBuck.at(28).steadyState().periodic().isStable()).isFalse();
    }

    @ParameterizedTest
    @ValueSource(ints = {0, -3})
    void aNumberOfPeriodsIsAtLeastOne(int periods) {
        assertThatThrownBy(() -> PublishedBuck.at(22).steadyState(periods))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("at least 1 but was " + periods);
    }

    @Test
    void aConverterWithoutClockHasOrbitsOfSeveralCycles() {
        Converter free = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6, 0.05)
                .load(Load.resistor(2.5))
                .drive(Hysteretic.voltageBand(200e3, 5, 1, 0.02));
        assertThatThrownBy(() -> free.steadyState(3)).hasMessageContaining("after 1 already");
    }

    private static double determinant(double[][] m) {
        return m[0][0] * m[1][1] - m[0][1] * m[1][0];
    }
}
