package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Transient;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Simulation;

/** What every regulator keeps, whatever its values, over start-up, a load step and a line step. */
class RegulatorProperties {
    private static final int PERIODS = 180;

    /** Times of the transistor turning on and off again, with the length of the pulse. */
    private record Pulse(double on, double off) {
        double length() {
            return off - on;
        }
    }

    private static List<Pulse> pulses(DrivenCircuit driven, List<Interval> intervals) {
        List<Pulse> pulses = new ArrayList<>();
        double from = Double.NaN;
        for (Interval interval : intervals) {
            boolean on = driven.conducts(interval.phase(), "Q1");
            if (on && Double.isNaN(from)) {
                from = interval.start();
            } else if (!on && !Double.isNaN(from)) {
                pulses.add(new Pulse(from, interval.start()));
                from = Double.NaN;
            }
        }
        return pulses;
    }

    @Property(tries = 100)
    void pulsesKeepTheirLimits(@ForAll long seed) {
        RandomRegulators regulators = RandomRegulators.of(seed);
        DrivenCircuit driven = regulators.driven();
        double period = driven.clockPeriod();
        List<Interval> intervals = Simulation.of(driven.law())
                .record(driven.restState(), PERIODS * period)
                .intervals();
        double roundOff = 1e-11 * PERIODS * period;
        double lastOff = Double.NEGATIVE_INFINITY;
        int[] begun = new int[PERIODS + 1];
        double[] onTime = new double[PERIODS + 1];
        for (Pulse pulse : pulses(driven, intervals)) {
            assertThat(pulse.length())
                    .isBetween(regulators.shortestOnTime() - roundOff, regulators.longestOnTime() + roundOff);
            assertThat(pulse.on() - lastOff).isGreaterThanOrEqualTo(regulators.shortestOffTime() - roundOff);
            lastOff = pulse.off();
            begun[(int) Math.floor(pulse.on() / period + regulators.beginOfPeriod() + 1e-9)]++;
        }
        for (Interval interval : intervals) {
            if (driven.conducts(interval.phase(), "Q1")) {
                double middle = (interval.start() + interval.duration() / 2) / period;
                onTime[(int) Math.floor(middle + regulators.beginOfPeriod())] += interval.duration();
            }
        }
        if (regulators.onePulsePerPeriod()) {
            assertThat(Arrays.stream(begun).max().orElse(0)).isLessThanOrEqualTo(1);
            assertThat(Arrays.stream(onTime).max().orElse(0))
                    .isLessThanOrEqualTo(regulators.maximumDutyCycle() * period + roundOff);
        }
    }

    /** Met by chance: its buck swings above its input, and its inductor current flows back as the transistor opens. */
    @Test
    void pulsesKeepTheirLimitsWhereTheCurrentFlowsBack() {
        pulsesKeepTheirLimits(1279964231);
    }

    @Property(tries = 30)
    void energyIsAccountedFor(@ForAll long seed) {
        DrivenCircuit driven = RandomRegulators.of(seed).driven();
        Transient run = Transient.fromRest(driven, PERIODS * driven.clockPeriod());
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    @Property(tries = 30)
    void sameBitsEveryTimeOnAnyThread(@ForAll long seed) {
        DrivenCircuit driven = RandomRegulators.of(seed).driven();
        double duration = PERIODS * driven.clockPeriod();
        double[] first = Simulation.of(driven.law()).finalState(driven.restState(), duration);
        DrivenCircuit again = RandomRegulators.of(seed).driven();
        CompletableFuture<double[]> one =
                CompletableFuture.supplyAsync(() -> Simulation.of(again.law()).finalState(again.restState(), duration));
        CompletableFuture<double[]> two =
                CompletableFuture.supplyAsync(() -> Simulation.of(again.law()).finalState(again.restState(), duration));
        assertThat(one.join()).containsExactly(first);
        assertThat(two.join()).containsExactly(first);
        assertThat(Simulation.of(driven.law())
                        .record(driven.restState(), duration)
                        .finalState())
                .containsExactly(first);
    }
}
