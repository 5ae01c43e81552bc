package org.voltsecond.plot.explain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.ConversionRatio;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

class ConversionCurveTest {
    @Test
    void lossesOfABoostStageTurnItOver() {
        ConversionCurve curve = ConversionCurve.of(Stages.boost().steadyState(), 30);
        ConversionCurve.Point top = curve.maximum().orElseThrow();
        assertThat(curve.loads().get(0).ratios()).allMatch(ratio -> ratio <= top.ratio());
        for (double duty : new double[] {top.dutyCycle() - 0.01, top.dutyCycle() + 0.01}) {
            Converter beside = Stages.boost().withDutyCycle(duty);
            double output = beside.steadyState().of(beside.outputVoltage()).mean();
            assertThat(output / 12).isLessThan(top.ratio());
        }
    }

    @Test
    void ofIdealPartsAndLightLoadIsTheClosedForm() {
        Converter ideal = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(10e-3)
                .load(Load.resistor(2))
                .drive(org.voltsecond.control.Drive.fixedDuty(0.4, 200e3));
        ConversionCurve curve = ConversionCurve.of(ideal.steadyState(), 20, 50);
        assertThat(curve.loads().get(1).resistance()).isCloseTo(100, within(1e-3));
        double k = ConversionRatio.parameterK(22e-6, curve.loads().get(1).resistance(), 5e-6);
        for (int i = 0; i < 20; i++) {
            double duty = curve.dutyCycles().get(i);
            assertThat(curve.loads().get(0).ratios().get(i))
                    .isCloseTo(curve.ideal().get(i), within(1e-4));
            assertThat(curve.loads().get(1).ratios().get(i))
                    .isCloseTo(ConversionRatio.of(Topology.BUCK, duty, k), within(1e-3));
        }
        assertThat(curve.maximum()).isEmpty();
    }

    @Test
    void aRegulatedStageIsThatOfItsPulses() {
        Converter regulated = Stages.buck()
                .withRegulator(VoltageMode.of(200e3, 1, 0.2, Compensator.type2(1500, 4557, 100e3))
                        .withRamp(0, 1)
                        .withMaximumDutyCycle(0.95));
        ConversionCurve curve = ConversionCurve.of(regulated.steadyState(), 5);
        Converter open = Stages.buck().withDutyCycle(curve.design().dutyCycle());
        assertThat(curve.design().ratio())
                .isCloseTo(open.steadyState().of(open.outputVoltage()).mean() / 12, within(1e-6));
    }

    @Test
    void thePictureMarksDesignAndMaximum() {
        ConversionCurve curve = ConversionCurve.of(Stages.boost().steadyState(), 20, 50);
        assertThat(curve.picture("Boost").svg()).contains("design: ", "turns over at ", "at 250 Ω", "ideal");
    }

    @Test
    void oneDutyCycleIsNoCurve() {
        assertThatThrownBy(() -> ConversionCurve.of(Stages.buck().steadyState(), 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("at least 2");
    }
}
