package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Perturbation;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.Load;

/** Output impedance of a filter against the input impedance of the converter behind it. */
class SourceInteractionTest {
    private static final double FREQUENCY = kilo(300);
    private static final double L = micro(47);
    private static final double C = micro(4.7);
    private static final double R = milli(20);
    private static final double[] GRID = FrequencyResponse.decades(10, kilo(100), 20);

    private static PowerStage stage(InputFilter filter) {
        return PowerStage.buck()
                .input(12)
                .with(filter)
                .inductor(micro(22), 0)
                .outputCapacitor(micro(47), milli(20))
                .synchronousRectifier(0)
                .load(Load.resistor(1));
    }

    private static Converter regulated(InputFilter filter, double gain) {
        Compensator compensator = Compensator.type3(gain, kilo(4), kilo(5), kilo(100), kilo(150));
        return stage(filter)
                .drive(VoltageMode.of(FREQUENCY, 1, 0.2, compensator).withRamp(0, 1));
    }

    private static InputFilter weak() {
        return new InputFilter(L, R, C, null);
    }

    private static SourceInteraction of(Converter converter) {
        return SourceInteraction.of(converter.steadyState(), GRID).get();
    }

    /** (R + j w L) / (1 - w^2 L C + j w R C); at the resonance R0 sqrt(R^2 + R0^2) / R. */
    @Test
    void theFiltersImpedanceIsThatOfItsParts() {
        FrequencyResponse source =
                of(stage(weak()).drive(Drive.fixedDuty(0.4, FREQUENCY))).sourceImpedance();
        for (int i = 0; i < GRID.length; i++) {
            double omega = 2 * Math.PI * GRID[i];
            Complex expected = new Complex(R, omega * L).divide(new Complex(1 - omega * omega * L * C, omega * R * C));
            assertThat(source.value(i).subtract(expected).magnitude()).isLessThan(1e-12 * expected.magnitude());
        }
        double characteristic = Math.sqrt(L / C);
        assertThat(source.peak().magnitude())
                .isCloseTo(characteristic * Math.hypot(characteristic, R) / R, within(1e-8 * L / C / R));
    }

    /** What the switching model itself sees of the filter: a load step moves the voltage at the stage by the current it draws there. */
    @Test
    void theSwitchingModelSeesTheSameFilter() {
        Converter converter = regulated(weak().withDamping(3, micro(22)), 4000);
        ConverterSteadyState steady = converter.steadyState();
        FrequencyResponse seen = steady.smallSignal()
                .ofCircuit()
                .ratio(
                        Perturbation.source("I1"),
                        converter
                                .driven()
                                .nodeVoltage(converter.roles().stageInput().orElseThrow()),
                        converter.inputCurrent(),
                        GRID);
        FrequencyResponse source = of(converter).sourceImpedance();
        for (int i = 0; i < GRID.length; i++) {
            assertThat(seen.value(i).add(source.value(i)).magnitude())
                    .as(GRID[i] + " Hz")
                    .isLessThan(1e-8 * source.magnitude(i));
        }
    }

    /** A divider: v = v1 H Zi / (Zi + Zo), where H = Zo / (R + j w L) is the filter with nothing behind it. */
    @Test
    void bothImpedancesMakeTheVoltageAtTheStage() {
        Converter converter = regulated(weak(), 4000);
        ConverterSteadyState steady = converter.steadyState();
        SourceInteraction found = of(converter);
        FrequencyResponse seen = steady.smallSignal()
                .ofCircuit()
                .response(
                        Perturbation.source("V1"),
                        converter
                                .driven()
                                .nodeVoltage(converter.roles().stageInput().orElseThrow()),
                        GRID);
        FrequencyResponse input = found.closedLoop().orElseThrow();
        for (int i = 0; i < GRID.length; i++) {
            Complex source = found.sourceImpedance().value(i);
            Complex bare = source.divide(new Complex(R, 2 * Math.PI * GRID[i] * L));
            Complex expected =
                    bare.multiply(input.value(i)).divide(input.value(i).add(source));
            assertThat(seen.value(i).subtract(expected).magnitude()).isLessThan(1e-8 * expected.magnitude());
        }
    }

    /** Far below everything a lossless buck stage is R / D^2 at a fixed duty cycle, and -R / D^2 while it is regulated. */
    @Test
    void regulationMakesTheInputANegativeResistance() {
        Converter converter = regulated(new InputFilter(micro(1), 0, micro(100), null), 4000);
        ConverterSteadyState steady = converter.steadyState();
        double duty = steady.dutyCycle();
        SourceInteraction found = SourceInteraction.of(steady, 0.01, 0.02).get();
        double expected = 1 / (duty * duty);
        assertThat(found.closedLoop().orElseThrow().value(0).real()).isCloseTo(-expected, within(1e-3 * expected));
        assertThat(found.openLoop().value(0).real()).isCloseTo(expected, within(1e-3 * expected));
        assertThat(found.openLoop().phase(0)).isCloseTo(0, within(0.1));
        assertThat(Math.abs(found.closedLoop().orElseThrow().phase(0))).isCloseTo(180, within(0.1));
    }

    /**
     * A control voltage that is held is a duty cycle that is held, but for the ripple that the compensator lets through; far below half
     * the switching frequency, where the side bands of the two begin to differ.
     */
    @Test
    void theOpenLoopIsTheStageAtAFixedDutyCycle() {
        Converter converter = regulated(weak().withDamping(3, micro(22)), 4000);
        ConverterSteadyState steady = converter.steadyState();
        Converter fixed = stage(weak().withDamping(3, micro(22))).drive(Drive.fixedDuty(steady.dutyCycle(), FREQUENCY));
        FrequencyResponse open = of(converter).openLoop();
        FrequencyResponse held = of(fixed).openLoop();
        assertThat(of(fixed).closedLoop()).isEmpty();
        for (int i = 0; GRID[i] < FREQUENCY / 10; i++) {
            assertThat(open.value(i).subtract(held.value(i)).magnitude())
                    .as(GRID[i] + " Hz")
                    .isLessThan(0.02 * held.magnitude(i));
        }
    }

    @Test
    void aFilterThatMakesARegulatedConverterOscillateIsTold() {
        Converter unstable = regulated(weak(), 40_000);
        assertThat(unstable.steadyState().periodic().isStable()).isFalse();
        assertThat(of(unstable).isMet()).isFalse();
        assertThat(of(unstable).closedLoopSeparation().orElseThrow().decibels()).isNegative();
        double resonance = 1 / (2 * Math.PI * Math.sqrt(L * C));
        assertThat(of(unstable).closedLoopSeparation().orElseThrow().frequency())
                .isCloseTo(resonance, within(500.0));
        Converter damped = unstable.withAcrossInput("CD", micro(100), 2);
        assertThat(damped.steadyState().periodic().isStable()).isTrue();
        assertThat(of(damped).closedLoopSeparation().orElseThrow().decibels()).isPositive();
    }

    @Test
    void withoutAnythingBeforeTheStageThereIsNoInteraction() {
        Converter plain = PowerStage.buck()
                .input(12)
                .inductor(micro(22))
                .outputCapacitor(micro(47))
                .load(Load.resistor(1))
                .drive(Drive.fixedDuty(0.4, FREQUENCY));
        assertThat(SourceInteraction.of(plain.steadyState(), GRID).exists()).isFalse();
    }
}
