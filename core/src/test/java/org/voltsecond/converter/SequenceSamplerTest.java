package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Clamp;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Transformer;

/**
 * Designs of stages of any kind whose devices follow each other as in the nominal design. The oracle is the engine, which searches
 * each design anew, a regulated one with its whole loop; each condition is broken by itself, just so far that it would be felt.
 */
class SequenceSamplerTest {
    private static final List<StageMeasurement> FIGURES = SensitivityTest.allFigures();
    private static final int DESIGNS = Integer.getInteger("voltsecond.designs", 12);
    private static final double LITTLE = 1e-6;
    private static final Transformer CORE = Transformer.of(2, 1, 200e-6);
    private static final Compensator SLOW = Compensator.type2(100, 300, kilo(50));

    private static PowerStage usual(PowerStage stage, double ohm) {
        return stage.input(12)
                .outputCapacitor(micro(100), milli(5))
                .transistor(milli(30))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(ohm));
    }

    private static PowerStage two(PowerStage stage) {
        return stage.inductor(micro(47))
                .with(new SecondInductor(micro(47), milli(30), 0))
                .with(new CouplingCapacitor(micro(10), milli(5)));
    }

    private static PowerStage flyback() {
        return usual(PowerStage.flyback().with(CORE.withLeakage(micro(1))).with(Clamp.of(20)), 5);
    }

    private static VoltageMode voltageMode(double output) {
        return VoltageMode.of(kilo(200), 1, 1 / output, SLOW).withMaximumDutyCycle(0.7);
    }

    private static CurrentMode currentMode() {
        return CurrentMode.peak(kilo(200), 1, 0.2, Compensator.type2(300, kilo(1), kilo(100)), 0.1)
                .withSlopeCompensation(0.05 / micro(1));
    }

    /** A buck stage behind the inductor of an input filter, wired by hand. */
    private static Converter custom(Regulator regulator) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "supply", Circuit.GROUND, 12)
                .inductor("L2", "supply", "in", micro(4.7), milli(50))
                .capacitor("C2", "in", Circuit.GROUND, micro(10), milli(20))
                .switchPart("Q1", "in", "sw", milli(80))
                .rectifier("D1", Circuit.GROUND, "sw", 0.4, milli(20))
                .inductor("L1", "sw", "out", micro(22), milli(30))
                .capacitor("C1", "out", Circuit.GROUND, micro(47), milli(5))
                .resistor("R1", "out", Circuit.GROUND, 2.5)
                .build();
        return Converter.of(circuit)
                .input("V1")
                .output("out", Circuit.GROUND)
                .inductorCurrent("L1")
                .switchNode("sw")
                .drive(regulator);
    }

    static Stream<Arguments> stages() {
        return Stream.of(
                Arguments.of("flyback with leakage and clamp", flyback().drive(voltageMode(5))),
                Arguments.of("flyback in current mode", flyback().drive(currentMode())),
                Arguments.of(
                        "flyback with an input capacitor",
                        flyback().drive(voltageMode(5)).withAcrossInput("C9", micro(10), milli(5))),
                Arguments.of("SEPIC", usual(two(PowerStage.sepic()), 5).drive(voltageMode(5))),
                Arguments.of(
                        "SEPIC in current mode",
                        usual(two(PowerStage.sepic()), 5).drive(currentMode())),
                Arguments.of(
                        "SEPIC in discontinuous conduction",
                        usual(two(PowerStage.sepic()), 100).drive(voltageMode(5))),
                Arguments.of("Ćuk", usual(two(PowerStage.cuk()), 5).drive(voltageMode(5))),
                Arguments.of(
                        "forward",
                        usual(PowerStage.forward().inductor(micro(22)).with(CORE.withReset(2)), 3)
                                .drive(voltageMode(1.5))),
                Arguments.of("custom circuit", custom(voltageMode(5))),
                Arguments.of(
                        "Ćuk of fixed duty cycle",
                        usual(two(PowerStage.cuk()), 5).drive(Drive.fixedDuty(0.4, kilo(200)))));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("stages")
    void figuresOfRandomDesignsAreThoseOfTheWholeLoop(String name, Converter converter) {
        List<StageValue> varied = StageValue.of(converter);
        StageSampler sampler = StageSampler.of(converter, varied, FIGURES);
        Random random = new Random(7);
        double[] found = new double[FIGURES.size()];
        for (int design = 0; design < DESIGNS; design++) {
            double[] values = sampler.nominal();
            Converter changed = converter;
            for (int k = 0; k < values.length; k++) {
                values[k] *= 1 + 0.1 * (2 * random.nextDouble() - 1);
                changed = varied.get(k).set(changed, values[k]);
            }
            sampler.measure(values, found);
            compare(found, changed.steadyState());
            assertThat(sampler.margin()).isCloseTo(changed.steadyState().conductionMargin(), within(1e-10));
        }
        assertThat(sampler.leftToEngine()).isLessThan(DESIGNS / 4);
    }

    private static void compare(double[] found, ConverterSteadyState steady) {
        for (int k = 0; k < found.length; k++) {
            StageMeasurement figure = FIGURES.get(k);
            double expected = figure.in(steady);
            double size = figure.signal() == null ? expected : SensitivityOracle.size(steady, figure);
            assertThat(found[k])
                    .as("%s of %s", figure, steady)
                    .isCloseTo(expected, within(1e-10 * Math.max(Math.abs(size), steady.period())));
        }
    }

    /** What is found of a design hangs on its values alone, whatever was asked before. */
    @Test
    void whatWasAskedBeforeDoesNotMatter() {
        Converter sepic = usual(two(PowerStage.sepic()), 5).drive(voltageMode(5));
        List<StageValue> varied = List.of(StageValue.INPUT_VOLTAGE, StageValue.LOAD_RESISTANCE);
        StageSampler fresh = StageSampler.of(sepic, varied, FIGURES);
        StageSampler used = StageSampler.of(sepic, varied, FIGURES);
        double[] first = new double[FIGURES.size()];
        double[] second = new double[FIGURES.size()];
        fresh.measure(new double[] {11, 5.5}, first);
        used.measure(new double[] {14, 4.5}, second);
        used.measure(new double[] {12, 300}, second); // discontinuous: left to the engine
        used.measure(new double[] {11, 5.5}, second);
        assertThat(used.leftToEngine()).isEqualTo(1);
        assertThat(second).isEqualTo(first);
    }

    private static long left(Converter converter) {
        StageSampler sampler = StageSampler.of(converter, List.of(), FIGURES);
        double[] found = new double[FIGURES.size()];
        sampler.measure(sampler.nominal(), found);
        compare(found, converter.steadyState());
        return sampler.leftToEngine();
    }

    @Test
    void aLimitOrProtectionThatActsIsLeftToTheEngine() {
        Converter nominal = flyback().drive(voltageMode(5));
        ConverterSteadyState steady = nominal.steadyState();
        double low = steady.of(nominal.controlVoltage()).minimum();
        double high = steady.of(nominal.controlVoltage()).maximum();
        double peak = steady.of(nominal.inductorCurrent()).maximum();
        double room = 0.1 * (high - low);
        assertThat(left(flyback().drive(voltageMode(5).withControlLimits(low - room, high + room))))
                .isZero();
        assertThat(left(flyback().drive(voltageMode(5).withControlLimits(low - room, high - LITTLE))))
                .isEqualTo(1);
        assertThat(left(flyback().drive(voltageMode(5).withControlLimits(low + LITTLE, high + room))))
                .isEqualTo(1);
        Protection none = Protection.none();
        assertThat(left(flyback().drive(voltageMode(5).withProtection(none.withCurrentLimit(peak * 1.01, 0)))))
                .isZero();
        assertThat(left(flyback().drive(voltageMode(5).withProtection(none.withCurrentLimit(peak * (1 - LITTLE), 0)))))
                .isEqualTo(1);
        double dutyCycle = steady.dutyCycle();
        assertThat(left(flyback().drive(voltageMode(5).withMaximumDutyCycle(dutyCycle + LITTLE))))
                .isZero();
        assertThat(left(flyback().drive(voltageMode(5).withMaximumDutyCycle(dutyCycle - LITTLE))))
                .isEqualTo(1);
    }

    /** Beyond the boundary of conduction another device acts next, and what else a design may be is not certain. */
    @Test
    void anotherOrderOfEventsIsLeftToTheEngine() {
        Converter sepic = usual(two(PowerStage.sepic()), 5).drive(Drive.fixedDuty(0.4, kilo(200)));
        List<StageValue> varied = List.of(StageValue.LOAD_RESISTANCE);
        StageSampler sampler = StageSampler.of(sepic, varied, FIGURES);
        double[] found = new double[FIGURES.size()];
        List<Conduction> engine = new ArrayList<>();
        for (double ohm = 10; ohm < 100; ohm += 5) {
            long before = sampler.leftToEngine();
            sampler.measure(new double[] {ohm}, found);
            ConverterSteadyState steady = sepic.withLoad(Load.resistor(ohm)).steadyState();
            compare(found, steady);
            engine.add(steady.conduction());
            assertThat(sampler.leftToEngine() > before)
                    .as("%s Ω", ohm)
                    .isEqualTo(steady.conduction() == Conduction.DISCONTINUOUS);
        }
        assertThat(engine).contains(Conduction.CONTINUOUS, Conduction.DISCONTINUOUS);
    }

    /** A capacitor across the rectifier of a transistor without resistance is charged at once as that turns on: energy is lost in no part. */
    @Test
    void aStateThatJumpsIsLeftToTheEngine() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 12)
                .switchPart("Q1", "in", "sw", 0)
                .rectifier("D1", Circuit.GROUND, "sw", 0.4, 0)
                .capacitor("C2", "sw", Circuit.GROUND, nano(2))
                .inductor("L1", "sw", "out", micro(22), milli(30))
                .capacitor("C1", "out", Circuit.GROUND, micro(47), milli(5))
                .resistor("R1", "out", Circuit.GROUND, 2.5)
                .build();
        Converter jumping = Converter.of(circuit)
                .input("V1")
                .output("out", Circuit.GROUND)
                .outputCapacitor("C1")
                .inductorCurrent("L1")
                .switchNode("sw")
                .drive(Drive.fixedDuty(0.45, kilo(200)));
        assertThat(left(jumping)).isEqualTo(1);
    }

    @Test
    void anOutputThatFallsWithTheDutyCycleIsLeftToTheEngine() {
        Converter sepic = usual(two(PowerStage.sepic()), 1).transistor(0.5).drive(Drive.fixedDuty(0.85, kilo(200)));
        ConverterSteadyState beyond = sepic.steadyState();
        ConverterSteadyState more = sepic.withDutyCycle(0.86).steadyState();
        double output = beyond.of(sepic.outputVoltage()).mean();
        assertThat(more.of(sepic.outputVoltage()).mean()).isLessThan(output);
        StageSampler sampler = StageSampler.holding(sepic, output, List.of(), FIGURES);
        double[] found = new double[FIGURES.size()];
        sampler.measure(sampler.nominal(), found);
        assertThat(sampler.leftToEngine()).isEqualTo(1);
        assertThat(found[FIGURES.indexOf(StageMeasurement.of(StageMeasurement.Measure.DUTY_CYCLE))])
                .isLessThan(0.8);
    }
}
