package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;

/** Methods without a clock against closed forms. */
class FreeRunningTest {
    /** A buck of 12 V into a stiff 5 V: the current rises by 7 V and falls by 5 V over 10 µH. */
    private static final Circuit STIFF = Circuit.builder()
            .voltageSource("V1", "in", "ground", 12)
            .switchPart("Q1", "in", "sw", 0)
            .rectifier("D1", "ground", "sw", 0, 0)
            .inductor("L1", "sw", "out", 10e-6)
            .voltageSource("V2", "out", "ground", 5)
            .build();

    private static final double RISE = 0.7e6;
    private static final double FALL = 0.5e6;

    @Test
    void aCurrentBandMakesATriangleForEver() {
        DrivenCircuit driven = Stages.regulated(STIFF, Hysteretic.currentBand(300e3, 4, 1));
        double firstRise = 4.5 / RISE;
        double cycle = 1 / FALL + 1 / RISE;
        double duration = firstRise + 20000 * cycle + 0.25 / FALL;
        double[] end = Simulation.of(driven.law()).finalState(driven.restState(), duration);
        assertThat(end[0]).isCloseTo(4.25, within(1e-9));
    }

    @Test
    void theTypicalFrequencyIsOnlyAScale() {
        double duration = 4.5 / RISE + 50.3 * (1 / FALL + 1 / RISE);
        double reference = Simulation.of(Stages.regulated(STIFF, Hysteretic.currentBand(300e3, 4, 1))
                        .law())
                .finalState(new double[] {0}, duration)[0];
        for (double frequency : List.of(20e3, 777e3, 5e6)) {
            DrivenCircuit driven = Stages.regulated(STIFF, Hysteretic.currentBand(frequency, 4, 1));
            assertThat(Simulation.of(driven.law()).finalState(new double[] {0}, duration)[0])
                    .isCloseTo(reference, within(1e-11));
        }
    }

    @Test
    void aDelayOvershootsTheBandBySlopeTimesDelay() {
        double delay = 100e-9;
        DrivenCircuit driven =
                Stages.regulated(STIFF, Hysteretic.currentBand(300e3, 4, 1).withDelay(delay));
        List<Interval> intervals =
                Simulation.of(driven.law()).record(driven.restState(), 1e-4).intervals();
        double highest = intervals.stream()
                .mapToDouble(interval -> interval.endState()[0])
                .max()
                .orElseThrow();
        double lowest = intervals.stream()
                .filter(interval -> interval.start() > 1e-5)
                .mapToDouble(interval -> interval.endState()[0])
                .min()
                .orElseThrow();
        assertThat(highest).isCloseTo(4.5 + RISE * delay, within(1e-12));
        assertThat(lowest).isCloseTo(3.5 - FALL * delay, within(1e-12));
    }

    /**
     * Discontinuous conduction under constant on-time: the rectifier stops within the minimum off-time or after it, and
     * neither that nor a load step may touch the timers.
     */
    @Test
    void neitherRectifiersNorChangesTouchTheTimers() {
        Values values = new Values(12, 4e-6, 47e-6, 50, 0.05, 0.3, 0.02, 0.02, 0.05);
        Circuit buck = Stages.buck(values);
        double on = 0.8e-6;
        double off = 2.4e-6;
        Regulator regulator = ConstantOnTime.of(300e3, 1, 0.2, on, off);
        DrivenCircuit.Builder builder = DrivenCircuit.builder(buck).controlledBy(regulator.on(Stages.plant(buck)));
        for (int k = 1; k < 500; k++) {
            builder.change(k * 0.57e-6, buck.withResistance("R1", k % 2 == 0 ? 50 : 20));
        }
        DrivenCircuit driven = builder.build();
        Trajectory run = Simulation.of(driven.law()).record(new double[] {0, 4.9, 0}, 400e-6);
        double begun = 0;
        boolean was = true;
        int pulses = 0;
        double ended = 0;
        for (Interval interval : run.intervals()) {
            boolean is = driven.conducts(interval.phase(), "Q1");
            if (was && !is) {
                assertThat(interval.start() - begun).isCloseTo(on, within(1e-15));
                ended = interval.start();
                pulses++;
            } else if (!was && is) {
                assertThat(interval.start() - ended).isGreaterThan(off - 1e-15);
                begun = interval.start();
            }
            was = is;
        }
        assertThat(pulses).isGreaterThan(20);
    }
}
