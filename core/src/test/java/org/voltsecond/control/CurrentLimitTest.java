package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.engine.Interval;
import org.voltsecond.waveform.Waveform;

/** Cycle-by-cycle current limit, its blanking, and hiccup. */
class CurrentLimitTest {
    private static final double LIMIT = 3;
    private static final double SHORT = 2e-3;

    private static DrivenCircuit shorted(Protection protection) {
        Circuit circuit = Bench.buck(2.5);
        return Bench.driven(circuit, Bench.regulator().withSoftStart(0.5e-3).withProtection(protection), false)
                .change(SHORT, circuit.withResistance("R1", 0.01))
                .change(SHORT + 1e-3, circuit)
                .build();
    }

    @Test
    void withoutBlankingTheCurrentStopsAtTheLimit() {
        DrivenCircuit driven = shorted(Protection.none().withCurrentLimit(LIMIT, 0));
        Transient run = Transient.fromRest(driven, 6e-3);
        assertThat(run.of(driven.current("L1")).maximum()).isCloseTo(LIMIT, within(1e-12));
        assertThat(run.of(driven.nodeVoltage("out")).at(SHORT + 0.9e-3)).isLessThan(0.1);
    }

    @Test
    void withBlankingOnlyABlankedPulseExceedsTheLimit() {
        double blanking = 400e-9;
        DrivenCircuit driven = shorted(Protection.none().withCurrentLimit(LIMIT, blanking));
        Transient run = Transient.fromRest(driven, SHORT + 1e-3);
        Waveform current = run.of(driven.current("L1"));
        assertThat(current.maximum()).isGreaterThan(LIMIT);
        int blanked = 0;
        for (Bench.Pulse pulse : Bench.pulses(run, "Q1")) {
            if (current.at(pulse.end()) > LIMIT + 1e-12) {
                blanked++;
                assertThat(pulse.length()).isCloseTo(blanking, within(1e-15));
            }
        }
        assertThat(blanked).isPositive();
    }

    @Test
    void inADeadShortTheBlankedPulseMakesTheCurrentRunAway() {
        // ideal parts: every period adds V t_b / L and takes V_F (T - t_b) / L
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "sw", 0)
                .rectifier("D1", "ground", "sw", 0.4, 0)
                .inductor("L1", "sw", "out", 22e-6)
                .capacitor("C1", "out", "ground", 47e-6, 0.005)
                .resistor("R1", "out", "ground", 0)
                .build();
        double blanking = 400e-9;
        Regulator regulator = Bench.regulator().withProtection(Protection.none().withCurrentLimit(1, blanking));
        DrivenCircuit driven = Bench.driven(circuit, regulator, false).build();
        Transient run = Transient.fromRest(driven, 200 * Bench.PERIOD);
        Waveform current = run.of(driven.current("L1"));
        List<Bench.Pulse> pulses = Bench.pulses(run, "Q1");
        double rise = 12 / 22e-6 * blanking;
        double fall = 0.4 / 22e-6 * (Bench.PERIOD - blanking);
        int first = 100;
        double start = current.at(pulses.get(first).start());
        for (int k = 0; k < 50; k++) {
            Bench.Pulse pulse = pulses.get(first + k);
            assertThat(pulse.length()).isCloseTo(blanking, within(1e-16));
            assertThat(current.at(pulse.start())).isCloseTo(start + k * (rise - fall), within(1e-10));
        }
    }

    @Test
    void hiccupPausesAfterTheCountAndStartsSoftlyOnAClockEdge() {
        double pause = 0.4e-3;
        int count = 8;
        DrivenCircuit driven =
                shorted(Protection.none().withCurrentLimit(LIMIT, 0).withHiccup(count, pause));
        Transient run = Transient.fromRest(driven, SHORT + 0.95e-3);
        Waveform current = run.of(driven.current("L1"));
        List<Bench.Pulse> pulses = Bench.pulses(run, "Q1");
        int last = -1;
        for (int i = 0; i < pulses.size() - 1 && last < 0; i++) {
            boolean paused = pulses.get(i + 1).start() - pulses.get(i).end() > pause;
            last = pulses.get(i).start() > SHORT && paused ? i : -1;
        }
        assertThat(last).isPositive();
        for (int i = last - count + 1; i <= last; i++) {
            assertThat(current.at(pulses.get(i).end())).isCloseTo(LIMIT, within(1e-12));
        }
        assertThat(current.at(pulses.get(last - count).end())).isLessThan(LIMIT - 1e-6);
        double over = pulses.get(last).end() + pause;
        double edge = Math.ceil(over / Bench.PERIOD) * Bench.PERIOD;
        assertThat(run.of(driven.control("control voltage"))
                        .between(over - pause, edge)
                        .maximum())
                .isZero();
        // the reference rises from zero there: the error is its ramp less the sensed rest of the output
        double probe = edge + 20e-6;
        double error = 20e-6 / 0.5e-3 - 0.2 * run.of(driven.nodeVoltage("out")).at(probe);
        assertThat(run.of(driven.control("error voltage")).at(probe)).isCloseTo(error, within(1e-12));
        assertThat(pulses.get(last + 1).start()).isGreaterThanOrEqualTo(edge - 1e-15);
    }

    @Test
    void afterTheShortIsReleasedTheHiccupRecovers() {
        DrivenCircuit driven =
                shorted(Protection.none().withCurrentLimit(LIMIT, 50e-9).withHiccup(4, 0.2e-3));
        Transient run = Transient.fromRest(driven, 7e-3);
        assertThat(run.of(driven.nodeVoltage("out")).at(7e-3)).isCloseTo(5, within(0.05));
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
    }

    @Test
    void aPulseThatTheComparatorEndsBreaksTheCount() {
        DrivenCircuit driven =
                shorted(Protection.none().withCurrentLimit(LIMIT, 0).withHiccup(1000, 1e-3));
        Transient run = Transient.fromRest(driven, 7e-3);
        List<Interval> intervals = run.trajectory().intervals();
        assertThat(intervals.stream().mapToInt(CurrentLimitTest::limited).max().orElseThrow())
                .isGreaterThan(10);
        assertThat(limited(intervals.get(intervals.size() - 1))).isZero();
    }

    private static int limited(Interval interval) {
        return ((RegulatedController.Node) ((CircuitPhase) interval.phase()).mode())
                .legs()
                .get(0)
                .gates()
                .limitedPulses();
    }
}
