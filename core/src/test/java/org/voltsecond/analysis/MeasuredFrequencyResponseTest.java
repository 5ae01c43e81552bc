package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.CircuitSignals;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Plant;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Spectrum;

/**
 * Against brute force: a small sine is really there, the circuit runs until it has settled, and the component of its
 * frequency is taken from the waveform; and at low frequency against the change of the mean from one steady state to
 * another.
 */
class MeasuredFrequencyResponseTest {
    private static final double FREQUENCY = 300e3;
    private static final int PERIODS = 30;
    private static final double AMPLITUDE = 1e-4;
    private static final Profile NO_CURRENT = Profile.constant(0);

    /** A lossy boost stage whose control voltage is a source: V1 line, V2 control voltage, I1 a current that loads it. */
    private static Circuit boost(double load, Profile line, Profile control, Profile current) {
        return Circuit.builder()
                .voltageSource("V1", "in", "ground", line)
                .voltageSource("V2", "control", "ground", control)
                .inductor("L1", "in", "sw", 22e-6, 0.03)
                .switchPart("Q1", "sw", "ground", 0.08)
                .rectifier("D1", "sw", "out", 0.4, 0.02)
                .capacitor("C1", "out", "ground", 10e-6, 0.05)
                .resistor("R1", "out", "ground", load)
                .currentSource("I1", "out", "ground", current)
                .build();
    }

    private static DrivenCircuit driven(Circuit circuit, Edge edge) {
        CircuitSignals signals = CircuitSignals.of(circuit);
        Plant plant =
                new Plant("Q1", null, signals.nodeVoltage("out"), signals.current("L1"), signals.nodeVoltage("in"));
        VoltageMode regulator =
                VoltageMode.sensing(FREQUENCY, signals.nodeVoltage("control")).withModulation(edge, true);
        return DrivenCircuit.builder(circuit).controlledBy(regulator.on(plant)).build();
    }

    private static SteadyState steady(double load, Edge edge, double line, double control, double current) {
        return SteadyState.of(driven(
                boost(load, Profile.constant(line), Profile.constant(control), Profile.constant(current)), edge));
    }

    /** What the waveform of a settled run says, for a sine of so many periods in the window. */
    private static Complex measured(double load, Edge edge, String source, int cycles, Signal signal) {
        double frequency = cycles * FREQUENCY / PERIODS;
        DoubleFunction<Profile> with = mean -> Profile.constant(mean).withSine(AMPLITUDE, frequency, 0);
        Profile line = source.equals("V1") ? with.apply(12) : Profile.constant(12);
        Profile control = source.equals("V2") ? with.apply(0.45) : Profile.constant(0.45);
        Profile current = source.equals("I1") ? with.apply(0) : NO_CURRENT;
        DrivenCircuit swinging = driven(boost(load, line, control, current), edge);
        SteadyState still = steady(load, edge, 12, 0.45, 0);
        double window = PERIODS / FREQUENCY;
        int windows = 200;
        Transient run =
                Transient.of(swinging, swinging.stateFrom(still.circuit(), still.state()), (windows + 1) * window);
        Spectrum spectrum =
                run.of(signal).between(windows * window, (windows + 1) * window).spectrum(cycles);
        Complex cosine = new Complex(0, spectrum.phase(cycles)).exp().multiply(spectrum.amplitude(cycles));
        return cosine.multiply(Complex.I).divide(AMPLITUDE);
    }

    @ParameterizedTest
    @CsvSource({
        "20, TRAILING, V2, 1", "20, TRAILING, V2, 7", "20, TRAILING, V1, 4", "20, TRAILING, I1, 2",
        "20, LEADING, V2, 4", "20, BOTH, V2, 4", "400, TRAILING, V2, 1", "400, TRAILING, V2, 7",
        "400, TRAILING, V1, 4", "400, BOTH, I1, 4"
    })
    void agreesWithARunThatIsReallyDisturbed(double load, Edge edge, String source, int cycles) {
        SteadyState still = steady(load, edge, 12, 0.45, 0);
        assertThat(still.conduction()).isEqualTo(load < 100 ? Conduction.CONTINUOUS : Conduction.DISCONTINUOUS);
        double frequency = cycles * FREQUENCY / PERIODS;
        for (Signal signal : signals(still.circuit())) {
            Complex measured = measured(load, edge, source, cycles, signal);
            Complex worked = SmallSignal.of(still)
                    .response(Perturbation.source(source), signal, frequency)
                    .value(0);
            // what is left is of the second order in the amplitude, which shifts events by up to 1e-4 periods
            assertThat(worked.subtract(measured).magnitude() / measured.magnitude())
                    .as(signal.name())
                    .isLessThan(1e-5);
        }
    }

    /** A state, one with feed-through of the capacitor's resistance, and one that jumps at every event. */
    private static Signal[] signals(DrivenCircuit circuit) {
        return new Signal[] {circuit.current("L1"), circuit.nodeVoltage("out"), circuit.current("D1")};
    }

    @ParameterizedTest
    @CsvSource({"20, TRAILING", "20, BOTH", "400, TRAILING", "400, LEADING"})
    void injectionIsTheSameAsASourceInSeries(double load, Edge edge) {
        SteadyState still = steady(load, edge, 12, 0.45, 0);
        SmallSignal small = SmallSignal.of(still);
        Signal output = still.circuit().nodeVoltage("out");
        for (double frequency : new double[] {100, 7e3, 140e3, 420e3}) {
            Complex bySource =
                    small.response(Perturbation.source("V2"), output, frequency).value(0);
            Complex byInjection = small.response(Perturbation.controlVoltage(), output, frequency)
                    .value(0);
            assertThat(byInjection.subtract(bySource).magnitude()).isLessThan(1e-11 * bySource.magnitude());
        }
    }

    /** Against central differences of the exact steady state, with losses, in both modes of conduction. */
    @ParameterizedTest
    @CsvSource({"20, TRAILING", "20, BOTH", "400, TRAILING", "400, LEADING"})
    void lowFrequencyIsTheChangeOfTheSteadyState(double load, Edge edge) {
        SmallSignal small = SmallSignal.of(steady(load, edge, 12, 0.45, 0));
        double h = 1e-4;
        double byControl = mean(steady(load, edge, 12, 0.45 + h, 0)) - mean(steady(load, edge, 12, 0.45 - h, 0));
        double byLine = mean(steady(load, edge, 12 + h, 0.45, 0)) - mean(steady(load, edge, 12 - h, 0.45, 0));
        double byLoad = mean(steady(load, edge, 12, 0.45, h)) - mean(steady(load, edge, 12, 0.45, -h));
        checkLowFrequency(small, Perturbation.source("V2"), byControl / (2 * h));
        checkLowFrequency(small, Perturbation.controlVoltage(), byControl / (2 * h));
        checkLowFrequency(small, Perturbation.source("V1"), byLine / (2 * h));
        checkLowFrequency(small, Perturbation.source("I1"), byLoad / (2 * h));
    }

    private static double mean(SteadyState steady) {
        return steady.of(steady.circuit().nodeVoltage("out")).mean();
    }

    private static void checkLowFrequency(SmallSignal small, Perturbation from, double slope) {
        Signal output = steady(20, Edge.TRAILING, 12, 0.45, 0).circuit().nodeVoltage("out");
        Complex response = small.response(from, output, 0.01).value(0);
        assertThat(response.real()).isCloseTo(slope, within(3e-6 * Math.abs(slope)));
        assertThat(response.imaginary()).isCloseTo(0, within(1e-2 * Math.abs(slope)));
    }

    /** The comparator moves the same edge as a disturbed duty cycle does. */
    @Test
    void dutyCycleOfAFixedDriveIsTheControlVoltageOfARampOfOneVolt() {
        Circuit circuit = boost(20, Profile.constant(12), Profile.constant(0.45), NO_CURRENT);
        DrivenCircuit fixed = DrivenCircuit.builder(circuit)
                .gate("Q1", Drive.fixedDuty(0.45, FREQUENCY))
                .build();
        Signal output = fixed.nodeVoltage("out");
        SteadyState still = steady(20, Edge.TRAILING, 12, 0.45, 0);
        double[] grid = FrequencyResponse.decades(10, 700e3, 5);
        FrequencyResponse byDuty =
                SmallSignal.of(SteadyState.of(fixed)).response(Perturbation.dutyCycle("Q1"), output, grid);
        FrequencyResponse byControl = SmallSignal.of(still).response(Perturbation.controlVoltage(), output, grid);
        for (int i = 0; i < grid.length; i++) {
            assertThat(byDuty.value(i).subtract(byControl.value(i)).magnitude())
                    .isLessThan(1e-10 * byControl.magnitude(i));
        }
    }

    /** A converter without a clock, whose period moves too: current between two levels about a command. */
    @Test
    void lowFrequencyOfAFreeRunningRegulator() {
        double h = 1e-4;
        double slope = (meanOutput(2 + h) - meanOutput(2 - h)) / (2 * h);
        SmallSignal small = SmallSignal.of(SteadyState.of(freeRunning(2).driven()));
        Signal output = freeRunning(2).outputVoltage();
        Complex response = small.controlTo(output, 0.01).value(0);
        assertThat(response.real()).isCloseTo(slope, within(1e-6 * slope));
        // the load and the capacitor alone are left of the filter
        double corner = 1 / (2 * Math.PI * 2.5 * 47e-6);
        Complex atCorner = small.controlTo(output, corner).value(0);
        assertThat(Math.toDegrees(atCorner.argument())).isCloseTo(-45, within(1.0));
    }

    private static double meanOutput(double command) {
        Converter converter = freeRunning(command);
        return SteadyState.of(converter.driven()).of(converter.outputVoltage()).mean();
    }

    private static Converter freeRunning(double command) {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6, 0.03)
                .outputCapacitor(47e-6)
                .transistor(0.08)
                .rectifier(0.4, 0.02)
                .load(Load.resistor(2.5))
                .drive(Hysteretic.currentBand(FREQUENCY, command, 0.4));
    }
}
