package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.SampledControl;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

/** Exact derivatives of regulated converters against central differences of the exact solver, and against closed forms. */
class RegulatedSensitivityTest {
    private static final double FREQUENCY = 300e3;

    private static PowerStage lossy(Topology topology, double ohm) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(100e-6, 20e-3)
                .transistor(80e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(ohm));
    }

    private static Compensator slow() {
        return Compensator.type2(300, 2e3, 60e3);
    }

    private static List<Regulator> clocked(double divider) {
        VoltageMode voltageMode = VoltageMode.of(FREQUENCY, 1, divider, slow()).withMaximumDutyCycle(0.9);
        return List.of(
                voltageMode,
                voltageMode.withModulation(Edge.LEADING, true),
                voltageMode.withModulation(Edge.BOTH, true),
                VoltageMode.of(FREQUENCY, 1, divider, Compensator.type3(200, 2e3, 4e3, 60e3, 90e3))
                        .withMaximumDutyCycle(0.9),
                VoltageMode.of(FREQUENCY, 1, divider, Compensator.proportional(0.8, 0.4)),
                CurrentMode.peak(FREQUENCY, 1, divider, slow(), 0.2).withSlopeCompensation(0.3e6),
                CurrentMode.valley(FREQUENCY, 1, divider, slow(), 0.2).withSlopeCompensation(0.5e6),
                SampledControl.of(FREQUENCY, 1, divider, 0.01, -0.0095)
                        .withDenominator(-1)
                        .withMaximumDutyCycle(0.8));
    }

    private static List<Regulator> freeRunning(double divider) {
        return List.of(
                Hysteretic.currentBand(FREQUENCY, 1, divider, slow(), 0.2, 0.8),
                Hysteretic.currentBand(FREQUENCY, 1, divider, slow(), 0.2, 0.8).withDelay(60e-9));
    }

    /** Each kind of control once, each topology several times. */
    static Stream<Converter> converters() {
        List<Converter> converters = new ArrayList<>();
        for (int kind = 0; kind < clocked(1).size(); kind++) {
            Topology topology = PlainStages.ALL.get(kind % 3);
            converters.add(heavy(topology).drive(clocked(divider(topology)).get(kind)));
        }
        for (int kind = 0; kind < freeRunning(1).size(); kind++) {
            Topology topology = PlainStages.ALL.get(kind + 1);
            converters.add(heavy(topology).drive(freeRunning(divider(topology)).get(kind)));
        }
        ConstantOnTime onTime = ConstantOnTime.of(FREQUENCY, 1, 0.2, 1.4e-6, 0.3e-6);
        converters.addAll(List.of(
                lossy(Topology.BUCK, 60).drive(clocked(0.2).get(0)),
                lossy(Topology.BOOST, 400).drive(clocked(1 / 20.0).get(5)),
                lossy(Topology.INVERTING_BUCK_BOOST, 400)
                        .drive(clocked(1 / 20.0).get(0)),
                lossy(Topology.BUCK, 2.5).drive(onTime),
                lossy(Topology.BUCK, 60).drive(onTime),
                lossy(Topology.BUCK, 2.5).drive(Hysteretic.voltageBand(FREQUENCY, 1, 0.2, 10e-3)),
                lossy(Topology.BUCK, 2.5)
                        .synchronousRectifier(25e-3)
                        .drive(clocked(0.2).get(0)),
                lossy(Topology.BUCK, 2.5).drive(VoltageMode.withErrorAmplifier(FREQUENCY), amplifier())));
        return converters.stream();
    }

    private static PowerStage heavy(Topology topology) {
        return lossy(topology, topology == Topology.BUCK ? 2.5 : 20);
    }

    private static double divider(Topology topology) {
        return topology == Topology.BUCK ? 0.2 : 1 / 20.0;
    }

    private static ErrorAmplifier amplifier() {
        return new ErrorAmplifier(
                1,
                0.2,
                OperationalAmplifier.of(1e4, 5e6, 0, 1),
                10e3,
                new ErrorAmplifier.Branch(8e3, 10e-9),
                ErrorAmplifier.Branch.NONE,
                300e-12);
    }

    @ParameterizedTest
    @MethodSource("converters")
    void everyFigureByEveryValue(Converter converter) {
        SensitivityOracle.hold(converter.steadyState(), 0.01, 1e-12, 1e-7);
    }

    private static double derivative(Converter converter, StageMeasurement figure, StageValue value) {
        return converter.steadyState().sensitivities().of(figure).withRespectTo(value);
    }

    /**
     * An integrator holds the mean of what it senses at its reference, whatever the parts are and whatever they lose: the output goes
     * as reference over divider.
     */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void aLoopThatIntegratesHoldsTheMeanOutputVoltage(Topology topology) {
        StageMeasurement mean = StageMeasurement.of(Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);
        double output = 1 / divider(topology);
        for (int kind : new int[] {0, 3, 5}) {
            Converter converter =
                    heavy(topology).drive(clocked(divider(topology)).get(kind));
            for (StageValue value : StageValue.of(converter)) {
                double relative = derivative(converter, mean, value) * value.in(converter) / output;
                double sign = topology.isInverting() ? -1 : 1;
                double expected =
                        value.equals(StageValue.REFERENCE) ? sign : value.equals(StageValue.DIVIDER) ? -sign : 0;
                assertThat(relative).as("%s by %s", converter, value).isCloseTo(expected, within(1e-11));
            }
        }
    }

    /**
     * With ideal parts and the mean output held at V, volt-seconds balance at the duty cycle D = V / Vi of a buck stage: it
     * falls with the input voltage as -D / Vi and depends on no part.
     */
    @Test
    void theDutyCycleOfAnIdealBuckFollowsItsInputVoltageAlone() {
        Converter ideal = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(100e-6)
                .load(Load.resistor(2.5))
                .drive(clocked(0.2).get(0));
        StageMeasurement onTime = StageMeasurement.of(Measure.ON_TIME);
        double dutyCycle = 5.0 / 12;
        assertThat(derivative(ideal, onTime, StageValue.INPUT_VOLTAGE) * FREQUENCY)
                .isCloseTo(-dutyCycle / 12, within(1e-12));
        for (StageValue value : List.of(StageValue.INDUCTANCE, StageValue.CAPACITANCE, StageValue.LOAD_RESISTANCE)) {
            assertThat(derivative(ideal, onTime, value) * FREQUENCY * value.in(ideal))
                    .as("on-time by %s", value)
                    .isCloseTo(0, within(1e-11));
        }
    }

    /**
     * A band of the inductor current about a command that is given, and a capacitor so large that the output stands still: the
     * period is band L (1 / (Vi - V) + 1 / V), and V is the command times the load.
     */
    @Test
    void thePeriodOfACurrentBandFollowsItsSlopes() {
        Converter band = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(10)
                .load(Load.resistor(2.5))
                .drive(Hysteretic.currentBand(FREQUENCY, 2, 1));
        double output = 5;
        double period = 22e-6 * (1 / 7.0 + 1 / output);
        ConverterSteadyState steady = band.steadyState();
        assertThat(steady.period()).isCloseTo(period, within(1e-6 * period));
        Parameter inductance = Parameter.inductance("L1");
        Parameter input = Parameter.voltage("V1");
        Parameter load = Parameter.resistance("R1");
        double byInductance = steady.periodic().sensitivities().to(inductance).period();
        double byInput = steady.periodic().sensitivities().to(input).period();
        double byLoad = steady.periodic().sensitivities().to(load).period();
        assertThat(byInductance).isCloseTo(period / 22e-6, within(1e-6 * period / 22e-6));
        assertThat(byInput).isCloseTo(-22e-6 / 49, within(1e-6 * 22e-6 / 49));
        double slope = 22e-6 * (1 / 49.0 - 1 / 25.0) * 2;
        assertThat(byLoad).isCloseTo(slope, within(1e-5 * Math.abs(slope)));
    }

    /** Central differences with halved steps, extrapolated (L. F. Richardson, 1911). */
    private static double difference(
            DoubleFunction<Converter> converter, ConverterSteadyState near, double nominal, StageMeasurement figure) {
        double[] row = new double[4];
        double step = 0.01 * nominal;
        for (int k = 0; k < row.length; k++) {
            double up = figure.in(converter.apply(nominal + step).steadyStateNear(near));
            double down = figure.in(converter.apply(nominal - step).steadyStateNear(near));
            double present = (up - down) / (2 * step);
            double power = 1;
            for (int j = 0; j <= k; j++) {
                double before = row[j];
                row[j] = present;
                power *= 4;
                present += (present - before) / (power - 1);
            }
            step /= 2;
        }
        return row[row.length - 1];
    }

    static Stream<Integer> kindsOfControl() {
        return IntStream.range(0, clocked(1).size() + freeRunning(1).size()).boxed();
    }

    private static Regulator regulator(int kind, double divider) {
        int clocked = clocked(divider).size();
        return kind < clocked
                ? clocked(divider).get(kind)
                : freeRunning(divider).get(kind - clocked);
    }

    @ParameterizedTest
    @MethodSource("kindsOfControl")
    void figuresByReferenceAndDivider(int kind) {
        Topology topology = PlainStages.ALL.get(kind % 3);
        Converter converter = heavy(topology).drive(regulator(kind, divider(topology)));
        ConverterSteadyState steady = converter.steadyState();
        StageSensitivities exact = steady.sensitivities();
        for (StageMeasurement figure : List.of(
                StageMeasurement.of(Measure.MEAN, StageSignal.OUTPUT_VOLTAGE),
                StageMeasurement.of(Measure.ON_TIME),
                StageMeasurement.of(Measure.RMS, StageSignal.INDUCTOR_CURRENT),
                StageMeasurement.of(Measure.MAXIMUM, StageSignal.INDUCTOR_CURRENT),
                StageMeasurement.of(Measure.EFFICIENCY))) {
            double byReference = difference(converter::withReference, steady, 1, figure);
            assertThat(exact.of(figure).withRespectTo(Parameter.reference()))
                    .as("%s by reference, %s", figure, converter)
                    .isCloseTo(byReference, within(1e-7 * Math.abs(byReference)));
            double byDivider = difference(
                    divider -> converter.withRegulator(regulator(kind, divider)), steady, divider(topology), figure);
            assertThat(exact.of(figure).withRespectTo(Parameter.divider()))
                    .as("%s by divider, %s", figure, converter)
                    .isCloseTo(byDivider, within(1e-7 * Math.abs(byDivider)));
        }
    }

    /** An integrator holds the mean output at reference over divider. */
    @Test
    void theMeanOutputFollowsReferenceAndDivider() {
        StageSensitivities exact =
                heavy(Topology.BUCK).drive(clocked(0.2).get(0)).steadyState().sensitivities();
        StageMeasurement mean = StageMeasurement.of(Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);
        assertThat(exact.of(mean).withRespectTo(Parameter.reference())).isCloseTo(5, within(1e-11));
        assertThat(exact.of(mean).withRespectTo(Parameter.divider())).isCloseTo(-25, within(1e-10));
    }

    @Test
    void whatHasNoReferenceHasNoDerivativeByIt() {
        StageSensitivities fixed = heavy(Topology.BUCK)
                .drive(Drive.fixedDuty(0.45, FREQUENCY))
                .steadyState()
                .sensitivities();
        StageMeasurement onTime = StageMeasurement.of(Measure.ON_TIME);
        assertThatThrownBy(() -> fixed.of(onTime).withRespectTo(Parameter.reference()))
                .isInstanceOf(UnsupportedOperationException.class)
                .hasMessageContaining("no reference of its own");
        StageSensitivities commanded = heavy(Topology.BUCK)
                .drive(CurrentMode.peak(FREQUENCY, 1.5))
                .steadyState()
                .sensitivities();
        assertThatThrownBy(() -> commanded.of(onTime).withRespectTo(Parameter.divider()))
                .hasMessageContaining("no divider of its own");
        assertThat(commanded
                        .of(StageMeasurement.of(Measure.MAXIMUM, StageSignal.INDUCTOR_CURRENT))
                        .withRespectTo(Parameter.reference()))
                .isCloseTo(1, within(1e-12));
    }

    @Test
    void timesThatTheControllerDecidesOnAreNoParameters() {
        ConverterSteadyState steady =
                heavy(Topology.BUCK).drive(clocked(0.2).get(0)).steadyState();
        assertThatThrownBy(() -> steady.periodic().sensitivities().to(Parameter.dutyCycle()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("a controller decides");
        assertThatThrownBy(() -> steady.sensitivities()
                        .of(StageMeasurement.of(Measure.ON_TIME))
                        .withRespectTo(StageValue.FREQUENCY))
                .hasMessageContaining("has no switching frequency");
        ConverterSteadyState rippled =
                steady.converter().withInputRipple(0.1, 10e3).steadyState();
        assertThatThrownBy(rippled::sensitivities).hasMessageContaining("leave the ripple out");
    }
}
