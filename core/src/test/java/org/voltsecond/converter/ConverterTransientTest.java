package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Waveform;

/** Start-up and steps of the three stages. */
class ConverterTransientTest {

    /** 40-digit values of the lossy buck stage after 10,000 periods, worked out with extended precision. */
    @Test
    void tenThousandPeriodsHoldTwelveDigits() {
        ConverterTransient run = Stages.lossy(Topology.BUCK).startUp(10_000 / 300e3);
        assertThat(run.finalInductorCurrent()).isCloseTo(1.779759166237046, within(1.7e-12));
        assertThat(run.finalCapacitorVoltage()).isCloseTo(5.024930872034064, within(5e-12));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    /** A run with changes is the same as one run after the other, each of the changed converter. */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void aChangeIsWhereOneRunEndsAndTheNextBegins(Topology topology) {
        Converter first = Stages.lossy(topology);
        double half = 150 / 300e3;
        for (Change change : List.of(
                Change.at(half).load(Load.resistor(20)),
                Change.at(half).load(Load.current(1)),
                Change.at(half).input(15),
                Change.at(half).dutyCycle(0.6),
                Change.at(half).load(Load.resistor(4)).input(9).dutyCycle(0.3))) {
            ConverterTransient whole = first.startUp(2 * half, change);
            double[] middle = first.startUp(half).run().finalState();
            Converter second = whole.after(1);
            ConverterTransient rest = second.transientFrom(middle, half, List.of());
            assertThat(whole.run().finalState())
                    .as("%s", change)
                    .containsExactly(rest.run().finalState(), within(1e-9));
            // The same signals serve both runs, whatever the load has become.
            assertThat(whole.of(first.loadCurrent()).at(1.9 * half))
                    .isCloseTo(rest.of(second.loadCurrent()).at(0.9 * half), within(1e-9));
            assertThat(whole.of(first.outputCapacitorCurrent()).at(1.9 * half))
                    .isCloseTo(rest.of(second.outputCapacitorCurrent()).at(0.9 * half), within(1e-9));
            assertThat(whole.audit().residual()).isLessThan(1e-11);
        }
    }

    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void aLoadMayTurnFromCurrentToResistorAndBack(Topology topology) {
        Converter converter = Stages.lossy(topology).withLoad(Load.current(1));
        double sign = topology == Topology.INVERTING_BUCK_BOOST ? -1 : 1;
        ConverterTransient run = converter.transientFromSteadyState(
                300e-6,
                Change.at(200.5e-6).load(Load.current(2)),
                Change.at(100.25e-6).load(Load.resistor(10)));
        Waveform load = run.of(converter.loadCurrent());
        Waveform output = run.of(converter.outputVoltage());
        assertThat(load.at(50e-6)).isEqualTo(sign);
        assertThat(load.at(150e-6)).isCloseTo(output.at(150e-6) / 10, within(1e-14));
        assertThat(load.at(250e-6)).isEqualTo(2 * sign);
        assertThat(run.changes()).extracting(Change::time).containsExactly(100.25e-6, 200.5e-6);
    }

    @Test
    void aSteadyStateStaysWhatItIs() {
        Converter converter = Stages.lossy(Topology.BOOST);
        double[] steady = converter.steadyState().periodic().state();
        ConverterTransient run = converter.transientFromSteadyState(100 / 300e3);
        assertThat(run.run().finalState()).containsExactly(steady, within(1e-11));
    }

    @Test
    void aChangeAtTheStartIsInForceFromTheStart() {
        Converter converter = Stages.lossy(Topology.BUCK);
        double[] changed = converter
                .startUp(10 / 300e3, Change.at(0).input(15).dutyCycle(0.3))
                .run()
                .finalState();
        double[] expected = converter
                .withInput(15)
                .withDutyCycle(0.3)
                .startUp(10 / 300e3)
                .run()
                .finalState();
        assertThat(changed).containsExactly(expected, within(1e-13));
    }

    @Test
    void twoChangesAtTheSameTimeAreRefused() {
        Converter converter = Stages.lossy(Topology.BUCK);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> converter.startUp(
                        1e-3, Change.at(1e-4).input(9), Change.at(1e-4).dutyCycle(0.2)))
                .withMessageContaining("same time of 1.0E-4 s");
    }

    /**
     * A constant current on a stage at rest, its transistor open and all parts ideal: the sink pulls the output below
     * ground, and through the rectifier the inductor takes over the current. The state moves on a circle:
     * v = -I sqrt(L/C) sin(w t), i = I (1 - cos(w t)), w = 1/sqrt(L C).
     */
    @Test
    void aConstantCurrentAtRestPullsTheOutputBelowGroundUntilTheRectifierCarriesIt() {
        Converter converter =
                Stages.ideal(Topology.BUCK, 12, 22e-6, 47e-6, 1, 0, 300e3).withLoad(Load.current(2));
        double rate = 1 / Math.sqrt(22e-6 * 47e-6);
        ConverterTransient run = converter.startUp(2 * Math.PI / rate);
        Waveform output = run.of(converter.outputVoltage());
        Waveform inductor = run.of(converter.inductorCurrent());
        for (double time = 0; time < run.finalTime(); time += 1.7e-6) {
            assertThat(output.at(time)).isCloseTo(-2 * Math.sqrt(22.0 / 47) * Math.sin(rate * time), within(1e-12));
            assertThat(inductor.at(time)).isCloseTo(2 * (1 - Math.cos(rate * time)), within(1e-12));
        }
        assertThat(output.minimum()).isCloseTo(-2 * Math.sqrt(22.0 / 47), within(1e-12));
    }

    /**
     * A buck stage whose output is above its input when the transistor opens: the current that flows backwards goes on
     * through the body diode, against the input and the drop, and its energy goes back into the source.
     */
    @Test
    void aBodyDiodeCarriesBackWhatAnOpenTransistorWouldInterrupt() {
        Converter plain = Stages.ideal(Topology.BUCK, 12, 22e-6, 47e-6, 100, 0.5, 300e3);
        double[] above = {0, 20};
        assertThatExceptionOfType(SwitchingException.class)
                .isThrownBy(() -> plain.transientFrom(above, 2 / 300e3, List.of()))
                .withMessageContaining("L1")
                .withMessageContaining("Q1");
        Converter bypassed = plain.withBodyDiode(0.8, 0);
        ConverterTransient run = bypassed.transientFrom(above, 2 / 300e3, List.of());
        double turnOff = 0.5 / 300e3;
        double before = run.of(bypassed.inductorCurrent()).at(turnOff);
        assertThat(before).isCloseTo(-8 * turnOff / 22e-6, within(0.01));
        assertThat(run.of(bypassed.switchNode()).at(turnOff, Side.AFTER)).isCloseTo(12.8, within(1e-12));
        assertThat(run.of(bypassed.transistorCurrent()).at(turnOff, Side.AFTER)).isCloseTo(before, within(1e-12));
        assertThat(run.of(bypassed.inputCurrent()).at(turnOff, Side.AFTER)).isCloseTo(before, within(1e-12));
        assertThat(run.audit().residual()).isLessThan(1e-13);
    }

    /**
     * In normal operation the body diode changes nothing. A run's last digits may move, since from which period on the engine goes whole
     * periods in one step depends on how many guards it has to be certain of.
     */
    @ParameterizedTest
    @FieldSource("org.voltsecond.stage.PlainStages#ALL")
    void aBodyDiodeIsIdleInNormalOperation(Topology topology) {
        Converter plain = Stages.lossy(topology).withDutyCycle(0.3);
        Converter bypassed = plain.withBodyDiode(0.8, 0.01);
        assertThat(bypassed.startUp(1e-3).run().finalState())
                .containsExactly(plain.startUp(1e-3).run().finalState(), within(1e-14));
        assertThat(bypassed.steadyState().losses())
                .isEqualTo(plain.steadyState().losses());
        assertThat(bypassed.steadyState().idleTime())
                .isEqualTo(plain.steadyState().idleTime());
    }

    /** The step response of the filter before the current can reverse: R. W. Erickson, D. Maksimovic, eqs. 9.41-9.50. */
    @Test
    void aSynchronousBuckStartsUpAsItsFilterDoes() {
        Converter converter = Stages.ideal(Topology.BUCK, 28, 50e-6, 500e-6, 3, 15.0 / 28, 100e3)
                .withSynchronousRectifier(0);
        double q = 3 * Math.sqrt(500e-6 / 50e-6);
        double peak = 15 * (1 + Math.exp(-Math.PI / Math.sqrt(4 * q * q - 1)));
        assertThat(converter.startUp(5e-3).of(converter.outputVoltage()).maximum())
                .isCloseTo(peak, within(0.005));
    }
}
