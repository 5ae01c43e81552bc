package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Drive;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Side;

/** Stages that random search found to fail once, each with what it showed. */
class FoundByChanceTest {

    /**
     * Idle stages whose sink pulls the output through the drop of the rectifier, from tens of volts to nothing. At that
     * instant the output is zero only to the rounding of the voltage that it came from, which is more than the rounding of
     * what is left of it: no position of the rectifier seemed to fit, or the two alternated for ever.
     */
    static Stream<StageSpec> sinksThatPullTheRectifierOpen() {
        return Stream.of(
                sink(Topology.BUCK, 90.41, 1.126e-7, 0.0347, 2.3e-10, 0.0852, 0, 0, 0, 2.435, 0.45, 3.34e6),
                sink(Topology.BUCK, 1.4, 1.3e-7, 0, 1.8e-5, 0, 0.0075, 3.9e-4, 0, 3.63, 0.54, 42893),
                sink(Topology.BUCK, 12.88, 3.68e-7, 0, 1.98e-5, 0.00184, 0, 0.0426, 0, 13.84, 0.427, 23075),
                sink(
                        Topology.BUCK,
                        2.158,
                        3.27e-6,
                        7.2e-5,
                        1.74e-5,
                        9.8e-5,
                        0.0016,
                        0.00106,
                        0.0035,
                        0.247,
                        0.116,
                        1790.7),
                sink(Topology.INVERTING_BUCK_BOOST, 8.07, 9.6e-5, 8.28, 1.16e-5, 0.0051, 0, 0, 0, 0.03, 0.141, 2789),
                sink(
                        Topology.INVERTING_BUCK_BOOST,
                        14,
                        2.1e-5,
                        0.035,
                        6.6e-7,
                        0.0073,
                        0.0034,
                        0.0019,
                        0.0017,
                        1.08,
                        0.3,
                        2895));
    }

    private static StageSpec sink(
            Topology topology,
            double input,
            double henry,
            double coil,
            double farad,
            double series,
            double on,
            double drop,
            double slope,
            double ampere,
            double duty,
            double hertz) {
        return new StageSpec(
                topology, false, true, input, henry, coil, farad, series, on, drop, slope, ampere, duty, hertz);
    }

    @ParameterizedTest
    @MethodSource("sinksThatPullTheRectifierOpen")
    void rectifierConductsAgainAfterAnIdleInterval(StageSpec stage) {
        Converter converter = stage.converter();
        ConverterSteadyState steady = converter.steadyState();
        ConverterTransient run = converter.startUp(500 * stage.period());
        assertThat(steady.of(converter.rectifierCurrent()).minimum()).isGreaterThan(-1e-12 * stage.load());
        assertThat(steady.of(converter.outputCapacitorCurrent()).mean())
                .isCloseTo(
                        0,
                        within(1e-10 * steady.of(converter.rectifierCurrent()).maximum()));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    /** Stages on which Newton's method goes round in a circle for ever, though a run settles within ten periods. */
    @Test
    void newtonsMethodDoesNotGoRoundInACircle() {
        StageSpec stage = new StageSpec(
                Topology.BOOST,
                false,
                true,
                4.343761322771714,
                1.558842229102356E-4,
                0.022010422207128507,
                3.737845738423121E-5,
                1.9075941825741474E-4,
                0.0,
                0.004529694580463129,
                0.010622047911412446,
                0.04978512501284495,
                0.025223635520000003,
                1443.9516388844227);
        ConverterSteadyState steady = stage.converter().steadyState();
        double settled = stage.converter().startUp(100 * stage.period()).finalCapacitorVoltage();
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(steady.periodic().state()[1]).isCloseTo(settled, within(1e-12 * settled));
    }

    /** A start-up that rings above the input would interrupt the current that flows back; the steady state would not. */
    @ParameterizedTest
    @ValueSource(doubles = {10, 20, 80})
    void theSteadyStateBeyondAStartUpThatStops(double ohm) {
        Converter converter = ringing(2e-6).load(Load.resistor(ohm)).drive(Drive.fixedDuty(0.75, 200e3));
        assertThatThrownBy(() -> converter.startUp(1e-3))
                .isInstanceOf(SwitchingException.class)
                .hasMessageContaining("interrupted");
        ConverterSteadyState steady = converter.steadyState();
        double[] withDiode =
                converter.withBodyDiode(0.7, 0.01).steadyState().periodic().state();
        assertThat(steady.of(converter.inductorCurrent()).minimum()).isGreaterThan(-1e-12);
        assertThat(steady.periodic().state()).containsExactly(withDiode, within(1e-12));
        assertThat(converter.transientFrom(steady, 1e-3, List.of()).audit().residual())
                .isLessThan(1e-10);
    }

    @Test
    void aSteadyStateThatNeedsABodyDiodeSaysSo() {
        Converter converter = ringing(5e-8).load(Load.current(0.1)).drive(Drive.fixedDuty(0.7, 200e3));
        assertThatThrownBy(converter::steadyState)
                .isInstanceOf(NoSteadyStateException.class)
                .hasMessageContainingAll(
                        "at 3.5 µs: the current of L1 (-0.7429",
                        "with a body diode across the transistor there is a steady state");
        Converter withDiode = converter.withBodyDiode(0.7, 0.01);
        double atTurnOff =
                withDiode.steadyState().of(withDiode.inductorCurrent()).at(3.5e-6, Side.BEFORE);
        assertThat(atTurnOff).isLessThan(-0.1);
    }

    private static PowerStage ringing(double farad) {
        return PowerStage.of(Topology.BUCK)
                .input(12)
                .inductor(10e-6, 0.01)
                .outputCapacitor(farad, 0.005)
                .transistor(0.02)
                .rectifier(0.4, 0.01);
    }
}
