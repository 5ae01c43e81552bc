package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.ArrayList;
import java.util.List;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.waveform.Waveform;

/** Driven circuits: edges, duty 0 and 1, scheduled changes, ramps, signals. */
class DrivenCircuitTest {
    private static final double F = 300e3;
    private static final double T = 1 / F;

    private static Circuit.Builder buckParts(double load) {
        return Circuit.builder()
                .switchPart("Q1", "in", "sw", 0.08)
                .rectifier("D1", GROUND, "sw", 0.4, 0.02)
                .inductor("L1", "sw", "out", 22e-6, 0.03)
                .capacitor("C1", "out", GROUND, 47e-6, 0.005)
                .resistor("R1", "out", GROUND, load);
    }

    private static Circuit buck(double load) {
        return buckParts(load).voltageSource("V1", "in", GROUND, 12).build();
    }

    private static DrivenCircuitBuilder driven(double load, double duty) {
        return DrivenCircuit.builder(buck(load)).gate("Q1", Drive.fixedDuty(duty, F));
    }

    private static Trajectory run(DrivenCircuit circuit, double periods) {
        return Simulation.of(circuit.law()).record(circuit.restState(), periods * T);
    }

    /**
     * Lossy buck of the reference, 40-digit values: state at the end of the last of 10,000 periods from rest.
     */
    @Test
    void continuousReference() {
        double[] state = Simulation.of(driven(2.5, 0.45).build().law()).finalState(new double[2], 10_000 * T);
        assertThat(state[0]).isCloseTo(1.7797591662370461, Offset.offset(1e-12 * 1.78));
        assertThat(state[1]).isCloseTo(5.0249308720340644, Offset.offset(1e-12 * 5));
    }

    /** The same with a light load: discontinuous conduction; the idle current is exactly zero. */
    @Test
    void discontinuousReference() {
        DrivenCircuit circuit = driven(100, 0.25).build();
        Trajectory trajectory = run(circuit, 10_000);
        double[] state = trajectory.finalState();
        assertThat(state[0]).isZero();
        assertThat(state[1]).isCloseTo(5.8169157971972022, Offset.offset(1e-12 * 5.8));
        Interval idle = trajectory.interval(trajectory.size() - 1);
        assertThat(idle.sinceTick()).isCloseTo(1.65927737107262e-6, Offset.offset(1e-12 * 1.66e-6));
        assertThat(idle.valueAt(circuit.voltageAcross("L1").in(idle.configuration()), 1e-7))
                .isZero();
    }

    @Test
    void dutyCycleZeroNeverCloses() {
        Trajectory trajectory = run(driven(2.5, 0).build(), 3);
        assertThat(trajectory.intervals()).hasSize(3).allMatch(interval -> interval.duration() > 0.999 * T);
        assertThat(trajectory.finalState()).containsExactly(0, 0);
    }

    @Test
    void dutyCycleOneNeverOpens() {
        DrivenCircuit circuit = driven(2.5, 1).build();
        Trajectory trajectory = run(circuit, 20_000);
        assertThat(trajectory.size()).isEqualTo(20_000);
        assertThat(trajectory.intervals()).allMatch(interval -> circuit.conducts(interval.phase(), "Q1"));
        double current = 12 / (0.08 + 0.03 + 2.5);
        assertThat(trajectory.finalState()[0]).isCloseTo(current, Offset.offset(1e-9));
        assertThat(trajectory.finalState()[1]).isCloseTo(2.5 * current, Offset.offset(1e-9));
    }

    @Test
    void phasesAreSharedAndTellWhatConducts() {
        DrivenCircuit circuit = driven(2.5, 0.45).build();
        Trajectory trajectory = run(circuit, 100);
        Interval on = trajectory.interval(trajectory.size() - 2);
        Interval off = trajectory.interval(trajectory.size() - 1);
        assertThat(on.phase())
                .isSameAs(trajectory.interval(trajectory.size() - 4).phase());
        assertThat(circuit.conducts(on.phase(), "Q1")).isTrue();
        assertThat(circuit.conducts(on.phase(), "D1")).isFalse();
        assertThat(circuit.conducts(off.phase(), "D1")).isTrue();
        assertThatThrownBy(() -> circuit.conducts(off.phase(), "R1")).hasMessageContaining("R1");
    }

    @Test
    void aStepInTheMiddleOfAnIntervalIsHitExactly() {
        Circuit after = buck(2.5).withVoltage("V1", 15).withResistance("R1", 5);
        double time = 2.2 * T;
        DrivenCircuit circuit = driven(2.5, 0.45).change(time, after).build();
        Trajectory trajectory = run(circuit, 4);
        List<Cause> causes = new ArrayList<>();
        for (Interval interval : trajectory.intervals()) {
            if (interval.cause() != null && interval.cause().kind() == Cause.Kind.CHANGE) {
                assertThat(interval.end()).isCloseTo(time, Offset.offset(1e-20));
                causes.add(interval.cause());
            }
        }
        assertThat(causes).hasSize(1);
        Waveform input = Waveform.of(trajectory, circuit.nodeVoltage("in"));
        assertThat(input.at(time, org.voltsecond.waveform.Side.BEFORE)).isEqualTo(12);
        assertThat(input.at(time)).isEqualTo(15);
        assertThat(circuit.circuit(trajectory.interval(trajectory.size() - 1).phase()))
                .isEqualTo(after);
        // continued by hand from the state at the step
        int index = trajectory.indexAt(time);
        double[] state = trajectory.interval(index).startState();
        assertThat(state).isEqualTo(trajectory.interval(index - 1).endState());
    }

    @Test
    void aStepOnAClockEdgeMakesNoSplinter() {
        DrivenCircuit circuit =
                driven(2.5, 0.45).change(2 * T, "Q1", Drive.fixedDuty(0.6, F)).build();
        Trajectory trajectory = run(circuit, 4);
        assertThat(trajectory.size()).isEqualTo(8);
        assertThat(trajectory.interval(4).duration()).isCloseTo(0.6 * T, Offset.offset(1e-18));
        assertThat(trajectory.interval(4).start()).isCloseTo(2 * T, Offset.offset(1e-18));
    }

    @Test
    void aDutyStepWithinThePeriodTakesEffectAtOnce() {
        DrivenCircuit circuit = driven(2.5, 0.45)
                .change(1.5 * T, "Q1", Drive.fixedDuty(0.75, F))
                .build();
        Trajectory trajectory = run(circuit, 2);
        List<Boolean> on = new ArrayList<>();
        trajectory.intervals().forEach(interval -> on.add(circuit.conducts(interval.phase(), "Q1")));
        assertThat(on).containsExactly(true, false, true, false, true, false);
        assertThat(trajectory.interval(4).sinceTick()).isCloseTo(0.5 * T, Offset.offset(1e-18));
        assertThat(trajectory.interval(5).sinceTick()).isEqualTo(0.75 * T);
    }

    @Test
    void changesAtOneInstantAreOneChange() {
        DrivenCircuit circuit = driven(2.5, 0.45)
                .change(T, buck(5))
                .change(T, "Q1", Drive.fixedDuty(0.2, F))
                .change(0, "Q1", Drive.fixedDuty(0.3, F))
                .build();
        assertThat(circuit.law().changes()).hasSize(1);
        Trajectory trajectory = run(circuit, 2);
        assertThat(trajectory.interval(0).duration()).isEqualTo(0.3 * T);
        assertThat(trajectory.interval(2).duration()).isCloseTo(0.2 * T, Offset.offset(1e-20));
    }

    /** A ramp into R and C in series: i = C dv/dt (1 - exp(-t / RC)) from rest. */
    @Test
    void aRampIsExact() {
        Profile ramp = Profile.constant(0).rampTo(1e-3, 3e-3, 8).stepTo(4e-3, 2);
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, ramp)
                .resistor("R1", "in", "out", 1000)
                .capacitor("C1", "out", GROUND, 1e-6)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(1e-4).build();
        assertThat(driven.stateNames()).containsExactly("C1", "V1");
        Trajectory trajectory = Simulation.of(driven.law()).record(driven.restState(), 5e-3);
        Waveform current = Waveform.of(trajectory, driven.current("C1"));
        double tau = 1e-3;
        assertThat(current.at(0.9e-3)).isZero();
        for (double time : new double[] {1.05e-3, 1.5e-3, 2.9e-3}) {
            double expected = 1e-6 * 4000 * -Math.expm1(-(time - 1e-3) / tau);
            assertThat(current.at(time)).isCloseTo(expected, Offset.offset(1e-15));
        }
        double atTop = 8 - 4000 * tau * -Math.expm1(-2e-3 / tau);
        double expected = 8 - (8 - atTop) * Math.exp(-0.5);
        assertThat(Waveform.of(trajectory, driven.nodeVoltage("out")).at(3.5e-3))
                .isCloseTo(expected, Offset.offset(1e-13));
        Waveform input = Waveform.of(trajectory, driven.nodeVoltage("in"));
        assertThat(input.at(2e-3)).isCloseTo(4, Offset.offset(1e-14));
        assertThat(input.at(3.5e-3)).isEqualTo(8);
        assertThat(input.at(4.5e-3)).isEqualTo(2);
    }

    @Test
    void interruptedCurrentCarriesTheTime() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "sw", 0.1)
                .inductor("L1", "sw", GROUND, 1e-3, 1)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.5, 1000))
                .build();
        assertThatThrownBy(() -> Simulation.of(driven.law()).record(driven.restState(), 1))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("L1")
                .hasMessageContaining("Q1 open")
                .satisfies(thrown ->
                        assertThat(((SwitchingException) thrown).time()).isEqualTo(0.5e-3));
    }

    @Test
    void synchronousRectificationLetsTheCurrentReverse() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "sw", 0)
                .switchPart("Q2", "sw", GROUND, 0)
                .rectifier("D2", GROUND, "sw")
                .inductor("L1", "sw", "out", 22e-6)
                .capacitor("C1", "out", GROUND, 47e-6)
                .resistor("R1", "out", GROUND, 20)
                .build();
        Drive drive = Drive.fixedDuty(0.25, F);
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", drive)
                .gate("Q2", drive.complement())
                .build();
        Trajectory trajectory = Simulation.of(driven.law()).record(driven.restState(), 5000 * T);
        Waveform current = Waveform.of(trajectory, driven.current("L1")).between(4900 * T, 5000 * T);
        assertThat(current.minimum()).isLessThan(-0.01);
        assertThat(Waveform.of(trajectory, driven.nodeVoltage("out"))
                        .between(4900 * T, 5000 * T)
                        .mean())
                .isCloseTo(3, Offset.offset(0.002));
    }

    /** Forward push-pull of REF-PP-1: D. W. Hart, Power Electronics, McGraw-Hill 2011, Ex. 7-6 (from memory): 9 V. */
    @Test
    void pushPullStage() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 30)
                .idealTransformer(
                        "T1",
                        List.of(
                                org.voltsecond.circuit.Part.Winding.of("p1", "in", "a"),
                                org.voltsecond.circuit.Part.Winding.of("p2", "b", "in"),
                                org.voltsecond.circuit.Part.Winding.of("s1", "x", GROUND),
                                org.voltsecond.circuit.Part.Winding.of("s2", GROUND, "y")),
                        2,
                        2,
                        1,
                        1)
                .switchPart("Q1", "a", GROUND, 0)
                .switchPart("Q2", "b", GROUND, 0)
                .rectifier("D1", "x", "rect")
                .rectifier("D2", "y", "rect")
                .inductor("L1", "rect", "out", 0.5e-3)
                .capacitor("C1", "out", GROUND, 50e-6)
                .resistor("R1", "out", GROUND, 6)
                .build();
        Drive drive = Drive.fixedDuty(0.3, 10e3);
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", drive)
                .gate("Q2", drive.delayedBy(0.5))
                .build();
        Trajectory trajectory = Simulation.of(driven.law()).record(driven.restState(), 0.1);
        Waveform output = Waveform.of(trajectory, driven.nodeVoltage("out")).between(0.09, 0.1);
        assertThat(output.mean()).isCloseTo(9.0000, Offset.offset(1e-4));
        assertThat(output.peakToPeak() / 9).isCloseTo(0.005011, Offset.offset(1e-5));
        Waveform current = Waveform.of(trajectory, driven.current("L1")).between(0.09, 0.1);
        assertThat(current.maximum()).isCloseTo(1.68036, Offset.offset(1e-4));
        assertThat(current.minimum()).isCloseTo(1.31964, Offset.offset(1e-4));
    }

    /** 0.1 + 0.2 is 0.3 but for rounding, and no interval lies between. */
    @Test
    void edgesThatDifferByRoundingAreOne() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "a", 1)
                .switchPart("Q2", "in", "b", 1)
                .resistor("R1", "a", "out", 1)
                .resistor("R2", "b", "out", 1)
                .capacitor("C1", "out", GROUND, 50e-6)
                .resistor("R3", "out", GROUND, 6)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.3, 10e3))
                .gate("Q2", Drive.fixedDuty(0.2, 10e3).delayedBy(0.1))
                .build();
        assertThat(0.1 + 0.2).isNotEqualTo(0.3);
        Trajectory period = Simulation.of(driven.law()).record(driven.restState(), driven.clockPeriod());
        assertThat(period.intervals()).hasSize(3);
        assertThat(period.interval(1).duration()).isCloseTo(20e-6, Offset.offset(1e-18));
    }

    @Test
    void signals() {
        DrivenCircuit circuit = driven(2.5, 0.45).build();
        Trajectory trajectory = run(circuit, 10);
        double time = 9.3 * T;
        double out = Waveform.of(trajectory, circuit.nodeVoltage("out")).at(time);
        double sw = Waveform.of(trajectory, circuit.voltage("sw", GROUND)).at(time);
        assertThat(Waveform.of(trajectory, circuit.voltage("sw", "out")).at(time))
                .isCloseTo(sw - out, Offset.offset(1e-13));
        assertThat(Waveform.of(trajectory, circuit.voltage(GROUND, "out")).at(time))
                .isEqualTo(-out);
        assertThat(Waveform.of(trajectory, circuit.voltageAcross("L1")).at(time))
                .isCloseTo(sw - out, Offset.offset(1e-13));
        assertThat(Waveform.of(trajectory, circuit.current("R1")).at(time)).isCloseTo(out / 2.5, Offset.offset(1e-14));
        assertThatThrownBy(() -> circuit.nodeVoltage("nowhere")).hasMessageContaining("nodes are");
        assertThatThrownBy(() -> circuit.voltage("sw", "sw")).hasMessageContaining("two different nodes");
        assertThatThrownBy(() -> circuit.current("X1")).hasMessageContaining("X1");
    }

    @Test
    void faultsAreReportedAtOnce() {
        Circuit other = Circuit.builder().resistor("R1", "a", GROUND, 1).build();
        Circuit twoSwitches = buckParts(1)
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q2", "sw", GROUND, 0)
                .switchPart("Q3", "sw", GROUND, 0)
                .build();
        assertThatThrownBy(() -> DrivenCircuit.builder(twoSwitches)
                        .gate("Q1", Drive.fixedDuty(0.5, F))
                        .gate("Q2", Drive.fixedDuty(1.5, F))
                        .gate("R1", Drive.fixedDuty(0.5, Math.PI * F))
                        .change(-1, "Q1", Drive.fixedDuty(0.5, F))
                        .change(1, other)
                        .build())
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("Q2: the duty cycle must be from 0 to 1 but was 1.5")
                .hasMessageContaining("R1: there is no such switch")
                .hasMessageContaining("the clocks have no common period")
                .hasMessageContaining("Q3: this switch has no drive")
                .hasMessageContaining("change at -1.0 s: its time must be >= 0 s")
                .hasMessageContaining("change at 1.0 s: the circuit must have the same parts");
        assertThatThrownBy(() -> DrivenCircuit.builder(other).build()).hasMessageContaining("clock period must be set");
    }

    @Test
    void withoutChanges() {
        DrivenCircuit circuit = driven(2.5, 0.45).change(T, buck(5)).build();
        assertThat(circuit.withoutChanges().law().changes()).isEmpty();
        assertThat(circuit.withoutChanges().gates()).isEqualTo(circuit.gates());
    }

    @Test
    void sameBitsOnAnyThread() throws Exception {
        DrivenCircuit shared = driven(100, 0.25).build();
        double[] expected = Simulation.of(driven(100, 0.25).build().law()).finalState(new double[2], 500 * T);
        var pool = java.util.concurrent.Executors.newFixedThreadPool(4);
        try {
            var tasks = new ArrayList<java.util.concurrent.Callable<double[]>>();
            for (int i = 0; i < 16; i++) {
                tasks.add(() -> Simulation.of(shared.law()).finalState(new double[2], 500 * T));
            }
            for (var result : pool.invokeAll(tasks)) {
                assertThat(result.get()).isEqualTo(expected);
            }
        } finally {
            pool.shutdown();
        }
    }
}
