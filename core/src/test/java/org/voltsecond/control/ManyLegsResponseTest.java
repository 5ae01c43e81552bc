package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.analysis.Perturbation;
import org.voltsecond.analysis.Sensitivities;
import org.voltsecond.analysis.SmallSignal;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.SwitchPattern.Timing;
import org.voltsecond.numeric.Complex;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Spectrum;

/** Small signals and derivatives of a regulator with several legs, against runs that are disturbed and circuits that are changed. */
class ManyLegsResponseTest {
    private static final double FREQUENCY = 300e3;
    private static final int PERIODS = 20;
    private static final double AMPLITUDE = 1e-4;

    /** Three unlike phases: V1 line, V2 control voltage of those that take it, I1 a current that loads them. */
    private static Circuit phases(double line, double second) {
        Circuit.Builder parts = Circuit.builder()
                .voltageSource("V1", "in", "ground", line)
                .voltageSource("V2", "control", "ground", 0.45);
        for (int k = 1; k <= 3; k++) {
            parts.switchPart("Q" + k, "in", "sw" + k, 0.02 * k)
                    .rectifier("D" + k, "ground", "sw" + k, 0.4, 0.02)
                    .inductor("L" + k, "sw" + k, "out", k == 2 ? second : 10e-6 + 2e-6 * k, 0.03);
        }
        return parts.capacitor("C1", "out", "ground", 20e-6, 0.01)
                .resistor("R1", "out", "ground", 1)
                .currentSource("I1", "out", "ground", 0)
                .build();
    }

    private static DrivenCircuit driven(Circuit circuit, String kind) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        Regulator regulator = switch (kind) {
            case "sensing" -> VoltageMode.sensing(FREQUENCY, signals.nodeVoltage("control"));
            case "peak" ->
                CurrentMode.peak(FREQUENCY, 1, 0.2, Compensator.type2(5000, 3000, 100e3), 0.25)
                        .withSlopeCompensation(0.3e6);
            default ->
                AverageCurrentMode.of(
                        FREQUENCY,
                        1,
                        0.2,
                        Compensator.type2(2000, 2000, 100e3),
                        0.25,
                        Compensator.type2(20000, 5000, 150e3));
        };
        List<Signal> currents = List.of(signals.current("L1"), signals.current("L2"), signals.current("L3"));
        SwitchPattern pattern = SwitchPattern.of(Timing.INTERLEAVED, List.of("Q1", "Q2", "Q3"), List.of());
        Plant plant = new Plant(pattern, signals.nodeVoltage("out"), currents, signals.nodeVoltage("in"));
        return DrivenCircuit.builder(circuit).controlledBy(regulator.on(plant)).build();
    }

    private static Circuit swinging(Circuit circuit, String source, double frequency) {
        Profile sine = Profile.constant(source.equals("V1") ? 12 : source.equals("V2") ? 0.45 : 0)
                .withSine(AMPLITUDE, frequency, 0);
        return source.equals("I1") ? circuit.withCurrent(source, sine) : circuit.withVoltage(source, sine);
    }

    /** With 5 V from 12 V the third phase is on when the clock ticks. */
    @ParameterizedTest
    @CsvSource({"sensing, V2, 1", "sensing, V2, 9", "sensing, V1, 3", "peak, I1, 2", "peak, V1, 7", "average, I1, 3"})
    void agreesWithARunThatIsReallyDisturbed(String kind, String source, int cycles) {
        Circuit circuit = phases(12, 15e-6);
        DrivenCircuit driven = driven(circuit, kind);
        SteadyState still = SteadyState.of(driven);
        assertThat(still.isStable()).isTrue();
        double frequency = cycles * FREQUENCY / PERIODS;
        DrivenCircuit disturbed = driven(swinging(circuit, source, frequency), kind);
        double window = PERIODS / FREQUENCY;
        int windows = 100;
        Transient run = Transient.of(disturbed, disturbed.stateFrom(driven, still.state()), (windows + 1) * window);
        for (Signal signal : new Signal[] {driven.nodeVoltage("out"), driven.current("L3"), driven.current("D2")}) {
            Spectrum spectrum = run.of(signal)
                    .between(windows * window, (windows + 1) * window)
                    .spectrum(cycles);
            Complex cosine = new Complex(0, spectrum.phase(cycles)).exp().multiply(spectrum.amplitude(cycles));
            Complex measured = cosine.multiply(Complex.I).divide(AMPLITUDE);
            Complex worked = SmallSignal.of(still)
                    .response(Perturbation.source(source), signal, frequency)
                    .value(0);
            // what is left is of the second order in the amplitude
            assertThat(worked.subtract(measured).magnitude()).as(signal.name()).isLessThan(2e-5 * measured.magnitude());
        }
    }

    /** The loop gain closes the loop: the reference moves the output by 1/divider at low frequency. */
    @ParameterizedTest
    @CsvSource({"peak", "average"})
    void theLoopGainFallsThroughOneAndTheReferenceIsFollowed(String kind) {
        SteadyState still = SteadyState.of(driven(phases(12, 15e-6), kind));
        SmallSignal small = SmallSignal.of(still);
        assertThat(small.loopGain(1).decibels(0)).isGreaterThan(40);
        assertThat(small.loopGain(140e3).decibels(0)).isLessThan(0);
        Complex followed = small.response(
                        Perturbation.reference(), still.circuit().nodeVoltage("out"), 0.1)
                .value(0);
        assertThat(followed.subtract(new Complex(5, 0)).magnitude()).isLessThan(5e-3);
    }

    @ParameterizedTest
    @CsvSource({"sensing, L1", "peak, L1", "peak, L2", "average, L3"})
    void derivativesAreTheSlopesOfTheFigures(String kind, String what) {
        double h = 1e-4;
        DrivenCircuit driven = driven(phases(12, 15e-6), kind);
        Sensitivities derivatives = SteadyState.of(driven).sensitivities();
        Signal signal = driven.current(what);
        double byLine =
                (largest(phases(12 + h, 15e-6), kind, what) - largest(phases(12 - h, 15e-6), kind, what)) / (2 * h);
        assertThat(derivatives.to(Parameter.voltage("V1")).maximum(signal)).isCloseTo(byLine, within(1e-6));
        double step = 15e-6 * h;
        double byInductance =
                (largest(phases(12, 15e-6 + step), kind, what) - largest(phases(12, 15e-6 - step), kind, what))
                        / (2 * step);
        assertThat(derivatives.to(Parameter.inductance("L2")).maximum(signal))
                .isCloseTo(byInductance, within(1e-6 / 15e-6));
    }

    private static double largest(Circuit circuit, String kind, String what) {
        DrivenCircuit driven = driven(circuit, kind);
        return SteadyState.of(driven).of(driven.current(what)).maximum();
    }
}
