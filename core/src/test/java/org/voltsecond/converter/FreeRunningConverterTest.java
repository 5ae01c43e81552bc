package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Regulator;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/** The steady state of stages whose regulator has no clock. */
class FreeRunningConverterTest {
    private static final double ON_TIME = 1.4e-6;

    private static PowerStage lossless() {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6, 40e-3)
                .load(Load.resistor(2.5));
    }

    private static PowerStage lossy(Topology topology) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 40e-3)
                .transistor(80e-3)
                .bodyDiode(0.8, 20e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(2.5));
    }

    private static ConstantOnTime constantOnTime() {
        return ConstantOnTime.of(300e3, 1, 0.2, ON_TIME, 300e-9);
    }

    /** The volt-seconds of a lossless inductor balance: (Vi - Vo) ton = Vo toff, of the mean of Vo, so that T = ton Vi / Vo. */
    @Test
    void constantOnTimeHasTheFrequencyOfTheVoltSecondBalance() {
        Converter rail = lossless().drive(constantOnTime());
        ConverterSteadyState steady = rail.steadyState();
        double output = steady.of(rail.outputVoltage()).mean();
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.onTime()).isCloseTo(ON_TIME, within(1e-17));
        assertThat(steady.period()).isCloseTo(ON_TIME * 12 / output, within(1e-9 * ON_TIME));
        assertThat(steady.dutyCycle()).isCloseTo(output / 12, within(1e-9));
        // the comparator holds the lowest output, which is where the pulse begins, at 5 V
        assertThat(steady.of(rail.outputVoltage()).minimum()).isCloseTo(5, within(1e-11));
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.audit().residual()).isLessThan(1e-11);
    }

    /** At light load the pulses come as often as their charge is drawn: Q = ton^2 (Vi - Vo) Vi / (2 L Vo), nearly, of a stiff output. */
    @Test
    void atLightLoadTheFrequencyFollowsTheLoad() {
        Converter rail = lossless()
                .outputCapacitor(10e-3, 1e-3)
                .load(Load.current(50e-3))
                .drive(constantOnTime().withSoftStart(20e-3));
        ConverterSteadyState steady = rail.steadyState();
        double charge = ON_TIME * ON_TIME * 7 * 12 / (2 * 22e-6 * 5);
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(steady.period()).isCloseTo(charge / 50e-3, within(1e-4 * charge / 50e-3));
        assertThat(steady.onTime() + steady.offTime() + steady.idleTime())
                .isCloseTo(steady.period(), within(1e-12 * steady.period()));
    }

    /** A band of the current and a nearly stiff output: ripple over slope, on the way up and down. */
    @Test
    void aCurrentBandHasTheFrequencyOfItsSlopes() {
        Converter rail =
                lossless().outputCapacitor(1, 0).load(Load.resistor(2.5)).drive(Hysteretic.currentBand(300e3, 2, 1));
        ConverterSteadyState steady = rail.steadyState();
        double expected = 22e-6 / 7 + 22e-6 / 5;
        assertThat(steady.of(rail.inductorCurrent()).peakToPeak()).isCloseTo(1, within(1e-9));
        assertThat(steady.period()).isCloseTo(expected, within(1e-5 * expected));
    }

    static Stream<Map.Entry<Topology, Regulator>> regulators() {
        Compensator compensator = Compensator.type2(2000, 3e3, 100e3);
        Hysteretic loop = Hysteretic.currentBand(300e3, 1, 0.2, compensator, 0.5, 0.8);
        return Stream.of(
                Map.entry(Topology.BUCK, constantOnTime()),
                Map.entry(Topology.BUCK, constantOnTime().withDelay(60e-9).withSoftStart(1e-3)),
                Map.entry(Topology.BUCK, Hysteretic.voltageBand(300e3, 1, 0.2, 10e-3)),
                Map.entry(Topology.BUCK, loop.withDelay(50e-9)),
                Map.entry(Topology.BOOST, Hysteretic.currentBand(300e3, 8, 0.5)),
                Map.entry(Topology.INVERTING_BUCK_BOOST, loop.withSoftStart(2e-3)));
    }

    @ParameterizedTest
    @MethodSource("regulators")
    void theSteadyStateIsWhereALongTransientEnds(Map.Entry<Topology, Regulator> design) {
        Converter rail = lossy(design.getKey()).drive(design.getValue());
        ConverterSteadyState steady = rail.steadyState();
        ConverterTransient run = rail.startUp(20e-3);
        double[] cycle = lastCycle(run);
        assertThat(cycle[1] - cycle[0]).isCloseTo(steady.period(), within(1e-7 * steady.period()));
        Waveform output = run.of(rail.outputVoltage()).between(cycle[0], cycle[1]);
        Waveform current = run.of(rail.inductorCurrent()).between(cycle[0], cycle[1]);
        assertThat(output.mean()).isCloseTo(steady.of(rail.outputVoltage()).mean(), within(1e-6));
        assertThat(current.maximum())
                .isCloseTo(steady.of(rail.inductorCurrent()).maximum(), within(1e-6));
        assertThat(current.minimum())
                .isCloseTo(steady.of(rail.inductorCurrent()).minimum(), within(1e-6));
        assertThat(steady.periodic().isStable()).isTrue();
    }

    /** From the start of the last pulse but one to that of the last, s. */
    private static double[] lastCycle(ConverterTransient run) {
        List<Double> begins = run.gate().edges().stream()
                .filter(edge -> edge.after() > edge.before())
                .map(edge -> edge.time())
                .toList();
        return new double[] {begins.get(begins.size() - 2), begins.get(begins.size() - 1)};
    }

    @Test
    void aRunFromTheSteadyStateStaysThere() {
        Converter rail = lossy(Topology.BUCK).drive(constantOnTime());
        ConverterSteadyState steady = rail.steadyState();
        ConverterTransient run = rail.transientFromSteadyState(50 * steady.period());
        assertThat(run.finalCapacitorVoltage()).isCloseTo(steady.periodic().state()[1], within(1e-10));
        assertThat(run.finalInductorCurrent()).isCloseTo(steady.periodic().state()[0], within(1e-9));
    }

    @Test
    void whereTheSwitchingStopsThereIsNoSteadyState() {
        // the output can never reach the reference: the transistor stays on
        Converter rail = lossy(Topology.BUCK).input(4).drive(Hysteretic.voltageBand(300e3, 1, 0.2, 10e-3));
        assertThatThrownBy(rail::steadyState)
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("no new cycle has begun");
    }
}
