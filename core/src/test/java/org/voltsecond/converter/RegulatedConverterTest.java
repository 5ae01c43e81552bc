package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/** Ready-made stages under a regulator. */
class RegulatedConverterTest {
    private static final double FREQUENCY = 300e3;

    /** v_c = y + 0.05 x with y' = 1500 e and x' = (e - x) 2 pi 100 kHz, as a zero and a pole. */
    private static VoltageMode voltageMode() {
        double zero = 1 / (0.05 / 1500 + 1 / (2 * Math.PI * 100e3)) / (2 * Math.PI);
        return VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(1500, zero, 100e3))
                .withMaximumDutyCycle(0.95);
    }

    private static PowerStage stage(Topology topology) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(80e-3)
                .bodyDiode(0.8, 20e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(2.5));
    }

    private static PowerStage synchronousBuck() {
        return stage(Topology.BUCK).synchronousRectifier(20e-3, 0.7, 20e-3);
    }

    /** Values of 40 digits, see the test of the same case on a custom circuit. */
    @Test
    void aLoadStepReachesTheStatesOfFortyDigits() {
        Converter rail = stage(Topology.BUCK).drive(voltageMode());
        ConverterTransient run = rail.startUp(
                15e-3, Change.at(5e-3).load(Load.resistor(25)), Change.at(10e-3).load(Load.resistor(2.5)));
        assertThat(run.finalInductorCurrent()).isCloseTo(1.7698645295713536, within(1e-12));
        assertThat(run.finalCapacitorVoltage()).isCloseTo(4.9997033550151915, within(1e-12));
        assertThat(run.audit().residual()).isLessThan(1e-12);
        Waveform control = run.of(rail.controlVoltage());
        assertThat(control.at(15e-3)).isBetween(0.4, 0.5);
        Waveform ramp = run.of(rail.ramp());
        assertThat(ramp.minimum()).isCloseTo(0, within(1e-12));
        assertThat(ramp.maximum()).isCloseTo(0.95, within(0.051));
    }

    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void everyStageIsHeldAtItsReference(Topology topology) {
        double divider = topology == Topology.BUCK ? 0.2 : 1.0 / 18;
        VoltageMode slow = VoltageMode.of(FREQUENCY, 1, divider, Compensator.type2(30, 2000, 100e3))
                .withMaximumDutyCycle(0.9)
                .withSoftStart(2e-3);
        Converter rail = stage(topology).load(Load.resistor(20)).drive(slow);
        ConverterSteadyState steady = rail.steadyState();
        double expected = (topology == Topology.INVERTING_BUCK_BOOST ? -1 : 1) / divider;
        assertThat(steady.of(rail.outputVoltage()).mean()).isCloseTo(expected, within(1e-10 * Math.abs(expected)));
        assertThat(steady.of(rail.errorVoltage()).mean()).isCloseTo(0, within(1e-12));
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.audit().residual()).isLessThan(1e-11);
    }

    /** The soft start is over at once where a run begins in the steady state. */
    @Test
    void aRunFromTheSteadyStateStaysThere() {
        Converter rail = stage(Topology.BUCK)
                .drive(voltageMode()
                        .withSoftStart(1e-3)
                        .withProtection(Protection.none()
                                .withCurrentLimit(4, 100e-9)
                                .withHiccup(3, 1e-3)
                                .withUndervoltageLockout(8, 9)));
        ConverterSteadyState steady = rail.steadyState();
        ConverterTransient run = rail.transientFromSteadyState(100 / FREQUENCY);
        assertThat(run.finalCapacitorVoltage()).isCloseTo(steady.periodic().state()[1], within(1e-11));
        assertThat(run.finalInductorCurrent()).isCloseTo(steady.periodic().state()[0], within(1e-10));
    }

    /** Without a body diode a search from rest meets states that the stage cannot run from. */
    @Test
    void theStartUpLeadsToTheSteadyStateToo() {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(20))
                .drive(VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(30, 2000, 100e3))
                        .withSoftStart(20e-3));
        assertThat(rail.steadyState().of(rail.outputVoltage()).mean()).isCloseTo(5, within(1e-10));
    }

    @Test
    void aStepOfTheReferenceMovesTheOutput() {
        Converter rail = stage(Topology.BUCK).drive(voltageMode());
        ConverterTransient run =
                rail.transientFromSteadyState(8e-3, Change.at(1e-3).reference(0.66));
        double end = run.finalTime();
        assertThat(run.of(rail.outputVoltage())
                        .between(end - 30 / FREQUENCY, end)
                        .mean())
                .isCloseTo(3.3, within(1e-4));
        assertThat(run.after(1).steadyState().of(rail.outputVoltage()).mean()).isCloseTo(3.3, within(1e-11));
    }

    @ParameterizedTest
    @ValueSource(strings = {"buck", "inverting-buck-boost"})
    void aLoadStepWithASlewRateIsARamp(Topology topology) {
        double sign = topology == Topology.BUCK ? 1 : -1;
        VoltageMode regulator = VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(30, 2000, 100e3))
                .withMaximumDutyCycle(0.9);
        Converter rail = stage(topology).load(Load.current(0.5)).drive(regulator);
        ConverterTransient run = rail.transientFromSteadyState(
                3e-3,
                Change.at(1e-3).load(Load.current(1.5), 1e4),
                Change.at(1.05e-3).input(13),
                Change.at(2e-3).load(Load.current(0.5), 1e5));
        Waveform current = run.of(rail.loadCurrent()).times(sign);
        assertThat(current.at(0.99e-3)).isCloseTo(0.5, within(1e-12));
        assertThat(current.at(1.05e-3)).isCloseTo(1.0, within(1e-12));
        assertThat(current.at(1.075e-3)).isCloseTo(1.25, within(1e-12));
        assertThat(current.at(1.5e-3)).isCloseTo(1.5, within(1e-12));
        assertThat(current.at(2.005e-3)).isCloseTo(1.0, within(1e-10));
        assertThat(current.at(3e-3)).isCloseTo(0.5, within(1e-12));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    @Test
    void aSlewRateNeedsConstantCurrents() {
        assertThatThrownBy(() -> Change.at(0).load(Load.resistor(2), 1e4)).hasMessageContaining("constant current");
        assertThatThrownBy(() -> Change.at(0).load(Load.current(2), Double.NaN)).hasMessageContaining("slew rate");
        Converter rail = stage(Topology.BUCK).drive(voltageMode());
        assertThatThrownBy(
                        () -> rail.transientFromSteadyState(1e-3, Change.at(0).load(Load.current(2), 1e4)))
                .hasMessageContaining("2.5 Ω before");
    }

    /** No pulse goes beyond the limit but by what the current rises within the blanking time: V/L times that time. */
    @Test
    void aShortCircuitIsLimitedAndReleased() {
        double blanking = 100e-9;
        Converter rail = stage(Topology.BUCK)
                .drive(voltageMode()
                        .withControlLimits(0, 1)
                        .withSoftStart(1e-3)
                        .withProtection(
                                Protection.none().withCurrentLimit(4, blanking).withHiccup(8, 2e-3)));
        ConverterTransient run = rail.transientFromSteadyState(
                12e-3, Change.at(1e-3).shortCircuit(10e-3), Change.at(4e-3).load(Load.resistor(2.5)));
        Waveform current = run.of(rail.inductorCurrent());
        assertThat(current.maximum()).isBetween(4.0 - 1e-9, 4 + 12 / 22e-6 * blanking);
        Waveform paused = current.between(2e-3, 2.9e-3);
        assertThat(paused.maximum()).isLessThan(0.01);
        assertThat(run.of(rail.outputVoltage()).at(12e-3)).isCloseTo(5, within(0.01));
        assertThat(run.changes().get(0).description()).isEqualTo("short circuit of 10 mΩ");
    }

    @Test
    void aChargedOutputIsNotDischargedWithDiodeEmulation() {
        Protection emulation =
                Protection.none().withSynchronousRectification(Rectification.DIODE_EMULATION_AT_START, 30e-9);
        Converter rail = synchronousBuck()
                .load(Load.resistor(1e3))
                .drive(voltageMode().withSoftStart(2e-3).withProtection(emulation));
        ConverterTransient run = rail.startUpFrom(3, 1e-3);
        assertThat(run.of(rail.outputVoltage()).at(0)).isCloseTo(3, within(0.01));
        assertThat(run.of(rail.inductorCurrent()).minimum()).isGreaterThan(-1e-9);
        assertThat(run.of(rail.outputVoltage()).minimum()).isGreaterThan(2.9);
    }

    @Test
    void deadTimeIsCarriedByTheBodyDiode() {
        Protection dead = Protection.none().withSynchronousRectification(Rectification.FORCED, 50e-9);
        Converter rail = synchronousBuck().drive(voltageMode().withProtection(dead));
        ConverterSteadyState steady = rail.steadyState();
        assertThat(steady.idleTime()).isZero();
        assertThat(steady.onTime() + steady.offTime()).isCloseTo(steady.period(), within(1e-18));
        assertThat(steady.periodic().timeIn(phase -> rail.driven().conducts(phase, "D3")))
                .isCloseTo(100e-9, within(1e-15));
        assertThat(steady.of(rail.rectifierVoltage()).maximum()).isGreaterThan(0.7);
        assertThat(steady.losses().rectifier()).isGreaterThan(0.7 * 1.5 * 100e-9 * FREQUENCY);
        assertThat(steady.audit().residual()).isLessThan(1e-12);
    }

    @Test
    void faultsAreToldTogether() {
        Protection dead = Protection.none()
                .withSynchronousRectification(Rectification.FORCED, 50e-9)
                .withMinimumOnTime(1e-3);
        PowerStage stage = stage(Topology.BUCK).input(-1).synchronousRectifier(20e-3);
        assertThatThrownBy(() -> stage.drive(voltageMode().withReference(-1).withProtection(dead)))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("input: voltage must be more than 0 V")
                .hasMessageContaining("regulator: the reference must be more than 0 and finite but was -1 V")
                .hasMessageContaining("body diode of the synchronous rectifier is missing");
        assertThatThrownBy(() -> stage(Topology.BUCK).drive(voltageMode().withProtection(dead)))
                .hasMessageContaining("the minimum on-time must be below the switching period");
    }

    @Test
    void fixedAndRegulatedAreNotMixedUp() {
        Converter regulated = stage(Topology.BUCK).drive(voltageMode());
        Converter fixed = regulated.withDrive(Drive.fixedDuty(0.45, FREQUENCY));
        assertThat(regulated.isRegulated()).isTrue();
        assertThat(fixed.isRegulated()).isFalse();
        assertThatThrownBy(regulated::drive).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> regulated.withDutyCycle(0.3)).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> fixed.withReference(1)).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(fixed::controlVoltage).isInstanceOf(IllegalStateException.class);
        assertThat(regulated).hasToString("buck converter from 12 V, load 2.5 Ω, regulated by VoltageMode");
    }

    /** Without a compensating slope every second pulse differs above a duty cycle of one half: the multiplier is -D/(1-D). */
    @Test
    void anUnstableSteadyStateIsFoundToo() {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(10e-3)
                .load(Load.resistor(4))
                .drive(CurrentMode.peak(FREQUENCY, 2.2));
        ConverterSteadyState steady = rail.steadyState();
        double duty = steady.dutyCycle();
        assertThat(duty).isGreaterThan(0.5);
        assertThat(steady.periodic().isStable()).isFalse();
        assertThat(steady.periodic().multipliers().get(0).real()).isCloseTo(-duty / (1 - duty), within(1e-3));
    }

    @Test
    void aStateOfTheWrongLengthIsRefused() {
        Converter rail = stage(Topology.BUCK).drive(voltageMode());
        assertThatThrownBy(() -> rail.transientFrom(new double[] {0, 0, 0}, 1e-3, List.of()))
                .hasMessageContaining("2 entries");
    }
}
