package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.Watch;
import org.voltsecond.stage.Load;

/** A state that comes back but for its rounding need not be steady: the balances know better. */
class BalancesTest {
    /**
     * A boost that random search found. A period changes 1.32 mF at 16 kV by less than the last digit of the voltage, so that any
     * voltage seemed to come back: 16,370 V were told, with a mean of 24.8 µA in the capacitor beside a load of 52.54 µA.
     */
    @Test
    void aCapacitorThatAPeriodDoesNotMoveIsStillBalanced() {
        Converter boost = PowerStage.boost()
                .input(43.65)
                .inductor(2.55e-6, 18.6)
                .outputCapacitor(1.32e-3)
                .transistor(173)
                .rectifier(16.8e-3, 0)
                .load(Load.current(52.54e-6))
                .drive(Drive.fixedDuty(0.648, 53.8e6));
        ConverterSteadyState steady = boost.steadyState();
        double rectifier = steady.of(boost.rectifierCurrent()).mean();
        assertThat(rectifier).isCloseTo(52.54e-6, within(1e-9 * 52.54e-6));
        assertThat(steady.of(boost.outputCapacitorCurrent()).mean()).isCloseTo(0, within(1e-9 * 52.54e-6));
    }

    /** Ideal parts and a constant current: the resonance of coil and capacitor goes on for ever, and its multipliers lie on the circle. */
    @Test
    void aLosslessStageIsUndamped() {
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(47e-6)
                .load(Load.current(2))
                .drive(Drive.fixedDuty(0.45, 300e3));
        SteadyState steady = buck.steadyState().periodic();
        assertThat(steady.multipliers().get(0).magnitude()).isCloseTo(1, within(1e-13));
        assertThat(steady.stability()).isEqualTo(SteadyState.Stability.UNDAMPED);
        assertThat(buck.withInductor(22e-6, 1e-3).steadyState().periodic().stability())
                .isEqualTo(SteadyState.Stability.STABLE);
    }

    /**
     * A stage at 16 Hz whose states die out within microseconds, to the smallest number there is: what is left of them was resolved
     * in steps of nanoseconds through the whole period, 10 s for a steady state. Its effort is bounded now.
     */
    @Test
    void whatHasDiedOutTakesNoMoreSteps() {
        Converter slow = PowerStage.invertingBuckBoost()
                .input(262.3)
                .inductor(118e-6, 33.6e-3)
                .outputCapacitor(7.04e-12, 0.337)
                .transistor(424)
                .bodyDiode(0.159, 0.299)
                .rectifier(0, 66.65)
                .load(Load.resistor(755))
                .drive(Drive.fixedDuty(0.809, 16.19));
        ConverterSteadyState steady = Watch.of().withSteps(500_000).over(() -> slow.steadyState());
        assertThat(steady.of(slow.outputCapacitorCurrent()).mean())
                .isCloseTo(0, within(1e-9 * steady.of(slow.rectifierCurrent()).maximum()));
    }
}
