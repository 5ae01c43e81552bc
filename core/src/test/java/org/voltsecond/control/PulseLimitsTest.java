package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Waveform;

/** Minimum on-time, maximum duty cycle and pulse skipping. */
class PulseLimitsTest {
    private static final double MINIMUM = 300e-9;

    /** A circuit whose output is given, so that a proportional loop has a control voltage that is known. */
    private static DrivenCircuit givenOutput(Profile output, Edge edge, Protection protection) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "sw", 0.1)
                .rectifier("D1", "ground", "sw", 0.4, 0.02)
                .inductor("L1", "sw", "out", 22e-6, 1)
                .capacitor("C1", "in", "ground", 10e-6, 0.1)
                .voltageSource("V2", "out", "ground", output)
                .build();
        // v_c = 1 V - v_out
        Regulator regulator = VoltageMode.of(Bench.FREQUENCY, 1, 1, Compensator.proportional(1))
                .withMaximumDutyCycle(0.8)
                .withModulation(edge, true)
                .withProtection(protection);
        return Bench.driven(circuit, regulator, false).build();
    }

    @Test
    void aShorterPulseIsStretchedToTheMinimum() {
        DrivenCircuit driven = givenOutput(
                Profile.constant(0.95), Edge.TRAILING, Protection.none().withMinimumOnTime(MINIMUM));
        List<Bench.Pulse> pulses = Bench.pulses(Transient.fromRest(driven, 20.5 * Bench.PERIOD), "Q1");
        assertThat(pulses).hasSize(21);
        pulses.forEach(pulse -> assertThat(pulse.length()).isCloseTo(MINIMUM, within(1e-17 + 4e-16 * pulse.end())));
    }

    @Test
    void aLongerPulseIsLeftAsItIs() {
        DrivenCircuit driven = givenOutput(
                Profile.constant(0.7), Edge.TRAILING, Protection.none().withMinimumOnTime(MINIMUM));
        for (Bench.Pulse pulse : Bench.pulses(Transient.fromRest(driven, 20.5 * Bench.PERIOD), "Q1")) {
            assertThat(pulse.length()).isCloseTo(0.3 * Bench.PERIOD, within(1e-17 + 4e-16 * pulse.end()));
        }
    }

    @Test
    void noPulseIsStretchedWhereNoneIsAskedFor() {
        DrivenCircuit driven = givenOutput(
                Profile.constant(1.0), Edge.TRAILING, Protection.none().withMinimumOnTime(MINIMUM));
        assertThat(Bench.pulses(Transient.fromRest(driven, 20 * Bench.PERIOD), "Q1"))
                .isEmpty();
    }

    @Test
    void aPulseThatBeginsLateLastsIntoTheNextPeriod() {
        // leading edge: v_c = 0.05 V begins a pulse 0.05 periods before the clock ends it
        DrivenCircuit driven = givenOutput(
                Profile.constant(0.95), Edge.LEADING, Protection.none().withMinimumOnTime(MINIMUM));
        List<Bench.Pulse> pulses = Bench.pulses(Transient.fromRest(driven, 20.5 * Bench.PERIOD), "Q1");
        assertThat(pulses).hasSize(20);
        for (int k = 0; k < 20; k++) {
            assertThat(pulses.get(k).start()).isCloseTo((k + 0.95) * Bench.PERIOD, within(1e-19));
            assertThat(pulses.get(k).length()).isCloseTo(MINIMUM, within(1e-19));
        }
    }

    @Test
    void aPulseOfATriangleLiesAroundTheClockEdge() {
        // v_c = 0.3 V meets the rising half at 0.15 periods, the falling half at 0.85
        DrivenCircuit driven = givenOutput(Profile.constant(0.7), Edge.BOTH, Protection.none());
        List<Bench.Pulse> pulses = Bench.pulses(Transient.fromRest(driven, 20.5 * Bench.PERIOD), "Q1");
        assertThat(pulses).hasSize(21);
        for (int k = 1; k <= 20; k++) {
            assertThat(pulses.get(k).start()).isCloseTo((k - 0.15) * Bench.PERIOD, within(1e-18));
            assertThat(pulses.get(k).end()).isCloseTo((k + 0.15) * Bench.PERIOD, within(1e-18));
        }
    }

    @Test
    void maximumDutyCycleHoldsForEveryEdge() {
        for (Edge edge : Edge.values()) {
            DrivenCircuit driven = givenOutput(Profile.constant(-0.5), edge, Protection.none());
            List<Bench.Pulse> pulses = Bench.pulses(Transient.fromRest(driven, 20.5 * Bench.PERIOD), "Q1");
            for (Bench.Pulse pulse : pulses.subList(1, pulses.size())) {
                assertThat(pulse.length()).isCloseTo(0.8 * Bench.PERIOD, within(1e-18));
            }
        }
    }

    @Test
    void belowTheLevelPulsesAreSkipped() {
        // v_c rises from 0 V to 0.5 V in 100 periods and falls again
        Profile output = Profile.constant(1)
                .rampTo(0, 100 * Bench.PERIOD, 0.5)
                .rampTo(100 * Bench.PERIOD, 200 * Bench.PERIOD, 1);
        for (Edge edge : Edge.values()) {
            DrivenCircuit driven = givenOutput(output, edge, Protection.none().withPulseSkipping(0.2));
            Transient run = Transient.fromRest(driven, 200 * Bench.PERIOD);
            Waveform control = run.of(driven.control("control voltage"));
            List<Bench.Pulse> pulses = Bench.pulses(run, "Q1");
            assertThat(pulses).hasSizeBetween(118, 121);
            for (Bench.Pulse pulse : pulses) {
                assertThat(control.at(pulse.start())).isGreaterThanOrEqualTo(0.2 - 1e-12);
            }
        }
    }

    @Test
    void atLightLoadSkippingKeepsTheOutputInRegulation() {
        Protection protection = Protection.none().withPulseSkipping(0.12).withMinimumOnTime(100e-9);
        DrivenCircuit driven = Bench.driven(
                        Bench.buck(Profile.constant(12), 5000, 5),
                        Bench.regulator().withControlLimits(0.1, 1).withProtection(protection),
                        false)
                .build();
        Transient run = Transient.fromRest(driven, 10e-3);
        Waveform output = run.of(driven.nodeVoltage("out")).between(5e-3, 10e-3);
        assertThat(output.mean()).isCloseTo(5, within(0.03));
        double periods = 10e-3 / Bench.PERIOD;
        assertThat((double) Bench.pulses(run, "Q1").size()).isBetween(0.02 * periods, 0.1 * periods);
    }

    @Test
    void aLimitedPulseOfATriangleIsNotTakenUpAgain() {
        // both edges: a pulse lies around the clock edge; cut before the edge, it stays off after it
        DrivenCircuit driven =
                givenOutput(Profile.constant(0.2), Edge.BOTH, Protection.none().withCurrentLimit(0.5, 0));
        Transient run = Transient.fromRest(driven, 60 * Bench.PERIOD);
        Waveform current = run.of(driven.current("L1"));
        assertThat(current.maximum()).isCloseTo(0.5, within(1e-12));
        for (Bench.Pulse pulse : Bench.pulses(run, "Q1")) {
            double inPeriod = pulse.end() / Bench.PERIOD - Math.floor(pulse.end() / Bench.PERIOD);
            boolean limited = current.at(pulse.end(), Side.BEFORE) >= 0.5 - 1e-9;
            boolean beforeTheEdge = inPeriod > 0.5;
            assertThat(limited || !beforeTheEdge).isTrue();
        }
        long starts = Bench.pulses(run, "Q1").stream()
                .mapToLong(pulse -> Math.round(pulse.start() / Bench.PERIOD))
                .distinct()
                .count();
        assertThat(starts).isEqualTo(Bench.pulses(run, "Q1").size());
    }
}
