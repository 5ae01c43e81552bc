package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.DutyCycles;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.waveform.Waveform;

/** What a user schedules: steps of load, line and reference, slew, ripple of the line, short circuit and release. */
class ScheduledEventsTest {
    private static final double ANGULAR = 2 * Math.PI * 20e3;

    /** A source with a sine behind a resistance, into a capacitance. */
    private static DrivenCircuit lowPass(double phase) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", Profile.constant(12).withSine(1.5, 20e3, phase))
                .resistor("R1", "in", "out", 100)
                .capacitor("C1", "out", "ground", 100e-9)
                .build();
        return DrivenCircuit.builder(circuit).clockPeriod(Bench.PERIOD).build();
    }

    private static double lowPassAt(double time, double phase) {
        // x' = (u - x)/tau, u = U + A sin(w t + phase), x(0) = 0
        double tau = 100 * 100e-9;
        double lag = Math.atan(ANGULAR * tau);
        double amplitude = 1.5 * Math.cos(lag);
        double forced = 12 + amplitude * Math.sin(ANGULAR * time + phase - lag);
        double start = 12 + amplitude * Math.sin(phase - lag);
        return forced - start * Math.exp(-time / tau);
    }

    @Test
    void aSineIsExactOverThousandsOfItsPeriods() {
        for (double phase : new double[] {0, 1, -2}) {
            DrivenCircuit driven = lowPass(phase);
            Transient run = Transient.fromRest(driven, 50e-3);
            Waveform out = run.of(driven.nodeVoltage("out"));
            for (double time : new double[] {3e-6, 111e-6, 1.234e-3, 49.9e-3}) {
                assertThat(out.at(time)).isCloseTo(lowPassAt(time, phase), within(1e-11));
                assertThat(run.of(driven.nodeVoltage("in")).at(time))
                        .isCloseTo(12 + 1.5 * Math.sin(ANGULAR * time + phase), within(1e-11));
            }
            assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
        }
    }

    @Test
    void aChangeOfOtherValuesLeavesThePhaseOfTheSine() {
        Circuit circuit = Circuit.builder()
                .voltageSource(
                        "V1",
                        "in",
                        "ground",
                        Profile.constant(0).rampTo(0, 1e-3, 12).withSine(1, 1e3, 0.5))
                .resistor("R1", "in", "ground", 10)
                .inductor("L1", "in", "a", 1e-3)
                .resistor("R2", "a", "ground", 1)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .clockPeriod(10e-6)
                .change(0.4e-3, circuit.withResistance("R1", 20))
                .change(1.9e-3, circuit.withResistance("R1", 5))
                .build();
        Waveform in = Transient.fromRest(driven, 3e-3).of(driven.nodeVoltage("in"));
        for (double time : new double[] {0.2e-3, 0.7e-3, 1.5e-3, 2.7e-3}) {
            double expected = Math.min(12, 12e3 * time) + Math.sin(2 * Math.PI * 1e3 * time + 0.5);
            assertThat(in.at(time)).isCloseTo(expected, within(1e-11));
        }
    }

    @Test
    void faultsOfASineAreReportedWithTheCircuit() {
        assertThatThrownBy(() -> Circuit.builder()
                        .voltageSource("V1", "in", "ground", Profile.constant(1).withSine(-1, 0, Double.NaN))
                        .resistor("R1", "in", "ground", 1)
                        .build())
                .hasMessageContaining("amplitude")
                .hasMessageContaining("frequency")
                .hasMessageContaining("phase");
    }

    @Test
    void aRegulatorAttenuatesTheRippleOfTheLine() {
        Profile line = Profile.constant(12).withSine(1, 1e3, 0);
        Circuit circuit = Bench.buck(line, 2.5, 0);
        DrivenCircuit driven = Bench.driven(circuit, Bench.regulator(), false).build();
        double[] settled = SteadyState.of(Bench.driven(Bench.buck(2.5), Bench.regulator(), false)
                        .build()
                        .running())
                .state();
        double[] start = driven.restState();
        start[0] = settled[0];
        start[1] = settled[1];
        start[start.length - 2] = settled[2];
        start[start.length - 1] = settled[3];
        Transient run = Transient.of(driven, start, 8e-3);
        Waveform out = run.of(driven.nodeVoltage("out")).between(4e-3, 8e-3);
        // open loop the duty cycle would pass 5/12 V on
        assertThat(out.peakToPeak()).isBetween(0.05, 2 * 5 / 12.0);
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
    }

    @Test
    void aLoadStepWithASlewRateTakesItsTime() {
        Circuit.Builder builder = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "sw", 0.08)
                .rectifier("D1", "ground", "sw", 0.4, 0.02)
                .inductor("L1", "sw", "out", 22e-6, 0.03)
                .capacitor("C1", "out", "ground", 47e-6, 0.005)
                .currentSource("I1", "out", "ground", Profile.constant(0.5).rampTo(4e-3, 4.01e-3, 2));
        DrivenCircuit driven = Bench.driven(
                        builder.resistor("R1", "out", "ground", 100).build(), Bench.regulator(), false)
                .build();
        Transient run = Transient.fromRest(driven, 6e-3);
        Waveform current = run.of(driven.current("I1"));
        for (double part : new double[] {0.1, 0.5, 0.9}) {
            assertThat(current.at(4e-3 + part * 10e-6)).isCloseTo(0.5 + 1.5 * part, within(1e-12));
        }
        assertThat(current.edges()).isEmpty();
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
    }

    @Test
    void aReferenceStepMovesTheOutput() {
        Circuit circuit = Bench.buck(2.5);
        Plant plant = Bench.plant(circuit, false);
        VoltageMode regulator = Bench.regulator();
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(plant))
                .change(8e-3, regulator.withReference(1.2).on(plant))
                .build();
        Transient run = Transient.fromRest(driven, 16e-3);
        Waveform out = run.of(driven.nodeVoltage("out"));
        assertThat(out.between(7.9e-3, 8e-3).mean()).isCloseTo(5, within(0.01));
        assertThat(out.between(15.9e-3, 16e-3).mean()).isCloseTo(6, within(0.01));
        double valley = out.between(7.9e-3, 8e-3).minimum();
        Waveform response = out.between(8e-3, 16e-3);
        assertThat(response.droopBelow(valley)).isLessThan(1e-4);
        assertThat(response.overshootAbove(6)).isGreaterThan(1e-4);
    }

    @Test
    void aDeadShortAndItsRelease() {
        Circuit circuit = Bench.buck(2.5);
        Regulator regulator = Bench.regulator()
                .withControlLimits(0, 1)
                .withProtection(Protection.none().withCurrentLimit(4, 0));
        DrivenCircuit driven = Bench.driven(circuit, regulator, false)
                .change(3e-3, circuit.withResistance("R1", 0))
                .change(4e-3, circuit)
                .build();
        Transient run = Transient.fromRest(driven, 10e-3);
        assertThat(run.of(driven.nodeVoltage("out")).between(3.1e-3, 3.9e-3).maximum())
                .isCloseTo(0, within(1e-12));
        assertThat(run.of(driven.current("L1")).maximum()).isCloseTo(4, within(1e-12));
        assertThat(run.of(driven.nodeVoltage("out")).at(10e-3)).isCloseTo(5, within(0.05));
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
    }

    @Test
    void figuresOfALoadStepAreThoseOfItsWaveform() {
        Circuit circuit = Bench.buck(2.5);
        DrivenCircuit driven = Bench.driven(circuit, Bench.regulator(), false)
                .change(8e-3, circuit.withResistance("R1", 1.25))
                .build();
        Transient run = Transient.fromRest(driven, 14e-3);
        Waveform out = run.of(driven.nodeVoltage("out"));
        double band = 0.05;
        double settled = 8e-3 + out.between(8e-3, 14e-3).settlingTime(5, band).orElseThrow();
        assertThat(Math.abs(out.at(settled) - 5)).isCloseTo(band, within(1e-10));
        assertThat(out.between(settled, 14e-3).minimum()).isGreaterThanOrEqualTo(5 - band - 1e-12);
    }

    @Test
    void dutyCyclesOfEveryPeriodAddUpToTheOnTime() {
        Circuit circuit = Bench.buck(2.5);
        DrivenCircuit driven = Bench.driven(circuit, Bench.regulator(), false).build();
        Transient run = Transient.fromRest(driven, 1000 * Bench.PERIOD);
        DutyCycles cycles = run.dutyCycles("Q1");
        double[] duty =
                IntStream.range(0, cycles.periods()).mapToDouble(cycles::of).toArray();
        assertThat(duty).hasSize(1000);
        double sum = 0;
        for (double each : duty) {
            assertThat(each).isBetween(0.0, 0.95 + 1e-12);
            sum += each * Bench.PERIOD;
        }
        double pulses = Bench.pulses(run, "Q1").stream()
                .mapToDouble(Bench.Pulse::length)
                .sum();
        assertThat(sum).isCloseTo(pulses, within(1e-12));
        assertThat(duty[999]).isCloseTo(5.4 / 12.4, within(0.05));
    }
}
