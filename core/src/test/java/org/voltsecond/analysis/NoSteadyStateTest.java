package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.NoSteadyStateException.Reason;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.Load;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.reference.PublishedBuck;

/** What is said where there is no steady state. */
class NoSteadyStateTest {
    private static NoSteadyStateException failure(Converter converter) {
        return catchThrowableOfType(NoSteadyStateException.class, converter::steadyState);
    }

    /** What becomes of a circuit after long settling. */
    private static NoSteadyStateException inTheLongRun(DrivenCircuit circuit, double[] start, int settling) {
        double[] settled = PeriodMap.of(circuit.law(), settling).apply(start);
        return LongRun.of(PeriodMap.of(circuit.law(), 1), settled, circuit.law().scale())
                .failure("1 s", "");
    }

    @Test
    void anInductorAcrossTheSourceDrifts() {
        Converter boost = PowerStage.boost()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6)
                .load(Load.resistor(10))
                .drive(Drive.fixedDuty(1, 300e3));
        NoSteadyStateException failure = failure(boost);
        assertThat(failure.reason()).isEqualTo(Reason.DRIFTS);
        assertThat(failure).hasMessageContaining("drifts by the same amount");
    }

    @Test
    void aRegulatorThatNoLongerSwitchesStops() {
        Converter rail = PowerStage.buck()
                .input(4)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .load(Load.resistor(2.5))
                .drive(Hysteretic.voltageBand(300e3, 1, 0.2, 10e-3));
        assertThat(failure(rail).reason()).isEqualTo(Reason.STOPS);
    }

    @Test
    void aRippleThatDoesNotFitTheClockHasNoCommonPeriod() {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, 300e3))
                .withInputRipple(1, 100 * Math.PI);
        assertThat(failure(rail).reason()).isEqualTo(Reason.NO_COMMON_PERIOD);
    }

    @Test
    void aDoubledPeriodRepeatsLater() {
        NoSteadyStateException failure = inTheLongRun(
                PublishedBuck.at(31.3).driven(), PublishedBuck.at(31.3).driven().restState(), 4000);
        assertThat(failure.reason()).isEqualTo(Reason.REPEATS_LATER);
        assertThat(failure).hasMessageContaining("only after 4 times as long");
    }

    @Test
    void chaosWanders() {
        NoSteadyStateException failure = inTheLongRun(
                PublishedBuck.at(33).driven(), PublishedBuck.at(33).driven().restState(), 1000);
        assertThat(failure.reason()).isEqualTo(Reason.WANDERS);
    }

    /** A capacitor that its own voltage charges. */
    @Test
    void whatFeedsItselfGrows() {
        Circuit circuit = Circuit.builder()
                .capacitor("C1", "a", Circuit.GROUND, 1, 0)
                .part(new Part.CurrentByVoltage("G1", Circuit.GROUND, "a", "a", Circuit.GROUND, 0.1))
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(1).build();
        assertThat(inTheLongRun(driven, new double[] {1}, 1).reason()).isEqualTo(Reason.GROWS);
    }
}
