package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.NoSteadyStateException.Reason;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Protection;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.reference.PublishedBuck;
import org.voltsecond.stage.Load;

/** What is said where there is no steady state. */
class NoSteadyStateTest {
    private static NoSteadyStateException failure(Converter converter) {
        return catchThrowableOfType(NoSteadyStateException.class, converter::steadyState);
    }

    /** What becomes of a circuit after long settling. */
    private static NoSteadyStateException inTheLongRun(DrivenCircuit circuit, double[] start, int settling) {
        double[] settled = PeriodMap.of(circuit.law(), settling).apply(start);
        return LongRun.of(circuit, 1, settled).failure("1 s", "");
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

    /** The textbook's converter in chaos: some periods pass without a pulse, in no order. */
    @Test
    void chaosThatLeavesPulsesOut() {
        NoSteadyStateException failure = inTheLongRun(
                PublishedBuck.at(33).driven(), PublishedBuck.at(33).driven().restState(), 1000);
        assertThat(failure.reason()).isEqualTo(Reason.SKIPS_PULSES);
        assertThat(failure).hasMessageContaining("had one), and the state does not repeat");
    }

    /** Peak current mode far beyond one half of the period and without slope: every period has a pulse, of no order. */
    @Test
    void chaosWanders() {
        DrivenCircuit boost = PowerStage.boost()
                .input(10)
                .inductor(1e-3)
                .outputCapacitor(12e-6)
                .load(Load.resistor(20))
                .drive(CurrentMode.peak(10e3, 5))
                .driven();
        NoSteadyStateException failure = inTheLongRun(boost, boost.restState(), 1000);
        assertThat(failure.reason()).isEqualTo(Reason.WANDERS);
        assertThat(failure).hasMessageContaining("and small differences grow ").hasMessageContaining("-fold");
    }

    /** After 100 periods, where one time constant of load and capacitor lasts 350. */
    @Test
    void slowSettlingIsNoChaos() {
        Converter slow = logicRail().outputCapacitor(470e-6, 5e-3).drive(Drive.fixedDuty(0.4, 300e3));
        NoSteadyStateException failure =
                inTheLongRun(slow.driven(), slow.driven().restState(), 100);
        assertThat(failure.reason()).isEqualTo(Reason.TAKES_LONG);
        assertThat(failure).hasMessageContaining("this is no chaos: it settles too slowly");
    }

    /** A capacitor that its own voltage charges. */
    @Test
    void whatFeedsItselfGrows() {
        Circuit circuit = Circuit.builder()
                .capacitor("C1", "a", Circuit.GROUND, 1, 0)
                .part(new ControlledSource.CurrentByVoltage("G1", Circuit.GROUND, "a", "a", Circuit.GROUND, 0.1))
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(1).build();
        assertThat(inTheLongRun(driven, new double[] {1}, 1).reason()).isEqualTo(Reason.GROWS);
    }

    private static PowerStage logicRail() {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(80e-3)
                .bodyDiode(0.8, 0)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(2.5));
    }

    private static VoltageMode voltageMode() {
        return VoltageMode.of(300e3, 1, 0.2, Compensator.type3(36000, 3500, 3500, 120e3, 150e3))
                .withControlLimits(0, 1)
                .withMaximumDutyCycle(0.95)
                .withSoftStart(2e-3);
    }

    /** The orbit at the current limit is none where a hiccup ends it: what repeats goes from one start to the next. */
    @Test
    void anOverloadHiccups() {
        Protection limit = Protection.none().withCurrentLimit(4, 100e-9);
        PowerStage shorted = logicRail().load(Load.resistor(10e-3));
        Converter hiccups = shorted.drive(voltageMode().withProtection(limit.withHiccup(8, 1e-3)));
        assertThat(hiccups.steadyState().period()).isGreaterThan(1e-3);
        Converter limited = shorted.drive(voltageMode().withProtection(limit));
        assertThat(limited.steadyState().of(limited.inductorCurrent()).maximum())
                .isCloseTo(4.0, within(0.1));
    }

    /** At its limits the control voltage rests, and the longest pulse is the steady state. */
    @Test
    void aTargetOutOfReachIsHeldAtTheLongestPulse() {
        Converter far = logicRail().drive(voltageMode().withReference(3));
        assertThat(far.steadyState().dutyCycle()).isCloseTo(0.95, within(1e-12));
        assertThat(far.steadyState().periodic().isStable()).isTrue();
    }

    /** Below its start voltage a regulator leaves all switches open. */
    @Test
    void aLockedOutRegulatorRests() {
        Converter rail = logicRail()
                .input(7.2)
                .drive(voltageMode().withProtection(Protection.none().withUndervoltageLockout(8, 8.8)));
        assertThat(rail.steadyState().of(rail.outputVoltage()).maximum()).isZero();
        assertThat(rail.steadyState().onTime()).isZero();
        assertThat(rail.steadyState().periodic().isStable()).isTrue();
    }
}
