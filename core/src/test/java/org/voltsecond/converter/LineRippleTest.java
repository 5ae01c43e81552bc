package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** A sine on the line. */
class LineRippleTest {
    private static final double FREQUENCY = 300e3;

    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .synchronousRectifier(20e-3)
                .transistor(20e-3)
                .load(Load.resistor(2.5));
    }

    /** The states of the sine come back to themselves, whatever the stage does: they tell nothing of its stability. */
    @Test
    void aStableStageIsStableUnderARippleToo() {
        Converter plain = stage().drive(Drive.fixedDuty(0.45, FREQUENCY));
        Converter rippled = plain.withInputRipple(0.5, FREQUENCY / 30);
        ConverterSteadyState steady = rippled.steadyState();
        assertThat(steady.period()).isCloseTo(30 / FREQUENCY, within(1e-18));
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.periodic().multipliers()).hasSize(2);
        // without diodes the ripple moves no instant of switching: thirty periods one after the other
        Complex one = plain.steadyState().periodic().multipliers().get(0);
        Complex thirty = steady.periodic().multipliers().get(0);
        assertThat(thirty.magnitude()).isCloseTo(Math.pow(one.magnitude(), 30), within(1e-10));
    }

    /**
     * A stage without diodes is linear in the input voltage once its switching is given: the mean stays and the ripple adds,
     * a ripple far below the resonance in the ratio of the two.
     */
    @Test
    void aSlowRippleGoesToTheOutputAsTheConversionRatio() {
        Converter plain = stage().drive(Drive.fixedDuty(0.45, FREQUENCY));
        Converter rippled = plain.withInputRipple(0.6, 100);
        ConverterSteadyState still = plain.steadyState();
        ConverterSteadyState steady = rippled.steadyState();
        double level = still.of(plain.outputVoltage()).mean();
        assertThat(steady.period()).isCloseTo(10e-3, within(1e-15));
        Waveform output = steady.of(rippled.outputVoltage());
        assertThat(output.mean()).isCloseTo(level, within(1e-9));
        double ripple =
                output.between(2.5e-3 - 5 / FREQUENCY, 2.5e-3 + 5 / FREQUENCY).mean() - level;
        // the filter raises it by (w / w0)^2, nearly
        double angular = 2 * Math.PI * 100;
        assertThat(ripple).isCloseTo(0.6 * level / 12 * (1 + angular * angular * 22e-6 * 47e-6), within(3e-5));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        assertThat(steady.inputPower())
                .isCloseTo(steady.audit().totalDelivered() / steady.period(), within(1e-9 * steady.inputPower()));
    }

    @Test
    void aRegulatorRejectsASlowRipple() {
        VoltageMode regulator = VoltageMode.of(FREQUENCY, 1, 0.2, Compensator.type2(1500, 4557, 100e3))
                .withMaximumDutyCycle(0.95);
        Converter rail = stage().inputRipple(1, 100).drive(regulator);
        ConverterSteadyState steady = rail.steadyState();
        Waveform output = steady.of(rail.outputVoltage());
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.periodic().multipliers()).hasSize(4);
        // an integrator of gain 1500 * 0.2 * 12 per second rejects 100 Hz to 2 pi 100 / 3600 of D = 0.42 V/V
        double crest = output.maximum() - output.mean();
        assertThat(crest).isBetween(0.05, 0.12);
        ConverterTransient run = rail.transientFromSteadyState(10e-3);
        assertThat(run.finalCapacitorVoltage()).isCloseTo(steady.periodic().state()[1], within(1e-8));
    }

    @Test
    void aRippleMayBeginAndEndOnTheWay() {
        Converter rail = stage().drive(Drive.fixedDuty(0.45, FREQUENCY));
        ConverterTransient run = rail.transientFromSteadyState(
                4e-3,
                Change.at(1.1e-3).inputRipple(2, 1e3),
                Change.at(2.1e-3).input(11),
                Change.at(3.1e-3).inputRipple(0, 1e3));
        Waveform line = run.of(rail.inputNode());
        assertThat(line.at(1e-3)).isCloseTo(12, within(1e-12));
        assertThat(line.at(1.1e-3)).isCloseTo(12, within(1e-9));
        assertThat(line.at(1.35e-3)).isCloseTo(14, within(1e-9));
        assertThat(line.at(2.85e-3)).isCloseTo(9, within(1e-9));
        assertThat(line.at(3.2e-3)).isCloseTo(11, within(1e-12));
        assertThat(run.changes().get(0).description()).isEqualTo("line ripple 2 V at 1 kHz");
        assertThat(run.audit().residual()).isLessThan(1e-11);
    }

    @Test
    void whatDoesNotRepeatHasNoSteadyState() {
        Converter odd = stage().inputRipple(1, Math.E * 1e3).drive(Drive.fixedDuty(0.45, FREQUENCY));
        assertThatThrownBy(odd::steadyState)
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("do not repeat together");
        Converter free = stage().inputRipple(1, 100).drive(ConstantOnTime.of(FREQUENCY, 1, 0.2, 1.4e-6, 0.3e-6));
        assertThatThrownBy(free::steadyState)
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContaining("runs freely");
    }

    @Test
    void wrongRipplesAreRefused() {
        Drive drive = Drive.fixedDuty(0.45, FREQUENCY);
        assertThatThrownBy(() -> stage().inputRipple(Double.NaN, -1).drive(drive))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("amplitude of the ripple")
                .hasMessageContaining("frequency of the ripple");
        assertThatThrownBy(() -> stage().inputRipple(12, 100).drive(drive))
                .hasMessageContaining("below the input voltage");
        assertThatThrownBy(() -> Change.at(0).inputRipple(-1, 100)).hasMessageContaining("amplitude");
        assertThatThrownBy(() -> Change.at(0).inputRipple(1, 0)).hasMessageContaining("frequency");
    }
}
