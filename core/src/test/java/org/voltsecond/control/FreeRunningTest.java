package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.numeric.Complex;

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
        DrivenCircuitBuilder builder = DrivenCircuit.builder(buck).controlledBy(regulator.on(Stages.plant(buck)));
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

    @Test
    void theOrbitOfACurrentBandHasTheClosedFormPeriod() {
        DrivenCircuit driven = Stages.regulated(STIFF, Hysteretic.currentBand(300e3, 4, 1));
        SteadyState steady = SteadyState.of(driven);
        assertThat(steady.period()).isCloseTo(1 / FALL + 1 / RISE, within(1e-18));
        assertThat(steady.state()[0]).isCloseTo(3.5, within(1e-13));
        assertThat(steady.timeConducting("Q1")).isCloseTo(1 / RISE, within(1e-18));
        // one state, and that on the section: nothing is left of a disturbance
        assertThat(steady.multipliers().get(0).magnitude()).isLessThan(1e-13);
        assertThat(steady.of(driven.current("L1")).mean()).isCloseTo(4, within(1e-12));
    }

    /**
     * Constant on-time: stable if the resistance of the capacitor times its capacitance is more than half the on-time (R.
     * Redl, J. Sun, IEEE Trans. Power Electron. 24(12):2669-2680, 2009, from memory), for an output ripple that is small.
     */
    @Test
    void constantOnTimeIsStableWhereTheRippleOfTheResistanceIsLargeEnough() {
        double onTime = 1e-6;
        double critical = new BrentSolver(1e-7)
                .solve(100, factor -> 1 + smallestMultiplier(onTime, factor * onTime / 2), 0.8, 1.2);
        assertThat(critical).isCloseTo(1, within(5e-3));
        assertThat(smallestMultiplier(onTime, 0.7 * onTime)).isBetween(-1.0, 0.0);
    }

    /** Of a buck without losses but for the resistance of the capacitor, given by its time constant. */
    private static double smallestMultiplier(double onTime, double timeConstant) {
        Values values = new Values(12, 10e-6, 1e-3, 1, 0, 0, 0, 0, timeConstant / 1e-3);
        DrivenCircuit driven = Stages.regulated(Stages.buck(values), ConstantOnTime.of(400e3, 5, 1, onTime, 0.2e-6));
        SteadyState steady = SteadyState.of(driven, new double[] {4.7, 5, 0}, 1);
        assertThat(steady.of(driven.nodeVoltage("out")).mean()).isBetween(4.99, 5.1);
        return steady.multipliers().stream().mapToDouble(Complex::real).min().orElseThrow();
    }

    /** The multipliers must be what a disturbance really does from one start of a pulse to the next. */
    @Test
    void multipliersAreThoseOfSmallDisturbances() {
        Values values = new Values(12, 10e-6, 47e-6, 2, 0.05, 0.4, 0.02, 0.03, 0.02);
        DrivenCircuit driven = Stages.regulated(
                Stages.buck(values),
                Hysteretic.currentBand(300e3, 5, 0.5, Compensator.type2(2000, 3e3, 100e3), 0.2, 1.5)
                        .withDelay(80e-9));
        SteadyState steady = SteadyState.of(driven);
        assertThat(steady.isStable()).isTrue();
        PeriodMap map = PeriodMap.returning(driven.law(), 1, driven::opensCycle);
        double[] orbit = steady.state();
        double[] image = map.apply(orbit);
        double[][] derivative = map.derivative();
        for (int j = 0; j < orbit.length; j++) {
            double step = 1e-6 * Math.max(0.1, Math.abs(orbit[j]));
            double[] up = orbit.clone();
            double[] down = orbit.clone();
            up[j] += step;
            down[j] -= step;
            double[] above = map.apply(up);
            double[] below = map.apply(down);
            for (int i = 0; i < orbit.length; i++) {
                assertThat(image[i]).isCloseTo(orbit[i], within(1e-11 * Math.max(1, Math.abs(orbit[i]))));
                assertThat((above[i] - below[i]) / (2 * step))
                        .isCloseTo(derivative[i][j], within(1e-6 * Math.max(1, Math.abs(derivative[i][j]))));
            }
        }
        assertThat(steady.audit().residual()).isLessThan(1e-11);
    }

    @Test
    void anOrbitThatDoesNotExistIsAnErrorThatSaysSo() {
        // the output can never reach the reference: the transistor stays on
        Values values = Values.ideal(4, 10e-6, 47e-6, 2);
        DrivenCircuit driven = Stages.regulated(Stages.buck(values), Hysteretic.voltageBand(300e3, 5, 1, 0.1));
        assertThatThrownBy(() -> SteadyState.of(driven))
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("no new cycle has begun");
    }
}
