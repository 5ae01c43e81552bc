package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.waveform.Waveform;

/** Undervoltage lock-out with hysteresis: stop, reset, start. */
class LockoutTest {
    private static final double STOP = 8;
    private static final double START = 9.1;
    /** Up in 1 ms, a dip to 8.5 V, a dip to 5 V, down in 1 ms. */
    private static final Profile INPUT = Profile.constant(0)
            .rampTo(0, 1e-3, 12)
            .rampTo(3e-3, 3.1e-3, 8.5)
            .rampTo(3.1e-3, 3.2e-3, 12)
            .rampTo(4e-3, 4.2e-3, 5)
            .rampTo(4.2e-3, 4.4e-3, 12)
            .rampTo(8e-3, 9e-3, 0);

    private static Transient run() {
        Protection protection = Protection.none().withUndervoltageLockout(STOP, START);
        Circuit circuit = Bench.buck(INPUT, 2.5, 0);
        DrivenCircuit driven = Bench.driven(
                        circuit, Bench.regulator().withSoftStart(0.5e-3).withProtection(protection), false)
                .build();
        return Transient.fromRest(driven, 10e-3);
    }

    private static double edgeAfter(double time) {
        return Math.ceil(time / Bench.PERIOD) * Bench.PERIOD;
    }

    @Test
    void startsOnTheFirstClockEdgeAboveTheStartVoltage() {
        Transient run = run();
        double edge = edgeAfter(1e-3 * START / 12);
        Waveform error = run.of(run.circuit().control("error voltage"));
        assertThat(error.between(0, edge).maximum()).isZero();
        assertThat(error.at(edge + 5e-6)).isCloseTo(5e-6 / 0.5e-3, within(1e-3));
        assertThat(Bench.pulses(run, "Q1").get(0).start()).isGreaterThanOrEqualTo(edge - 1e-16);
        assertThat(Bench.pulses(run, "Q1").get(0).start()).isLessThan(edge + 10 * Bench.PERIOD);
    }

    @Test
    void aDipThatStaysAboveTheStopVoltageDoesNotStop() {
        Transient run = run();
        assertThat(run.of(run.circuit().nodeVoltage("in"))
                        .between(2.9e-3, 3.9e-3)
                        .minimum())
                .isCloseTo(8.5, within(1e-12));
        Waveform control = run.of(run.circuit().control("control voltage"));
        assertThat(control.between(2.9e-3, 3.9e-3).minimum()).isPositive();
    }

    @Test
    void stopsWhereTheStopVoltageIsCrossedAndStartsSoftly() {
        Transient run = run();
        double stop = 4e-3 + 0.2e-3 * (12 - STOP) / (12 - 5);
        double start = edgeAfter(4.2e-3 + 0.2e-3 * (START - 5) / (12 - 5));
        List<Bench.Pulse> pulses = Bench.pulses(run, "Q1");
        Bench.Pulse before = pulses.stream()
                .filter(pulse -> pulse.start() < stop)
                .reduce((a, b) -> b)
                .orElseThrow();
        Bench.Pulse after = pulses.stream()
                .filter(pulse -> pulse.start() >= stop)
                .findFirst()
                .orElseThrow();
        assertThat(before.end()).isLessThanOrEqualTo(stop + 1e-15);
        assertThat(after.start()).isGreaterThanOrEqualTo(start - 1e-15);
        Waveform control = run.of(run.circuit().control("control voltage"));
        assertThat(control.between(stop, start).maximum()).isZero();
        assertThat(control.between(stop, start).minimum()).isZero();
        Waveform error = run.of(run.circuit().control("error voltage"));
        double expected =
                10e-6 / 0.5e-3 - 0.2 * run.of(run.circuit().nodeVoltage("out")).at(start + 10e-6);
        assertThat(error.at(start + 10e-6)).isCloseTo(expected, within(1e-12));
    }

    @Test
    void staysOffWhenTheInputIsGone() {
        Transient run = run();
        double stop = 8e-3 + 1e-3 * (12 - STOP) / 12;
        List<Bench.Pulse> pulses = Bench.pulses(run, "Q1");
        assertThat(pulses.get(pulses.size() - 1).end()).isLessThanOrEqualTo(stop + 1e-15);
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
    }

    @Test
    void anInputThatIsThereFromTheBeginningStartsOnTheFirstEdge() {
        Circuit circuit = Bench.buck(2.5);
        Regulator with = Bench.regulator().withProtection(Protection.none().withUndervoltageLockout(STOP, START));
        DrivenCircuit locked = Bench.driven(circuit, with, false).build();
        DrivenCircuit plain = Bench.driven(circuit, Bench.regulator(), false).build();
        // the condition of the lockout is one more to be certain of, so that periods are worked out about other
        // instants
        assertThat(Transient.fromRest(locked, 1e-3).finalState())
                .containsExactly(Transient.fromRest(plain, 1e-3).finalState(), within(1e-13));
    }
}
