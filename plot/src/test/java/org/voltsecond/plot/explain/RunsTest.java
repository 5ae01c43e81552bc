package org.voltsecond.plot.explain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.StageValue;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Pictures of load steps, pulses and families, by their numbers. */
class RunsTest {
    private static ConverterTransient doubled() {
        return Stages.buck().transientFromSteadyState(1e-3, Change.at(0.1e-3).load(Load.resistor(2.5)));
    }

    /** The charge that the capacitor gives is its capacitance times what its inner voltage, behind the series resistance, falls. */
    @Test
    void missingChargeIsWhatTheCapacitorLoses() {
        ConverterTransient run = doubled();
        LoadStep step = LoadStep.of(run, 0);
        Converter converter = Stages.buck();
        Waveform inner = run.of(converter.outputVoltage())
                .minus(run.of(converter.outputCapacitorCurrent().times(5e-3))
                        .as("drop", org.voltsecond.units.Unit.VOLT));
        double fall = inner.at(step.time()) - inner.at(step.until());
        assertThat(step.charge()).isCloseTo(100e-6 * fall, within(1e-9 * step.charge()));
        assertThat(step.charge()).isPositive();
        double shaded = step.load()
                .minus(step.delivered())
                .between(step.time(), step.until())
                .integral();
        assertThat(shaded).isCloseTo(step.charge(), within(1e-9 * step.charge()));
        assertThat(inner.between(0.1e-3, 1e-3).minimum()).isCloseTo(inner.at(step.until()), within(1e-9));
        assertThat(step.picture("Step").svg()).contains("missing", "load changes", "caught up");
    }

    @Test
    void aLoadThatLetsGoChargesTheCapacitor() {
        ConverterTransient run =
                Stages.buck().transientFromSteadyState(1e-3, Change.at(0.1e-3).load(Load.resistor(20)));
        assertThat(LoadStep.of(run, 0).charge()).isNegative();
        assertThat(LoadStep.of(run, 0).picture("Step").svg()).contains("too much");
    }

    private static ConverterTransient regulated() {
        return Stages.buck()
                .withRegulator(VoltageMode.of(200e3, 1, 0.2, Compensator.type2(15e3, 4557, 80e3))
                        .withRamp(0, 1)
                        .withMaximumDutyCycle(0.95))
                .transientFromSteadyState(0.2e-3, Change.at(0.05e-3).load(Load.resistor(1)));
    }

    /** Where the control voltage cuts the ramp the pulse ends: with a ramp of 1 V its level is the width over the period. */
    @Test
    void pulsesEndWhereTheControlVoltageCutsTheRamp() {
        ConverterTransient run = regulated();
        Pulses pulses = Pulses.around(run, 0, 8);
        assertThat(pulses.widths()).hasSize(9);
        Waveform control = run.of(run.after(0).controlVoltage());
        for (Pulses.Pulse pulse : pulses.widths()) {
            double end = pulse.start() + pulse.width();
            assertThat(control.at(end)).isCloseTo(pulse.width() / 5e-6, within(1e-9));
        }
        assertThat(pulses.widths().get(8).width())
                .isGreaterThan(1.02 * pulses.widths().get(0).width());
        assertThat(pulses.picture("Pulses").svg()).contains("control voltage", "ramp", "gate", "longest ");
    }

    @Test
    void currentModeAndHysteresisShowWhatTheyCompare() {
        Converter peak = Stages.buck()
                .withRegulator(
                        CurrentMode.of(CurrentMode.Extreme.PEAK, 200e3, 1).withSlopeCompensation(20e3));
        ConverterTransient run =
                peak.transientFromSteadyState(0.1e-3, Change.at(0.05e-3).load(Load.resistor(3)));
        assertThat(Pulses.around(run, 0, 5).picture("Peak").svg()).contains("sensed current with slope");
        Converter band = Stages.buck().withRegulator(Hysteretic.voltageBand(200e3, 1, 0.2, 0.3e-3));
        ConverterTransient free = band.startUp(0.3e-3, Change.at(0.2e-3).load(Load.resistor(3)));
        assertThat(Pulses.around(free, 0, 5).picture("Band").svg()).contains("turns on above", "turns off below");
    }

    @Test
    void pulsesOfAFixedDriveAreRefused() {
        assertThatThrownBy(() -> Pulses.around(doubled(), 0, 5))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("regulated");
    }

    /** In continuous conduction the ripple goes with one over the inductance, but for the losses. */
    @Test
    void membersOfAFamilyDifferInOneValue() {
        Family family = Family.of(Stages.buck(), StageValue.INDUCTANCE, 22e-6, 44e-6, 88e-6);
        List<Family.Member> members = family.members();
        assertThat(members.get(0).inductorRipple()).isCloseTo(4 * members.get(2).inductorRipple(), within(0.01));
        assertThat(members.get(0).outputRipple()).isGreaterThan(members.get(1).outputRipple());
        assertThat(family.picture("Three").svg()).contains("22.0 µH", "44.0 µH", "88.0 µH", "inductance alone");
        assertThatThrownBy(() -> Family.of(Stages.buck(), StageValue.INDUCTANCE))
                .hasMessageContaining("from 1 to 7");
    }

    @Test
    void sharesOfTheRippleAddUpAtEveryInstant() {
        ConverterSteadyState steady = Stages.buck().steadyState();
        RippleShares shares = RippleShares.of(steady);
        double current = steady.of(steady.converter().inductorCurrent()).peakToPeak();
        // 5 mΩ beside a load of 5 Ω: of the ripple current one part in a thousand goes into the load
        assertThat(shares.resistive().peakToPeak()).isCloseTo(5e-3 * current, within(1.1e-3 * 5e-3 * current));
        // triangle of charge: ripple / (8 f C); R. W. Erickson, D. Maksimovic, 3rd ed., section 2.5, from memory
        double triangle = current / (8 * 200e3 * 100e-6);
        assertThat(shares.capacitive().peakToPeak()).isCloseTo(triangle, within(0.01 * triangle));
        for (double time : new double[] {0.3e-6, 2.2e-6, 4.9e-6}) {
            assertThat(shares.capacitive().at(time) + shares.resistive().at(time))
                    .isCloseTo(shares.whole().at(time), within(1e-12));
        }
        assertThat(shares.picture("Ripple").svg()).contains("by the charge", "by the series resistance");
    }
}
