package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.engine.Interval;
import org.voltsecond.waveform.Waveform;

/** A transistor in place of the rectifier: forced, with diode emulation, with dead time; start into a charged output. */
class SynchronousRectificationTest {
    private static final double DEAD = 40e-9;

    private static Transient run(double load, double initialVoltage, Rectification how, double dead, double softStart) {
        Protection protection = Protection.none().withSynchronousRectification(how, dead);
        Regulator regulator = Bench.regulator()
                .withSoftStart(softStart)
                .withControlLimits(0, 1)
                .withProtection(protection);
        DrivenCircuit driven = Bench.driven(Bench.synchronousBuck(load, initialVoltage), regulator, true)
                .build();
        return Transient.fromRest(driven, 3e-3);
    }

    /** The same parts; what stands in for the rectifier is a transistor or an ideal rectifier of its resistance. */
    private static Circuit comparable(boolean transistor) {
        Circuit.Builder builder =
                Circuit.builder().voltageSource("V1", "in", "ground", 12).switchPart("Q1", "in", "sw", 0.08);
        if (transistor) {
            builder.switchPart("Q2", "ground", "sw", 0.02);
        } else {
            builder.rectifier("D1", "ground", "sw", 0, 0.02);
        }
        return builder.inductor("L1", "sw", "out", 22e-6, 0.03)
                .capacitor("C1", "out", "ground", 47e-6, 0.005)
                .resistor("R1", "out", "ground", 60)
                .build();
    }

    @Test
    void diodeEmulationIsARectifierWithoutForwardDrop() {
        Protection protection = Protection.none().withSynchronousRectification(Rectification.DIODE_EMULATION, 0);
        DrivenCircuit emulated = Bench.driven(
                        comparable(true), Bench.regulator().withProtection(protection), true)
                .build();
        DrivenCircuit rectified =
                Bench.driven(comparable(false), Bench.regulator(), false).build();
        for (int periods : new int[] {10, 200, 1000, 3000}) {
            double[] a = Transient.fromRest(emulated, periods * Bench.PERIOD).finalState();
            double[] b = Transient.fromRest(rectified, periods * Bench.PERIOD).finalState();
            for (int i = 0; i < a.length; i++) {
                assertThat(a[i]).isCloseTo(b[i], within(1e-12 * Math.max(1, Math.abs(b[i]))));
            }
        }
    }

    @Test
    void forcedConductionLetsTheCurrentReverse() {
        DrivenCircuit driven = Bench.driven(Bench.synchronousBuck(60, 5), Bench.regulator(), true)
                .build();
        Waveform current = SteadyState.of(driven.running()).of(driven.current("L1"));
        // ripple V_o (1 - D) T / L, half of it on either side of the load current
        double ripple = 5 * (1 - 5 / 12.0) / 22e-6 * Bench.PERIOD;
        assertThat(current.mean()).isCloseTo(5 / 60.0, within(1e-3));
        assertThat(current.minimum()).isCloseTo(5 / 60.0 - ripple / 2, within(2e-3));
    }

    @Test
    void diodeEmulationBlocksReverseCurrent() {
        Transient run = run(60, 5, Rectification.DIODE_EMULATION, 0, 0);
        Waveform current = run.of(run.circuit().current("L1"));
        assertThat(current.minimum()).isGreaterThan(-1e-12);
    }

    @Test
    void aStartIntoAChargedOutputWithDiodeEmulationDoesNotDischargeIt() {
        double load = 1000;
        double charged = 3.3;
        Transient run = run(load, charged, Rectification.DIODE_EMULATION, 0, 1e-3);
        Bench.Pulse first = Bench.pulses(run, "Q1").get(0);
        // the reference passes the sensed voltage at 0.66 ms or a little earlier, since the load discharges
        assertThat(first.start()).isCloseTo(0.66e-3, within(0.02e-3));
        Waveform output = run.of(run.circuit().nodeVoltage("out"));
        double untilThen = charged * Math.exp(-first.start() / ((load + 0.005) * 47e-6)) * load / (load + 0.005);
        assertThat(output.at(first.start())).isCloseTo(untilThen, within(1e-12));
        assertThat(output.minimum()).isGreaterThan(untilThen - 0.1);
    }

    @Test
    void aForcedStartIntoAChargedOutputDischargesIt() {
        Transient run = run(1000, 3.3, Rectification.FORCED, 0, 1e-3);
        assertThat(run.of(run.circuit().nodeVoltage("out")).minimum()).isLessThan(0.5);
        assertThat(run.of(run.circuit().current("L1")).minimum()).isLessThan(-1);
    }

    @Test
    void emulationAtStartGivesWayToForcedConduction() {
        Transient run = run(60, 3.3, Rectification.DIODE_EMULATION_AT_START, 0, 1e-3);
        Waveform current = run.of(run.circuit().current("L1"));
        assertThat(current.between(0, 1e-3).minimum()).isGreaterThan(-1e-12);
        assertThat(current.between(1e-3, 3e-3).minimum()).isLessThan(-0.2);
    }

    @Test
    void inTheDeadTimeTheBodyDiodeCarriesTheCurrent() {
        Transient run = run(2.5, 5, Rectification.FORCED, DEAD, 0);
        double since = Double.NaN;
        int counted = 0;
        for (Interval interval : run.trajectory().intervals()) {
            if (interval.start() < 1e-3) {
                continue;
            }
            boolean dead = !Bench.on(run, interval, "Q1") && !Bench.on(run, interval, "Q2");
            if (dead && interval.duration() > 0) {
                assertThat(Bench.on(run, interval, "D1") || Bench.on(run, interval, "D2"))
                        .isTrue();
                since = Double.isNaN(since) ? interval.start() : since;
            } else if (!dead && !Double.isNaN(since)) {
                assertThat(interval.start() - since).isCloseTo(DEAD, within(1e-17));
                since = Double.NaN;
                counted++;
            }
        }
        assertThat(counted).isGreaterThan(1000);
    }

    @Test
    void neverAreBothTransistorsOn() {
        Transient run = run(60, 5, Rectification.DIODE_EMULATION, DEAD, 0);
        assertThat(run.trajectory().intervals())
                .noneMatch(interval -> Bench.on(run, interval, "Q1") && Bench.on(run, interval, "Q2"));
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
    }

    @Test
    void theLossOfTheBodyDiodeIsItsDropTimesTheDeadTimes() {
        Protection protection = Protection.none().withSynchronousRectification(Rectification.FORCED, DEAD);
        // a body diode without resistance: V_F times the charge of the two dead times
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "sw", 0.08)
                .switchPart("Q2", "ground", "sw", 0.02)
                .rectifier("D1", "ground", "sw", 0.7, 0)
                .rectifier("D2", "sw", "in", 0.7, 0)
                .inductor("L1", "sw", "out", 22e-6, 0.03)
                .part(new Part.Capacitor("C1", "out", "ground", 47e-6, 0.005, 5))
                .resistor("R1", "out", "ground", 2.5)
                .build();
        DrivenCircuit driven = Bench.driven(circuit, Bench.regulator().withProtection(protection), true)
                .build();
        SteadyState steady = SteadyState.of(driven.running());
        assertThat(steady.isStable()).isTrue();
        Waveform current = steady.of(driven.current("L1"));
        double charge = 0;
        for (Interval interval : steady.trajectory().intervals()) {
            if (interval.duration() > 0 && driven.conducts(interval.phase(), "D1")) {
                charge += 0.5 * (current.at(interval.start()) + current.at(interval.end())) * interval.duration();
            }
        }
        assertThat(steady.timeConducting("D1")).isCloseTo(2 * DEAD, within(1e-17));
        assertThat(steady.audit().meanLoss("D1")).isCloseTo(0.7 * charge / Bench.PERIOD, within(1e-7));
        // the valley and the peak lie equally far from the load current
        assertThat(charge).isCloseTo(2 * 2 * DEAD, within(0.01 * 4 * DEAD));
    }

    @Test
    void aPulseShorterThanTheDeadTimeIsNotMade() {
        Protection protection = Protection.none().withSynchronousRectification(Rectification.DIODE_EMULATION, 0.3e-6);
        DrivenCircuit driven = Bench.driven(
                        Bench.synchronousBuck(2.5, 0), Bench.regulator().withProtection(protection), true)
                .build();
        List<Bench.Pulse> pulses = Bench.pulses(Transient.fromRest(driven, 3e-3), "Q1");
        assertThat(pulses).isNotEmpty().allMatch(pulse -> pulse.length() > 0);
    }
}
