package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;
import org.voltsecond.circuit.TransconductanceAmplifier;
import org.voltsecond.waveform.Waveform;

/** Compensators as parts beside the transfer functions that they are meant to have. */
class AmplifierPartsTest {
    private static final double REFERENCE = 5;
    private static final double R1 = 100e3;
    private static final double R2 = 1058;
    private static final double C1 = 33e-9;
    private static final double C2 = 1.55e-9;
    private static final double R3 = 4.7e3;
    private static final double C3 = 330e-12;
    private static final double INTEGRATOR = 1 / (R1 * (C1 + C2));
    private static final double ZERO = 1 / (2 * Math.PI * R2 * C1);
    private static final double POLE = (C1 + C2) / (2 * Math.PI * R2 * C1 * C2);
    private static final double SECOND_ZERO = 1 / (2 * Math.PI * (R1 + R3) * C3);
    private static final double SECOND_POLE = 1 / (2 * Math.PI * R3 * C3);
    private static final double DURATION = 1e-3;

    private static Circuit.Builder power() {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "sw", 0.08)
                .rectifier("D1", "ground", "sw", 0.4, 0.02)
                .inductor("L1", "sw", "out", 22e-6, 0.03)
                .part(new Part.Capacitor("C4", "out", "ground", 47e-6, 0.005, 4.5))
                .resistor("R4", "out", "ground", 2.5)
                .voltageSource("V2", "reference", "ground", REFERENCE);
    }

    /** Uncharged as in the transfer function's state of rest. The network from the output to the inverting input of the amplifier, or to where that would be. */
    private static Circuit.Builder inputNetwork(Circuit.Builder builder, String to, boolean third) {
        builder.resistor("R1", "out", to, R1);
        if (third) {
            builder.resistor("R3", "out", "r3", R3).capacitor("C3", "r3", to, C3);
        }
        return builder;
    }

    /** The feedback network begins charged to minus the reference, so that the control voltage begins at 0 V. */
    private static Circuit asParts(OperationalAmplifier amplifier, boolean third) {
        return inputNetwork(power(), "inverting", third)
                .part(new Part.Capacitor("C1", "control", "r2", C1, 0, -REFERENCE))
                .resistor("R2", "r2", "inverting", R2)
                .part(new Part.Capacitor("C2", "control", "inverting", C2, 0, -REFERENCE))
                .operationalAmplifier("U1", "reference", "inverting", "control", amplifier)
                .build();
    }

    private static Plant plant(Circuit circuit) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        return new Plant("Q1", null, signals.nodeVoltage("out"), signals.current("L1"), signals.nodeVoltage("in"));
    }

    private static DrivenCircuit driven(OperationalAmplifier amplifier, boolean third) {
        Circuit circuit = asParts(amplifier, third);
        Regulator regulator = VoltageMode.sensing(
                        Bench.FREQUENCY, CircuitSignals.of(circuit).nodeVoltage("control"))
                .withMaximumDutyCycle(0.9);
        return DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(plant(circuit)))
                .change(DURATION / 2, circuit.withResistance("R4", 5))
                .build();
    }

    private static DrivenCircuit ideal(boolean third) {
        Circuit circuit = inputNetwork(power(), "reference", third).build();
        Compensator compensator = third
                ? Compensator.type3(INTEGRATOR, ZERO, SECOND_ZERO, POLE, SECOND_POLE)
                : Compensator.type2(INTEGRATOR, ZERO, POLE);
        Regulator regulator =
                VoltageMode.of(Bench.FREQUENCY, REFERENCE, 1, compensator).withMaximumDutyCycle(0.9);
        return DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(plant(circuit)))
                .change(DURATION / 2, circuit.withResistance("R4", 5))
                .build();
    }

    /** The largest distance between the output voltages of two runs at the clock edges. */
    private static double distance(boolean third, double gain, double bandwidth) {
        DrivenCircuit parts = driven(OperationalAmplifier.of(gain, bandwidth, -20, 20), third);
        Transient a = Transient.fromRest(parts, DURATION);
        DrivenCircuit function = ideal(third);
        Transient b = Transient.fromRest(function, DURATION);
        Waveform first = a.of(parts.nodeVoltage("out"));
        Waveform second = b.of(function.nodeVoltage("out"));
        double largest = 0;
        for (int k = 1; k < 300; k++) {
            double time = k * Bench.PERIOD;
            largest = Math.max(largest, Math.abs(first.at(time) - second.at(time)));
        }
        assertThat(a.audit().residual()).isLessThanOrEqualTo(1e-10);
        return largest;
    }

    @Test
    void typeTwoNearsItsTransferFunctionAsTheBandwidthGrows() {
        double slow = distance(false, 1e9, 10e6);
        double fast = distance(false, 1e9, 1e9);
        assertThat(slow).isLessThan(0.5e-3);
        assertThat(fast).isBetween(slow / 110, slow / 90);
    }

    @Test
    void typeThreeNearsItsTransferFunctionAsTheBandwidthGrows() {
        double slow = distance(true, 1e9, 10e6);
        double fast = distance(true, 1e9, 1e9);
        assertThat(slow).isLessThan(0.5e-3);
        assertThat(fast).isBetween(slow / 110, slow / 90);
    }

    @Test
    void finiteGainLeavesAnErrorOfTheControlVoltageOverTheGain() {
        double gain = 1000;
        DrivenCircuit driven = driven(OperationalAmplifier.of(gain, 10e6, -20, 20), false);
        SteadyState steady = SteadyState.of(driven.running());
        double error = steady.of(driven.nodeVoltage("reference")).mean()
                - steady.of(driven.nodeVoltage("inverting")).mean();
        assertThat(error).isCloseTo(steady.of(driven.nodeVoltage("control")).mean() / gain, within(1e-9));
        assertThat(steady.isStable()).isTrue();
    }

    @Test
    void anOpenAmplifierFollowsItsPoleSaturatesAndRecoversInClosedForm() {
        double gain = 1e4;
        double bandwidth = 1e6;
        double high = 4;
        double turn = 40e-6;
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "plus", "ground", Profile.constant(1e-3).stepTo(turn, -0.5e-3))
                .operationalAmplifier("U1", "plus", "ground", "out", OperationalAmplifier.of(gain, bandwidth, -3, high))
                .resistor("R1", "out", "ground", 1e3)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(10e-6).build();
        Transient run = Transient.fromRest(driven, 1e-3);
        Waveform out = run.of(driven.nodeVoltage("out"));
        double tau = gain / (2 * Math.PI * bandwidth);
        assertThat(out.at(0.5e-6)).isCloseTo(10 * -Math.expm1(-0.5e-6 / tau), within(1e-12));
        double saturates = -tau * Math.log(1 - high / 10);
        double before = turn - 1e-9;
        assertThat(saturates).isGreaterThan(turn);
        assertThat(out.at(before)).isCloseTo(10 * -Math.expm1(-before / tau), within(1e-11));
        double atTurn = 10 * -Math.expm1(-turn / tau);
        double time = turn + 300e-6;
        assertThat(out.at(time)).isCloseTo(-5 + (atTurn + 5) * Math.exp(-300e-6 / tau), within(1e-11));
        assertThat(out.minimum()).isGreaterThanOrEqualTo(-3);
    }

    @Test
    void aSaturatedAmplifierStandsAtItsLimitAndLeavesItInTheMomentOfReversal() {
        double gain = 1e4;
        double bandwidth = 10e6;
        double turn = 400e-6;
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "plus", "ground", Profile.constant(1e-3).stepTo(turn, -0.5e-3))
                .operationalAmplifier("U1", "plus", "ground", "out", OperationalAmplifier.of(gain, bandwidth, -3, 4))
                .resistor("R1", "out", "ground", 1e3)
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(10e-6).build();
        Transient run = Transient.fromRest(driven, 2e-3);
        Waveform out = run.of(driven.nodeVoltage("out"));
        double tau = gain / (2 * Math.PI * bandwidth);
        double saturates = -tau * Math.log(1 - 4 / 10.0);
        assertThat(out.crossings(4 - 1e-12).get(0).time()).isCloseTo(saturates, within(1e-13));
        assertThat(out.between(saturates + 1e-9, turn).minimum()).isCloseTo(4, within(1e-14));
        assertThat(out.at(turn + 20e-6)).isCloseTo(-5 + 9 * Math.exp(-20e-6 / tau), within(1e-11));
        assertThat(out.at(2e-3)).isCloseTo(-3, within(1e-14));
    }

    @Test
    void aClampedTransconductanceAmplifierIsTheClampedCompensator() {
        // H = gm (1 + s R2 C1) / (s (C1 + C2) (1 + s R2 C1 C2 / (C1 + C2))), clamped at its output
        double transconductance = 100e-6;
        double low = 0;
        double high = 0.55;
        Circuit parts = power().resistor("R1", "out", "reference", R1)
                .transconductanceAmplifier(
                        "U1",
                        "reference",
                        "out",
                        "control",
                        new TransconductanceAmplifier(transconductance, 1e12, 0, low, high))
                .capacitor("C1", "r2", "ground", C1)
                .resistor("R2", "control", "r2", R2)
                .capacitor("C2", "control", "ground", C2)
                .build();
        Circuit bare = power().resistor("R1", "out", "reference", R1).build();
        Regulator sensing =
                VoltageMode.sensing(Bench.FREQUENCY, CircuitSignals.of(parts).nodeVoltage("control"));
        Compensator compensator = Compensator.type2(transconductance / (C1 + C2), ZERO, POLE);
        Regulator function =
                VoltageMode.of(Bench.FREQUENCY, REFERENCE, 1, compensator).withControlLimits(low, high);
        DrivenCircuit first = steps(parts, sensing);
        DrivenCircuit second = steps(bare, function);
        Transient a = Transient.fromRest(first, 4e-3);
        Transient b = Transient.fromRest(second, 4e-3);
        Waveform control = a.of(first.nodeVoltage("control"));
        assertThat(control.maximum()).isCloseTo(high, within(1e-12));
        assertThat(control.minimum()).isCloseTo(low, within(1e-12));
        for (int k = 1; k < 1200; k += 7) {
            double time = k * Bench.PERIOD;
            assertThat(control.at(time))
                    .isCloseTo(b.of(second.control("control voltage")).at(time), within(1e-8));
            assertThat(a.of(first.current("L1")).at(time))
                    .isCloseTo(b.of(second.current("L1")).at(time), within(1e-7));
        }
    }

    private static DrivenCircuit steps(Circuit circuit, Regulator regulator) {
        return DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(plant(circuit)))
                .change(1e-3, circuit.withResistance("R4", 0.4))
                .change(2e-3, circuit.withResistance("R4", 50))
                .build();
    }

    @Test
    void faultsOfAnAmplifierAreReportedTogether() {
        assertThatThrownBy(() -> Circuit.builder()
                        .operationalAmplifier("U1", "a", "b", "c", new OperationalAmplifier(0, -1, 2, 1, -5)))
                .hasMessageContaining("U1")
                .hasMessageContaining("gain must")
                .hasMessageContaining("gain-bandwidth")
                .hasMessageContaining("output resistance")
                .hasMessageContaining("lowest output voltage");
    }
}
