package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.ErrorAmplifier.Branch;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/** A stage whose compensator is an amplifier with its parts, beside the transfer function that it is meant to have. */
class ErrorAmplifierTest {
    private static final double FREQUENCY = 300e3;
    private static final double R1 = 20e3;
    private static final double R2 = 1e3;
    private static final double C1 = 33e-9;
    private static final double C2 = 1.6e-9;
    private static final double INTEGRATOR = 1 / (R1 * (C1 + C2));
    private static final double ZERO = 1 / (2 * Math.PI * R2 * C1);
    private static final double POLE = (C1 + C2) / (2 * Math.PI * R2 * C1 * C2);

    private static PowerStage stage(Topology topology) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(80e-3)
                .bodyDiode(0.8, 20e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(2.5));
    }

    private static ErrorAmplifier amplifier(double gain, double bandwidth) {
        return new ErrorAmplifier(
                1, 0.2, OperationalAmplifier.of(gain, bandwidth, -5, 5), R1, new Branch(R2, C1), Branch.NONE, C2);
    }

    private static Converter parts(double gain, double bandwidth) {
        return stage(Topology.BUCK)
                .drive(VoltageMode.withErrorAmplifier(FREQUENCY).withMaximumDutyCycle(0.9), amplifier(gain, bandwidth));
    }

    private static Converter function() {
        return stage(Topology.BUCK)
                .drive(VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(INTEGRATOR, ZERO, POLE))
                        .withMaximumDutyCycle(0.9));
    }

    private static double distance(double bandwidth) {
        Change[] steps = {
            Change.at(0.5e-3).load(Load.resistor(5)), Change.at(1e-3).input(14)
        };
        Waveform exact = run(function(), steps);
        Waveform real = run(parts(1e9, bandwidth), steps);
        double largest = 0;
        for (double time = 20e-6; time < 1.5e-3; time += 20e-6) {
            largest = Math.max(largest, Math.abs(exact.at(time) - real.at(time)));
        }
        return largest;
    }

    private static Waveform run(Converter rail, Change... steps) {
        ConverterTransient run = rail.transientFromSteadyState(1.5e-3, steps);
        assertThat(run.audit().residual()).isLessThan(1e-9);
        return run.of(rail.outputVoltage());
    }

    /** The steady states differ by the reference in the control voltage alone, so that the steps are answered alike. */
    @Test
    void itNearsItsTransferFunctionAsTheBandwidthGrows() {
        double slow = distance(5e6);
        double fast = distance(500e6);
        assertThat(slow).isBetween(1e-6, 5e-3);
        assertThat(fast).isBetween(slow / 130, slow / 70);
    }

    /**
     * The loop gain nears that of the transfer function as the bandwidth grows, with a distance that falls as 1 / bandwidth: two
     * bandwidths tell what is left without it (Richardson).
     */
    @Test
    void itsLoopGainNearsThatOfItsTransferFunction() {
        double[] frequencies = {100, 1e3, 5e3, 20e3, 60e3, 140e3};
        FrequencyResponse expected = function().steadyState().smallSignal().loopGain(frequencies);
        FrequencyResponse slow = parts(1e12, 2e9).steadyState().smallSignal().loopGain(frequencies);
        FrequencyResponse fast = parts(1e12, 4e9).steadyState().smallSignal().loopGain(frequencies);
        for (int i = 0; i < frequencies.length; i++) {
            double size = expected.value(i).magnitude();
            double distance = slow.value(i).subtract(expected.value(i)).magnitude() / size;
            Complex limit = fast.value(i).multiply(2).subtract(slow.value(i));
            assertThat(distance).isBetween(1e-8, 1e-3);
            assertThat(limit.subtract(expected.value(i)).magnitude() / size)
                    .as("at %s Hz", frequencies[i])
                    .isCloseTo(0, within(3e-3 * distance + 1e-8));
        }
        assertThat(fast.margins().phaseMargin().getAsDouble())
                .isCloseTo(expected.margins().phaseMargin().getAsDouble(), within(1e-2));
    }

    /** The reference of the parts is a source; its network passes it on as 1 + Zf / Zi, not as Zf / Zi alone. */
    @Test
    void itsReferenceGoesToTheOutput() {
        FrequencyResponse real = parts(1e6, 1e9).steadyState().smallSignal().referenceToOutput(0.01, 2e3);
        FrequencyResponse ideal = function().steadyState().smallSignal().referenceToOutput(0.01, 2e3);
        assertThat(real.value(0).subtract(5).magnitude()).isCloseTo(0, within(1e-3));
        Complex s = new Complex(0, 2 * Math.PI * 2e3);
        Complex gain = s.multiply(C1)
                .reciprocal()
                .add(R2)
                .reciprocal()
                .add(s.multiply(C2))
                .reciprocal()
                .divide(R1);
        Complex expected = ideal.value(1).multiply(gain.add(1)).divide(gain);
        assertThat(real.value(1).subtract(expected).magnitude()).isCloseTo(0, within(1e-3 * expected.magnitude()));
    }

    /**
     * A real amplifier: the network's gain -Zf / Zi becomes -Zf / Zi / (1 + (1 + Zf / Zi) / A) with A = 2 pi bandwidth / s
     * (R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, from memory); the rest of the loop is the same but for
     * the ripple of the control voltage.
     */
    @Test
    void aSlowAmplifierTakesFromTheLoopGainWhatItsBandwidthSays() {
        double bandwidth = 20e6;
        double[] frequencies = {500, 2e3, 5e3, 20e3};
        FrequencyResponse ideal = function().steadyState().smallSignal().loopGain(frequencies);
        FrequencyResponse real =
                parts(1e12, bandwidth).steadyState().smallSignal().loopGain(frequencies);
        for (int i = 0; i < frequencies.length; i++) {
            Complex s = new Complex(0, 2 * Math.PI * frequencies[i]);
            Complex series = s.multiply(C1).reciprocal().add(R2);
            Complex gain = series.reciprocal().add(s.multiply(C2)).reciprocal().divide(R1);
            Complex loss =
                    gain.add(1).multiply(s).divide(2 * Math.PI * bandwidth).add(1);
            Complex measured = ideal.value(i).divide(real.value(i));
            double change = loss.subtract(1).magnitude();
            assertThat(measured.subtract(loss).magnitude()).isCloseTo(0, within(0.05 * change));
        }
    }

    private static Converter softly(double time, double gain, double bandwidth) {
        return stage(Topology.BUCK)
                .drive(
                        VoltageMode.withErrorAmplifier(FREQUENCY).withMaximumDutyCycle(0.9),
                        amplifier(gain, bandwidth).withSoftStart(time));
    }

    /**
     * The reference is a source that ramps, and the output follows it. How far behind: a loop gain of 3500 / s (its crossover
     * is at 560 Hz) turns a slope into an error of slope / 3500; the output is to rise by 125 V/s, while the reference, which is
     * in the control voltage as it is, drives it by 12 * 25 V/s: (300 - 125) / 3500 V too early.
     */
    @Test
    void aSoftStartRaisesTheReference() {
        double time = 40e-3;
        Converter rail = softly(time, 1e6, 50e6);
        ConverterTransient run = rail.startUp(60e-3);
        Waveform reference = run.of(rail.driven().nodeVoltage("reference"));
        assertThat(reference.at(time / 4)).isCloseTo(0.25, within(1e-12));
        assertThat(reference.at(1.2 * time)).isCloseTo(1, within(1e-12));
        Waveform output = run.of(rail.outputVoltage());
        for (double at : new double[] {0.4 * time, 0.6 * time, 0.8 * time}) {
            double early = output.between(at - 1e-4, at + 1e-4).mean() - 5 * at / time;
            assertThat(early).isCloseTo(0.05, within(0.025));
        }
        assertThat(output.maximum()).isLessThan(5.1);
        assertThat(parts(1e6, 50e6).startUp(10e-3).of(rail.outputVoltage()).maximum())
                .isGreaterThan(5.5);
        assertThat(run.audit().residual()).isLessThan(1e-9);
    }

    /** Once it is over it leaves no trace: steady state, loop gain, derivatives and runs from there are those without. */
    @Test
    void theSteadyStateIsThatAfterTheSoftStart() {
        Converter soft = softly(4e-3, 1e6, 50e6);
        Converter plain = parts(1e6, 50e6);
        ConverterSteadyState steady = soft.steadyState();
        assertThat(steady.periodic().state())
                .containsExactly(plain.steadyState().periodic().state(), within(1e-9));
        assertThat(steady.periodic().circuit().sourceStates()).isEmpty();
        Complex gain = steady.smallSignal().loopGain(1e3).value(0);
        assertThat(plain.steadyState()
                        .smallSignal()
                        .loopGain(1e3)
                        .value(0)
                        .subtract(gain)
                        .magnitude())
                .isCloseTo(0, within(1e-8));
        ConverterTransient on =
                soft.transientFromSteadyState(0.2e-3, Change.at(0.1e-3).load(Load.resistor(5)));
        ConverterTransient same =
                plain.transientFromSteadyState(0.2e-3, Change.at(0.1e-3).load(Load.resistor(5)));
        assertThat(on.of(soft.driven().nodeVoltage("reference")).minimum()).isCloseTo(1, within(1e-12));
        assertThat(on.finalCapacitorVoltage()).isCloseTo(same.finalCapacitorVoltage(), within(1e-9));
        assertThat(soft.withReference(0.9)
                        .steadyState()
                        .of(soft.outputVoltage())
                        .mean())
                .isCloseTo(4.5, within(1e-4));
        ConverterTransient changed = soft.startUp(6e-3, Change.at(5e-3).load(Load.resistor(5)));
        assertThat(changed.of(soft.driven().nodeVoltage("reference")).at(2e-3)).isCloseTo(0.5, within(1e-12));
    }

    @Test
    void finiteGainLeavesAnError() {
        double gain = 500;
        Converter rail = parts(gain, 10e6);
        ConverterSteadyState steady = rail.steadyState();
        // the amplifier's error is its output over its gain, and no current flows into the network in the mean
        double error = steady.of(rail.errorVoltage()).mean();
        assertThat(error).isCloseTo(steady.of(rail.controlVoltage()).mean() / gain, within(1e-9));
        assertThat(steady.of(rail.outputVoltage()).mean()).isCloseTo((1 - error) / 0.2, within(1e-9));
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.conduction()).isEqualTo(org.voltsecond.analysis.Conduction.CONTINUOUS);
    }

    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void everyStageIsHeld(Topology topology) {
        ErrorAmplifier slow = new ErrorAmplifier(
                1,
                1.0 / 18,
                OperationalAmplifier.of(1e6, 10e6, 0, 2),
                1e6,
                new Branch(2e3, 33e-9),
                new Branch(1e6, 10e-12),
                0);
        Converter rail = stage(topology)
                .input(topology == Topology.BUCK ? 40 : 12)
                .load(Load.resistor(20))
                .drive(VoltageMode.withErrorAmplifier(FREQUENCY).withMaximumDutyCycle(0.9), slow);
        ConverterSteadyState steady = rail.steadyState();
        double expected = topology == Topology.INVERTING_BUCK_BOOST ? -18 : 18;
        assertThat(steady.of(rail.outputVoltage()).mean()).isCloseTo(expected, within(1e-4));
        assertThat(steady.periodic().isStable()).isTrue();
        Converter other = rail.withReference(0.9);
        assertThat(other.steadyState().of(other.outputVoltage()).mean()).isCloseTo(0.9 * expected, within(1e-4));
    }

    @Test
    void faultsAreToldTogether() {
        ErrorAmplifier wrong = new ErrorAmplifier(
                Double.NaN, 2, OperationalAmplifier.of(0, -1, 3, 1), 0, new Branch(-1, 0), new Branch(0, 1e-9), -1, -1);
        assertThatThrownBy(() -> stage(Topology.BUCK).drive(VoltageMode.withErrorAmplifier(FREQUENCY), wrong))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("error amplifier: reference must")
                .hasMessageContaining("divider must")
                .hasMessageContaining("gain must")
                .hasMessageContaining("gain-bandwidth must")
                .hasMessageContaining("lowest output voltage must")
                .hasMessageContaining("input resistance must")
                .hasMessageContaining("feedback resistance must")
                .hasMessageContaining("feedback capacitance must")
                .hasMessageContaining("bypass capacitance must")
                .hasMessageContaining("soft start must")
                .hasMessageContaining("resistance of the input branch must");
        assertThatThrownBy(() -> stage(Topology.BUCK).drive(VoltageMode.withErrorAmplifier(FREQUENCY)))
                .hasMessageContaining("there is none");
    }
}
