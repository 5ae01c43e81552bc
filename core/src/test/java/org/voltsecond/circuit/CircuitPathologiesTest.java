package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.analysis.Transient;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.waveform.Waveform;

/** Driven circuits at the edges of what a circuit can be, each named after what could go wrong. */
class CircuitPathologiesTest {

    private static DrivenCircuit driven(Circuit circuit, double dutyCycle, double hertz) {
        return DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(dutyCycle, hertz))
                .build();
    }

    /** A switch opens on an inductor's current that has nowhere to go: refused with the parts, the current and the time. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 0.5})
    void openSwitchOnALiveInductorWithoutAPath(double seriesOhm) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 10)
                .switchPart("Q1", "in", "a", 0)
                .inductor("L7", "a", GROUND, micro(100), seriesOhm)
                .build();
        DrivenCircuit driven = driven(circuit, 0.5, kilo(100));
        assertThatThrownBy(() -> Transient.fromRest(driven, micro(100)))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("at 5 µs")
                .hasMessageContaining("L7")
                .hasMessageContaining(" A)")
                .hasMessageContaining("Q1 open")
                .hasMessageContaining("interrupted")
                .hasMessageContaining("snubber");
    }

    /** The same inductor with a resistor beside it is a legal circuit: the resistor takes the whole current. */
    @Test
    void openSwitchOnALiveInductorWithAResistorBesideIt() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 10)
                .switchPart("Q1", "in", "a", 0)
                .inductor("L7", "a", GROUND, micro(100))
                .resistor("R1", "a", GROUND, 1000)
                .build();
        DrivenCircuit driven = driven(circuit, 0.5, kilo(100));
        Transient run = Transient.fromRest(driven, micro(100));
        double current = run.of(driven.current("L7")).maximum();
        assertThat(run.of(driven.nodeVoltage("a")).minimum()).isCloseTo(-1000 * current, within(1e-9 * 1000 * current));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    /**
     * Time constants 1e9 apart: 1 pF through 1 Ω (1 ps) as a snubber of a buck stage whose output filter and load work in
     * milliseconds. The snubber's loss is that of its two edges; the rest is as without it.
     */
    @Test
    void snubberABillionTimesFasterThanTheFilter() {
        DrivenCircuit with = driven(buckWithSnubber(true), 0.5, kilo(100));
        DrivenCircuit without = driven(buckWithSnubber(false), 0.5, kilo(100));
        SteadyState steady = SteadyState.of(with);
        Waveform output = steady.of(with.nodeVoltage("out"));
        double plain = SteadyState.of(without).of(without.nodeVoltage("out")).mean();
        assertThat(output.mean()).isCloseTo(plain, within(1e-5 * plain));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        double expected = snubberLoss(steady.of(with.current("L1")));
        assertThat(steady.audit().dissipated().get("R2")).isCloseTo(expected, within(1e-4 * expected));
        Transient run = Transient.of(with, steady.state(), micro(200));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    /** Heat in the snubber's resistor, by hand: the coil's current stands still within picoseconds. */
    private static double snubberLoss(Waveform coil) {
        double before = coil.maximum();
        double after = coil.minimum();
        // opening: the coil discharges the snubber until the rectifier takes over at -0.4 V, which shares the rest
        double top = 12 - 0.05 * before;
        double taken = before * (top - (before * 1 - 0.4));
        double shared = 0.5 * Math.pow(before * 1.02, 2) / 1.02;
        // closing: from the rectifier's drop to the input through the transistor, which takes its share of the heat
        double swing = 12 - 0.05 * after + 0.4 + 0.02 * after;
        return pico(1) * (taken + shared + 0.5 * swing * swing / 1.05);
    }

    private static Circuit buckWithSnubber(boolean snubber) {
        Circuit.Builder builder = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "sw", 0.05)
                .rectifier("D1", GROUND, "sw", 0.4, 0.02)
                .inductor("L1", "sw", "out", micro(100), 0.03)
                .capacitor("C1", "out", GROUND, micro(1000), 0.01)
                .resistor("R1", "out", GROUND, 1);
        if (snubber) {
            builder.resistor("R2", "sw", "x", 1).capacitor("C2", "x", GROUND, pico(1));
        }
        return builder.build();
    }

    /** No resistance anywhere: an ideal LC tank rung by one step keeps its amplitude for ever. */
    @Test
    void idealTankRingsForEver() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 10)
                .switchPart("Q1", "in", "a", 0)
                .inductor("L1", "a", "b", micro(10))
                .capacitor("C1", "b", GROUND, micro(10))
                .build();
        DrivenCircuit driven = driven(circuit, 1, kilo(10));
        Transient run = Transient.fromRest(driven, 1);
        Waveform voltage = run.of(driven.nodeVoltage("b"));
        assertThat(voltage.maximum()).isCloseTo(20, within(1e-9));
        // 1 s is 15,915 rings of 62.8 µs; the phase after them is exact to the rounding of pi times that number
        double expected = 10 * (1 - Math.cos(1 / Math.sqrt(micro(10) * micro(10))));
        assertThat(run.finalState()[1]).isCloseTo(expected, within(1e-8));
    }

    /** An ideal rectifier in series with an ideal source and capacitor: one half wave, then nothing flows for ever. */
    @Test
    void idealRectifierHoldsThePeak() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 10)
                .rectifier("D1", "in", "a")
                .inductor("L1", "a", "b", micro(10))
                .capacitor("C1", "b", GROUND, micro(10))
                .resistor("R1", "b", GROUND, 1e12)
                .switchPart("Q1", "b", "c", 0)
                .resistor("R2", "c", GROUND, 1)
                .build();
        DrivenCircuit driven = driven(circuit, 0, kilo(10));
        Transient run = Transient.fromRest(driven, 1e-3);
        assertThat(run.of(driven.nodeVoltage("b")).maximum()).isCloseTo(20, within(1e-9));
        assertThat(run.finalState()[0]).isZero();
        assertThat(run.finalState()[1]).isCloseTo(20, within(1e-8));
        assertThat(run.of(driven.current("D1")).between(nano(40_000), 1e-3).maximum())
                .isZero();
    }

    /** Two switches driven against each other on the same edge leave no moment in which the current has no path. */
    @Test
    void complementarySwitchesNeverInterrupt() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 12)
                .switchPart("Q1", "in", "sw", 0)
                .switchPart("Q2", "sw", GROUND, 0)
                .inductor("L1", "sw", "out", micro(100))
                .capacitor("C1", "out", GROUND, micro(100))
                .resistor("R1", "out", GROUND, 10)
                .build();
        Drive drive = Drive.fixedDuty(0.3, kilo(100));
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .gate("Q1", drive)
                .gate("Q2", drive.complement())
                .build();
        Transient run = Transient.fromRest(driven, 20e-3);
        assertThat(run.of(driven.nodeVoltage("out")).at(20e-3)).isCloseTo(3.6, within(0.02));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }
}
