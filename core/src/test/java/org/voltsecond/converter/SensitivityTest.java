package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

class SensitivityTest {
    private static Converter lossy(Topology topology, Load load, double dutyCycle) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(load)
                .drive(Drive.fixedDuty(dutyCycle, kilo(300)));
    }

    static List<StageMeasurement> allFigures() {
        List<StageMeasurement> figures = new ArrayList<>();
        for (Measure measure : Measure.values()) {
            if (measure.needsSignal()) {
                for (StageSignal signal : StageSignal.values()) {
                    figures.add(StageMeasurement.of(measure, signal));
                }
            } else {
                figures.add(StageMeasurement.of(measure));
            }
        }
        return figures;
    }

    private static void compare(Converter converter) {
        SensitivityOracle.hold(converter.steadyState(), 0.02, 1e-13, 1e-9);
    }

    @Test
    void everyFigureByEveryValueInContinuousConduction() {
        for (Topology topology : PlainStages.ALL) {
            Converter converter = lossy(topology, Load.resistor(2.5), 0.45);
            assertThat(converter.steadyState().conduction()).isEqualTo(Conduction.CONTINUOUS);
            compare(converter);
        }
    }

    @Test
    void everyFigureByEveryValueInDiscontinuousConduction() {
        for (Topology topology : PlainStages.ALL) {
            Converter converter = lossy(topology, Load.resistor(100), 0.25);
            assertThat(converter.steadyState().conduction()).isEqualTo(Conduction.DISCONTINUOUS);
            compare(converter);
        }
    }

    @Test
    void everyFigureByEveryValueWithALoadOfConstantCurrent() {
        for (Topology topology : PlainStages.ALL) {
            compare(lossy(topology, Load.current(2), 0.45));
        }
    }

    @Test
    void everyFigureByEveryValueOfASynchronousStage() {
        for (Topology topology : PlainStages.ALL) {
            compare(lossy(topology, Load.resistor(8), 0.3).withSynchronousRectifier(milli(25)));
        }
    }

    private static Converter ideal(double ohm, double dutyCycle) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22))
                .outputCapacitor(micro(4700))
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(dutyCycle, kilo(300)));
    }

    private static double derivative(Converter converter, Measure measure, StageSignal signal, StageValue value) {
        return converter
                .steadyState()
                .sensitivities()
                .of(StageMeasurement.of(measure, signal))
                .withRespectTo(value);
    }

    /** Volt-seconds of the inductor balance: the mean output voltage is D V_in, whatever the ripple. */
    @Test
    void idealBuckFollowsItsDutyCycleAndItsInput() {
        Converter stage = ideal(2, 0.4);
        assertThat(derivative(stage, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, StageValue.DUTY_CYCLE))
                .isCloseTo(12, within(1e-10));
        assertThat(derivative(stage, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, StageValue.INPUT_VOLTAGE))
                .isCloseTo(0.4, within(1e-12));
        for (StageValue value : List.of(
                StageValue.INDUCTANCE, StageValue.CAPACITANCE, StageValue.LOAD_RESISTANCE, StageValue.FREQUENCY)) {
            double relative = derivative(stage, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, value) * value.in(stage);
            assertThat(relative).as("mean output voltage by %s", value).isCloseTo(0, within(1e-10));
        }
    }

    /**
     * The ripple is V (1 - D) T / L but for the ripple of the output voltage, which shares the order of (T^2 / LC): the
     * logarithmic derivatives by inductance and frequency are -1 up to that.
     */
    @Test
    void idealRippleFallsWithInductanceAndFrequency() {
        Converter stage = ideal(2, 0.4);
        double ripple = stage.steadyState().of(stage.inductorCurrent()).peakToPeak();
        double secondOrder = Math.pow(1 / kilo(300), 2) / (micro(22) * micro(4700));
        for (StageValue value : List.of(StageValue.INDUCTANCE, StageValue.FREQUENCY)) {
            double logarithmic = derivative(stage, Measure.PEAK_TO_PEAK, StageSignal.INDUCTOR_CURRENT, value)
                    * value.in(stage)
                    / ripple;
            assertThat(logarithmic).as("ripple by %s", value).isCloseTo(-1, within(secondOrder));
        }
        double byDuty = derivative(stage, Measure.PEAK_TO_PEAK, StageSignal.INDUCTOR_CURRENT, StageValue.DUTY_CYCLE);
        assertThat(byDuty * micro(22) * kilo(300) / 12).isCloseTo(1 - 2 * 0.4, within(secondOrder));
    }

    /**
     * In discontinuous conduction M = 2 / (1 + sqrt(1 + 4 K / D^2)) with K = 2 L f / R (R. W. Erickson, D. Maksimovic,
     * Fundamentals of Power Electronics, 2nd ed., eq. 5.29, from memory), up to the ripple of the output voltage.
     */
    @Test
    void idealDiscontinuousBuckFollowsTheTextbook() {
        double duty = 0.25;
        double ohm = 100;
        Converter stage = ideal(ohm, duty);
        double k = 2 * micro(22) * kilo(300) / ohm;
        double root = Math.sqrt(1 + 4 * k / (duty * duty));
        double ratio = 2 / (1 + root);
        double byRoot = -ratio * ratio / 2;
        double byK = byRoot * 2 / (duty * duty * root);
        double byDuty = byRoot * -4 * k / (duty * duty * duty * root);
        double flat = 1e-5;
        assertThat(derivative(stage, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, StageValue.INPUT_VOLTAGE))
                .isCloseTo(ratio, within(flat));
        assertThat(derivative(stage, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, StageValue.DUTY_CYCLE) / 12)
                .isCloseTo(byDuty, within(flat * Math.abs(byDuty)));
        assertThat(derivative(stage, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, StageValue.INDUCTANCE) / 12)
                .isCloseTo(byK * k / micro(22), within(flat * Math.abs(byK * k / micro(22))));
        assertThat(derivative(stage, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, StageValue.LOAD_RESISTANCE) / 12)
                .isCloseTo(-byK * k / ohm, within(flat * Math.abs(byK * k / ohm)));
    }

    @Test
    void aPartThatIsNotThereIsRefused() {
        Converter resistive = ideal(2, 0.4);
        assertThatThrownBy(
                        () -> derivative(resistive, Measure.MEAN, StageSignal.OUTPUT_VOLTAGE, StageValue.LOAD_CURRENT))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("load current")
                .hasMessageContaining("load resistance");
        assertThatThrownBy(
                        () -> resistive.steadyState().periodic().sensitivities().to(Parameter.inductance("C1")))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("inductance of C1");
    }
}
