package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.waveform.Waveform;

/** Regulators of the stages with a transformer, and what they make of its flux. */
class IsolatedRegulationTest {
    private static final double FREQUENCY = kilo(100);

    static List<Topology> isolated() {
        return IsolatedStagesTest.isolated();
    }

    private static PowerStage stage(Topology topology) {
        boolean flyback = topology == Topology.FLYBACK;
        PowerStage stage = PowerStage.of(topology)
                .input(topology == Topology.HALF_BRIDGE ? 48 : 24)
                .with(Transformer.of(2, 1, flyback ? micro(60) : milli(0.5)).withReset(2))
                .outputCapacitor(micro(220), milli(5))
                .transistor(milli(20))
                .rectifier(0.4, milli(10))
                .load(Load.resistor(2.5));
        return flyback ? stage : stage.inductor(micro(47), milli(20));
    }

    @ParameterizedTest
    @MethodSource("isolated")
    void theOutputIsHeld(Topology topology) {
        VoltageMode loop =
                VoltageMode.of(FREQUENCY, 1, 0.25, Compensator.type1(100)).withRamp(0, 1);
        Converter converter = stage(topology).drive(loop.withMaximumDutyCycle(0.49));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(4, within(1e-9));
        assertThat(steady.periodic().isStable()).isTrue();
    }

    private static Converter ideal(double drop) {
        Converter converter = PowerStage.pushPull()
                .input(30)
                .with(Transformer.of(2, 1, milli(5)))
                .inductor(milli(0.5))
                .outputCapacitor(micro(50))
                .load(Load.resistor(6))
                .drive(Drive.fixedDuty(0.2, kilo(10)));
        return drop == 0 ? converter : converter.with("Q2.forward_drop", drop);
    }

    /**
     * A drop of one transistor alone: with equal pulses its volt-seconds are missing in each period, and the flux walks, until the
     * magnetizing current is as large as that of the inductor and one rectifier blocks between the pulses.
     */
    @Test
    void unequalHalvesWalkWhereThePulsesAreEqual() {
        ConverterSteadyState end = ideal(0.5).steadyState();
        double least = end.of(end.converter().inductorCurrent()).minimum();
        Waveform settled = end.of(end.converter().further("magnetizing_current"));
        assertThat(2 * settled.maximum()).isGreaterThanOrEqualTo(least);
        assertThat(settled.mean()).isGreaterThan(settled.peakToPeak());
        Converter walking = ideal(0.5);
        Waveform flux = walking.transientFrom(ideal(0).steadyState().periodic().state(), 20 / kilo(10), List.of())
                .of(walking.further("magnetizing_current"));
        double early = flux.at(0.5 / kilo(10));
        double later = flux.at(19.5 / kilo(10));
        assertThat(later - early).isCloseTo(19 * 0.5 * 0.2 / kilo(10) / milli(5), within(1e-9));
    }

    /** Current mode makes the pulse of the weaker half longer, until the volt-seconds of both are equal. */
    @Test
    void currentModeBalancesUnequalHalves() {
        Converter balanced = ideal(0.5).withRegulator(CurrentMode.peak(kilo(10), 1.2));
        ConverterSteadyState steady = balanced.steadyState();
        assertThat(steady.periodic().isStable()).isTrue();
        double first = steady.periodic().timeConducting("Q1");
        double second = steady.periodic().timeConducting("Q2");
        assertThat(first * 30).isCloseTo(second * 29.5, within(1e-12));
        Waveform flux = steady.of(balanced.further("magnetizing_current"));
        assertThat(flux.maximum() - flux.minimum()).isCloseTo(30 * first / milli(5), within(1e-12));
        // both pulses end at the same current of their transistor, as seen from the inductor
        Waveform one = steady.of(balanced.driven().current("Q1"));
        Waveform other = steady.of(balanced.driven().current("Q2"));
        assertThat(2 * one.maximum()).isCloseTo(1.2, within(1e-9));
        assertThat(2 * other.maximum()).isCloseTo(1.2, within(1e-9));
    }

    /** Equal halves: current mode brings the flux back where equal pulses leave it. */
    @Test
    void currentModeBringsTheFluxBack() {
        Converter stage = ideal(0).withRegulator(CurrentMode.peak(kilo(10), 1.2));
        ConverterSteadyState steady = stage.steadyState();
        assertThat(steady.of(stage.further("magnetizing_current")).mean()).isCloseTo(0, within(1e-12));
        assertThat(steady.periodic().isStable()).isTrue();
    }

    /** The response of the output to the control goes with the ratio of turns: at low frequency it is that of the ideal ratio. */
    @ParameterizedTest
    @MethodSource("isolated")
    void theResponseBeginsAtTheSlopeOfTheRatio(Topology topology) {
        PowerStage parts = PowerStage.of(topology)
                .input(24)
                .with(Transformer.of(2, 1, topology == Topology.FLYBACK ? micro(60) : milli(50))
                        .withReset(2))
                .outputCapacitor(micro(2200))
                .load(Load.resistor(1));
        boolean flyback = topology == Topology.FLYBACK;
        Converter converter = (flyback ? parts : parts.inductor(micro(47))).drive(Drive.fixedDuty(0.3, FREQUENCY));
        double step = 1e-6;
        Topology ideal = converter.topology();
        double slope = 24 * (ideal.continuousRatio(0.3 + step) - ideal.continuousRatio(0.3 - step)) / (2 * step);
        double gain = converter.steadyState().smallSignal().controlToOutput(1).magnitude(0);
        assertThat(gain).isCloseTo(slope, within(2e-3 * slope));
    }
}
