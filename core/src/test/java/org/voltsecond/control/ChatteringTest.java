package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.Trajectory;

/** A comparator without hysteresis on a loop without delay ends the run, and says which comparator and when. */
class ChatteringTest {
    private static final Values VALUES = new Values(12, 22e-6, 47e-6, 2.5, 0.08, 0.4, 0.02, 0.03, 0.02);

    @Test
    void aCurrentComparatorWithoutBand() {
        DrivenCircuit driven = Stages.regulated(Stages.buck(VALUES), Hysteretic.currentBand(300e3, 2, 0));
        // the current gets to 2 A in about 2 A * 22 µH / 12 V
        assertThatThrownBy(() -> Simulation.of(driven.law()).finalState(driven.restState(), 1e-3))
                .isInstanceOf(SwitchingException.class)
                .hasMessageMatching("(?s)at 3\\.[67]\\d{0,4} µs.*chattering.*'current comparator'.*hysteresis.*");
    }

    @Test
    void aVoltageComparatorWithoutBandOnTheRippleOfAResistance() {
        DrivenCircuit driven = Stages.regulated(Stages.buck(VALUES), Hysteretic.voltageBand(300e3, 1, 0.2, 0));
        assertThatThrownBy(() -> Simulation.of(driven.law()).finalState(driven.restState(), 1e-3))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("chattering")
                .hasMessageContaining("'voltage comparator'");
    }

    /** With so much gain the ripple of the control voltage is steeper than the ramp, on both of its slopes. */
    @Test
    void naturalSamplingOfARippleThatIsSteeperThanTheRamp() {
        DrivenCircuit driven = Stages.regulated(Stages.buck(VALUES), steep(false));
        assertThatThrownBy(() -> Simulation.of(driven.law()).finalState(new double[] {2, 5}, 1e-3))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("chattering")
                .hasMessageContaining("'PWM comparator'");
    }

    @Test
    void theLatchIsAWayOut() {
        DrivenCircuit driven = Stages.regulated(Stages.buck(VALUES), steep(true));
        double[] end = Simulation.of(driven.law()).finalState(new double[] {2, 5}, 1e-3);
        assertThat(end[1]).isBetween(4.8, 5.2);
    }

    private static Regulator steep(boolean latch) {
        return VoltageMode.of(300e3, 5, 1, Compensator.proportional(200, 0.5)).withModulation(Edge.TRAILING, latch);
    }

    @Test
    void aDelayIsAWayOut() {
        DrivenCircuit driven = Stages.regulated(
                Stages.buck(VALUES), Hysteretic.currentBand(300e3, 2, 0).withDelay(200e-9));
        Trajectory run = Simulation.of(driven.law()).record(driven.restState(), 1e-3);
        assertThat(run.finalState()[0]).isBetween(1.8, 2.2);
        double highest = run.intervals().stream()
                .mapToDouble((Interval interval) -> interval.endState()[0])
                .max()
                .orElseThrow();
        // 12 V over 22 µH for 200 ns at the most
        assertThat(highest).isBetween(2.02, 2 + 12 / 22e-6 * 200e-9);
    }
}
