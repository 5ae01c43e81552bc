package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.FieldSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/** Periodic steady states of the three stages. */
class ConverterSteadyStateTest {

    /** 40-digit value of the discontinuous lossy buck stage at turn-on, worked out with extended precision. */
    @Test
    void discontinuousBuckHoldsTwelveDigits() {
        Converter light =
                Stages.lossy(Topology.BUCK).withLoad(Load.resistor(100)).withDutyCycle(0.25);
        ConverterSteadyState steady = light.steadyState();
        double[] state = steady.periodic().state();
        assertThat(state[0]).isZero();
        assertThat(state[1]).isCloseTo(5.816915798350127, within(6e-12));
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(steady.onTime() + steady.offTime()).isCloseTo(1.65927737107262e-6, within(1e-14));
    }

    /**
     * M. H. Rashid, Power Electronics, Ex. 5.6 (15 V, ripple 0.89 A and 60.61 mV, peak 1.944 A) and D. W. Hart, Power
     * Electronics, Ex. 6-1 (20 V, 1.5 A); Rashid Ex. 5.7 (-4 V, 0.8 A, 56.8 mV, 2.067 A). The digits are those of the
     * exact periodic solutions of the same ideal circuits.
     */
    @ParameterizedTest
    @CsvSource({
        "BUCK, 50, 400e-6, 100e-6, 20, 0.4, 20e3, 20.0000, 1.50188, 1.75094, 0.0939",
        "BOOST, 5, 150e-6, 220e-6, 30, 0.6666666666666666, 25e3, 14.99699, 0.88889, 1.94369, 0.060588",
        "INVERTING_BUCK_BOOST, 12, 150e-6, 220e-6, 3.2, 0.25, 25e3, -3.99766, 0.80000, 2.06475, 0.056685",
    })
    void idealStagesAgreeWithTheTextbooks(
            Topology topology,
            double input,
            double henry,
            double farad,
            double ohm,
            double duty,
            double frequency,
            double output,
            double ripple,
            double peak,
            double outputRipple) {
        Converter converter = Stages.ideal(topology, input, henry, farad, ohm, duty, frequency);
        ConverterSteadyState steady = converter.steadyState();
        Waveform voltage = steady.of(converter.outputVoltage());
        Waveform current = steady.of(converter.inductorCurrent());
        assertThat(voltage.mean()).isCloseTo(output, within(5e-5));
        assertThat(current.peakToPeak()).isCloseTo(ripple, within(1e-5));
        assertThat(current.maximum()).isCloseTo(peak, within(1e-5));
        assertThat(voltage.peakToPeak()).isCloseTo(outputRipple, within(1e-3 * outputRipple));
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.efficiency().orElseThrow()).isCloseTo(1, within(1e-12));
        assertThat(steady.losses().total()).isCloseTo(0, within(1e-12));
    }

    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void currentsAndVoltagesObeyKirchhoff(Topology topology) {
        Converter converter = Stages.lossy(topology);
        ConverterSteadyState steady = converter.steadyState();
        Waveform inductor = steady.of(converter.inductorCurrent());
        Waveform devices = steady.of(converter.transistorCurrent()).plus(steady.of(converter.rectifierCurrent()));
        assertThat(devices.minus(inductor).peakToPeak())
                .as("transistor + rectifier = inductor")
                .isLessThan(1e-12);
        Waveform fed = topology == Topology.BUCK ? inductor : steady.of(converter.rectifierCurrent());
        double sign = topology == Topology.INVERTING_BUCK_BOOST ? -1 : 1;
        Waveform drawn = steady.of(converter.outputCapacitorCurrent()).plus(steady.of(converter.loadCurrent()));
        assertThat(drawn.minus(fed.times(sign)).peakToPeak())
                .as("capacitor + load = what feeds them")
                .isLessThan(1e-12);
        Waveform input = topology == Topology.BOOST ? inductor : steady.of(converter.transistorCurrent());
        assertThat(steady.of(converter.inputCurrent()).minus(input).peakToPeak())
                .isLessThan(1e-12);
    }

    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void signsAreThoseOfNormalOperation(Topology topology) {
        Converter converter = Stages.lossy(topology);
        ConverterSteadyState steady = converter.steadyState();
        double sign = topology == Topology.INVERTING_BUCK_BOOST ? -1 : 1;
        assertThat(sign * steady.of(converter.outputVoltage()).minimum()).isPositive();
        assertThat(sign * steady.of(converter.loadCurrent()).minimum()).isPositive();
        assertThat(steady.of(converter.inductorCurrent()).minimum()).isPositive();
        assertThat(steady.of(converter.transistorCurrent()).minimum()).isZero();
        assertThat(steady.of(converter.rectifierCurrent()).minimum()).isZero();
        assertThat(steady.of(converter.transistorVoltage()).minimum()).isPositive();
        assertThat(steady.of(converter.transistorVoltage()).maximum()).isGreaterThan(11);
        assertThat(steady.of(converter.rectifierVoltage()).minimum()).isLessThan(-4);
        assertThat(steady.of(converter.rectifierVoltage()).maximum())
                .isCloseTo(0.4 + 0.02 * steady.of(converter.rectifierCurrent()).maximum(), within(1e-12));
        assertThat(steady.of(converter.inputCurrent()).mean()).isPositive();
    }

    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void powerBalancesAndTimesAddUp(Topology topology) {
        ConverterSteadyState steady = Stages.lossy(topology).steadyState();
        double input = steady.inputPower();
        assertThat(steady.outputPower() + steady.losses().total()).isCloseTo(input, within(1e-12 * input));
        assertThat(steady.efficiency().orElseThrow()).isCloseTo(steady.outputPower() / input, within(1e-15));
        assertThat(steady.audit().residual()).isLessThan(1e-12);
        assertThat(steady.onTime() + steady.offTime() + steady.idleTime())
                .isCloseTo(steady.period(), within(1e-15 * steady.period()));
        assertThat(steady.dutyCycle()).isCloseTo(0.45, within(1e-15));
    }

    /** Conduction losses: square of the RMS current times resistance, and mean rectifier current times forward drop. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void lossesAreThoseOfTheCurrents(Topology topology) {
        Converter converter = Stages.lossy(topology);
        ConverterSteadyState steady = converter.steadyState();
        double transistor = steady.of(converter.transistorCurrent()).rms();
        Waveform rectifier = steady.of(converter.rectifierCurrent());
        double inductor = steady.of(converter.inductorCurrent()).rms();
        double capacitor = steady.of(converter.outputCapacitorCurrent()).rms();
        StageLosses losses = steady.losses();
        assertThat(losses.transistor()).isCloseTo(0.08 * transistor * transistor, within(1e-12));
        assertThat(losses.rectifier())
                .isCloseTo(0.4 * rectifier.mean() + 0.02 * rectifier.rms() * rectifier.rms(), within(1e-12));
        assertThat(losses.inductor()).isCloseTo(0.03 * inductor * inductor, within(1e-12));
        assertThat(losses.outputCapacitor()).isCloseTo(0.005 * capacitor * capacitor, within(1e-12));
    }

    /** A synchronous rectifier lets the current reverse, so that conduction is continuous at any load. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void aSynchronousStageNeverIdles(Topology topology) {
        Converter converter =
                Stages.ideal(topology, 12, 22e-6, 47e-6, 1000, 0.45, 300e3).withSynchronousRectifier(0);
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.idleTime()).isZero();
        assertThat(steady.of(converter.inductorCurrent()).minimum()).isNegative();
        double ratio = ConversionRatio.continuous(topology, 0.45);
        assertThat(steady.of(converter.outputVoltage()).mean() / 12).isCloseTo(ratio, within(1e-3 * Math.abs(ratio)));
    }

    /** With the current that a resistor would draw at the same voltage, a small ripple apart, all is the same. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void aConstantCurrentLoadsLikeTheResistorThatDrawsIt(Topology topology) {
        Converter resistor = Stages.lossy(topology);
        ConverterSteadyState expected = resistor.steadyState();
        double current = Math.abs(expected.of(resistor.loadCurrent()).mean());
        Converter sink = resistor.withLoad(Load.current(current));
        ConverterSteadyState steady = sink.steadyState();
        double voltage = expected.of(resistor.outputVoltage()).mean();
        assertThat(steady.of(sink.outputVoltage()).mean()).isCloseTo(voltage, within(1e-3 * Math.abs(voltage)));
        assertThat(steady.of(sink.loadCurrent()).peakToPeak()).isZero();
        assertThat(steady.outputPower()).isCloseTo(expected.outputPower(), within(2e-3 * expected.outputPower()));
    }

    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void anOpenTransistorLeavesWhatTheRectifierCarries(Topology topology) {
        Converter converter = Stages.lossy(topology).withDutyCycle(0);
        ConverterSteadyState steady = converter.steadyState();
        // A boost stage passes the input on: (12 V - 0.4 V) over load, inductor and rectifier.
        double output = topology == Topology.BOOST ? 11.6 * 2.5 / (2.5 + 0.03 + 0.02) : 0;
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(output, within(1e-11));
        assertThat(steady.of(converter.outputVoltage()).peakToPeak()).isLessThan(1e-11);
        assertThat(steady.onTime()).isZero();
        assertThat(steady.efficiency().isPresent()).isEqualTo(topology == Topology.BOOST);
    }

    @Test
    void aClosedTransistorConnectsTheBuckStageThrough() {
        Converter converter = Stages.lossy(Topology.BUCK).withDutyCycle(1);
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.of(converter.outputVoltage()).mean())
                .isCloseTo(12 * 2.5 / (2.5 + 0.08 + 0.03), within(1e-11));
        assertThat(steady.offTime()).isZero();
        assertThat(steady.idleTime()).isZero();
    }

    @Test
    void anIdealBoostStageThatNeverOpensHasNoSteadyState() {
        Converter converter = Stages.ideal(Topology.BOOST, 12, 22e-6, 47e-6, 10, 1, 300e3);
        assertThatExceptionOfType(NoSteadyStateException.class).isThrownBy(converter::steadyState);
    }

    /** K = 2 L / (R T) on both sides of the critical value, by one part in ten thousand. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void conductionChangesAtTheCriticalK(Topology topology) {
        double duty = 0.4;
        double critical = ConversionRatio.criticalK(topology, duty);
        double henry = 100e-6;
        double ohm = 2 * henry * 100e3 / critical;
        // A large capacitor: the closed form holds for a small ripple.
        Converter below = Stages.ideal(topology, 10, henry, 1, ohm * 1.0001, duty, 100e3);
        Converter above = Stages.ideal(topology, 10, henry, 1, ohm * 0.9999, duty, 100e3);
        assertThat(below.steadyState().conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(above.steadyState().conduction()).isEqualTo(Conduction.CONTINUOUS);
    }

    /** D. W. Hart, Power Electronics, ch. 6, discontinuous example (13.9 V); digits of the exact periodic solution. */
    @Test
    void discontinuousBuckOfTheTextbook() {
        Converter converter = Stages.ideal(Topology.BUCK, 24, 200e-6, 1000e-6, 20, 0.4, 10e3);
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(13.92003, within(5e-6));
        assertThat(steady.of(converter.inductorCurrent()).maximum()).isCloseTo(2.01799, within(5e-6));
        assertThat(steady.offTime() / steady.period()).isCloseTo(0.28968, within(5e-6));
        assertThat(steady.of(converter.switchNode()).at(0.9 * steady.period()))
                .as("the switch node rests at the output in the idle interval")
                .isCloseTo(steady.of(converter.outputVoltage()).at(0.9 * steady.period()), within(1e-12));
    }

    @Test
    void theDriveMayBeAnyOpenLoopOne() {
        Converter twice = Stages.lossy(Topology.BUCK)
                .withDrive(Drive.on(300e3, new Drive.OnWindow(0, 0.2), new Drive.OnWindow(0.5, 0.75)));
        ConverterSteadyState steady = twice.steadyState();
        assertThat(steady.onTime()).isCloseTo(1.5e-6, within(1e-20));
        assertThat(steady.of(twice.inductorCurrent()).edges()).isEmpty();
        assertThat(steady.of(twice.outputVoltage()).mean()).isCloseTo(5.025, within(0.01));
    }
}
