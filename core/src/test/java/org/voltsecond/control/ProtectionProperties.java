package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.engine.Interval;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Waveform;

/** Whatever regulator and protection: the limits hold, the energies balance, the bits repeat. */
class ProtectionProperties {
    private static final double TINY = 1e-15;
    private static final double DURATION = 1.2e-3;

    @Provide
    Arbitrary<Regulator> regulators() {
        Compensator compensator = Compensator.type2(1500, 4557, 100e3);
        VoltageMode voltage = Bench.regulator().withSoftStart(0.2e-3).withControlLimits(0, 1);
        return Arbitraries.of(
                voltage,
                voltage.withModulation(Edge.LEADING, true),
                voltage.withModulation(Edge.BOTH, true),
                voltage.withModulation(Edge.TRAILING, false),
                CurrentMode.peak(Bench.FREQUENCY, 1, 0.2, compensator, 0.2)
                        .withSlopeCompensation(0.2e6)
                        .withMaximumDutyCycle(0.9)
                        .withControlLimits(0, 1),
                Hysteretic.voltageBand(Bench.FREQUENCY, 1, 0.2, 4e-3).withDelay(50e-9),
                ConstantOnTime.of(Bench.FREQUENCY, 1, 0.2, 1.4e-6, 0.3e-6),
                SampledControl.of(Bench.FREQUENCY, 1, 0.2, 0.1)
                        .withDenominator(-1)
                        .withMaximumDutyCycle(0.9));
    }

    @Provide
    Arbitrary<Protection> protections() {
        Arbitrary<Double> minimum = Arbitraries.of(0.0, 80e-9, 250e-9);
        Arbitrary<Double> limit = Arbitraries.doubles().between(2.5, 6);
        Arbitrary<Double> blanking = Arbitraries.of(0.0, 100e-9, 200e-9);
        Arbitrary<Integer> hiccup = Arbitraries.of(0, 5);
        Arbitrary<Rectification> how = Arbitraries.of(Rectification.class);
        Arbitrary<Double> dead = Arbitraries.of(0.0, 30e-9);
        return Combinators.combine(minimum, limit, blanking, hiccup, how, dead)
                .as((m, l, b, h, r, d) -> Protection.none()
                        .withMinimumOnTime(m)
                        .withCurrentLimit(l, b)
                        .withHiccup(h, 0.1e-3)
                        .withUndervoltageLockout(8, 9)
                        .withSynchronousRectification(r, d));
    }

    private static DrivenCircuit driven(Regulator regulator, Protection protection) {
        Circuit circuit = Bench.synchronousBuck(3, 1);
        return Bench.driven(circuit, regulator.withProtection(protection), true)
                .change(0.5e-3, circuit.withResistance("R1", 0.05))
                .change(0.7e-3, circuit.withResistance("R1", 30))
                .change(1e-3, circuit.withVoltage("V1", 7))
                .change(1.05e-3, circuit)
                .build();
    }

    @Property(tries = 40)
    void limitsHold(@ForAll("regulators") Regulator regulator, @ForAll("protections") Protection protection) {
        DrivenCircuit driven = driven(regulator, protection);
        Transient run = Transient.fromRest(driven, DURATION);
        Waveform current = run.of(driven.current("L1"));
        double unlimited = Math.max(protection.currentLimit().blankingTime(), protection.minimumOnTime());
        for (Bench.Pulse pulse : Bench.pulses(run, "Q1")) {
            boolean lockedOut = Math.abs(pulse.end() - 1e-3) <= TINY;
            assertThat(current.at(pulse.end()) <= protection.currentLimit().current() + 1e-11
                            || pulse.length() <= unlimited + TINY)
                    .isTrue();
            assertThat(pulse.length() >= protection.minimumOnTime() - TINY || lockedOut)
                    .isTrue();
        }
        checkTransistors(run, protection);
        assertThat(Bench.pulses(run, "Q1"))
                .noneMatch(pulse -> pulse.start() > 1e-3 + TINY && pulse.start() < 1.05e-3 - TINY);
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
        assertThat(Transient.fromRest(driven, DURATION).finalState()).containsExactly(run.finalState());
    }

    /** Never both on; after one the other comes no sooner than the dead time. */
    private static void checkTransistors(Transient run, Protection protection) {
        String last = "";
        double off = Double.NEGATIVE_INFINITY;
        Waveform current = run.of(run.circuit().current("L1"));
        List<Interval> intervals = run.trajectory().intervals();
        for (Interval interval : intervals) {
            if (!(interval.duration() > 0)) {
                continue;
            }
            boolean first = Bench.on(run, interval, "Q1");
            boolean second = Bench.on(run, interval, "Q2");
            assertThat(first && second).isFalse();
            if (second && protection.synchronous().rectification() == Rectification.DIODE_EMULATION) {
                assertThat(current.at(interval.start())).isGreaterThan(-1e-9);
                assertThat(current.at(interval.end(), Side.BEFORE)).isGreaterThan(-1e-9);
            }
            String now = first ? "Q1" : second ? "Q2" : "";
            if (!now.isEmpty()) {
                boolean changed = !last.isEmpty() && !now.equals(last);
                assertThat(!changed
                                || interval.start() - off
                                        >= protection.synchronous().deadTime() - TINY)
                        .isTrue();
                last = now;
                off = interval.end();
            }
        }
    }
}
