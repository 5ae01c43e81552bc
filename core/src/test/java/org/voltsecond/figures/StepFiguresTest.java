package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Protection;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** What a change does is measured from the levels at which the output is held, not from where it happens to be. */
class StepFiguresTest {
    private static final double PERIOD = 1 / kilo(300);

    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, 0)
                .rectifier(0.4, milli(20));
    }

    private static VoltageMode control() {
        return VoltageMode.of(kilo(300), 1, 0.2, Compensator.type3(36000, kilo(3.5), kilo(3.5), kilo(120), kilo(150)))
                .withRamp(0, 1)
                .withMaximumDutyCycle(0.95)
                .withControlLimits(0, 1)
                .withSoftStart(milli(2));
    }

    private static Converter rail(Load load) {
        return stage().load(load)
                .drive(control().withProtection(Protection.none().withCurrentLimit(4, nano(100))));
    }

    private static StepFigures only(Converter rail, double duration, Change change) {
        return TransientFigures.of(rail.transientFromSteadyState(duration, change), 0.01)
                .changes()
                .get(0);
    }

    /** A logic rail whose reference is raised by a tenth: the output goes to 5.5 V and no more than its ripple beyond. */
    @Test
    void aStepOfTheReferenceIsNoOvershoot() {
        Converter rail = rail(Load.resistor(2.5));
        StepFigures step = only(rail, milli(3), Change.at(milli(1)).reference(1.1));
        assertThat(step.levelBefore().get()).isCloseTo(5, within(1e-12));
        assertThat(step.levelAfter().get()).isCloseTo(5.5, within(1e-12));
        assertThat(step.overshoot().get()).isBetween(1e-3, 3e-3);
        assertThat(step.droop().get()).isBetween(1e-3, 3e-3);
        assertThat(step.settlingTime().get()).isBetween(5e-6, 30e-6);
    }

    /** Down to 3 V and up again: the way there is neither droop nor overshoot. */
    @Test
    void theWayFromOneLevelToAnotherIsNeitherDroopNorOvershoot() {
        Converter rail = rail(Load.resistor(2.5));
        List<StepFigures> steps = TransientFigures.of(
                        rail.transientFromSteadyState(
                                milli(4),
                                Change.at(milli(1)).reference(0.6),
                                Change.at(milli(2)).reference(1.2)),
                        0.02)
                .changes();
        assertThat(steps.get(0).levelAfter().get()).isCloseTo(3, within(1e-12));
        assertThat(steps.get(1).levelBefore().get()).isCloseTo(3, within(1e-12));
        assertThat(steps.get(0).overshoot().get()).isBetween(0.0, 3e-3);
        assertThat(steps.get(1).droop().get()).isBetween(0.0, 3e-3);
        Waveform rise = rail.transientFromSteadyState(
                        milli(4),
                        Change.at(milli(1)).reference(0.6),
                        Change.at(milli(2)).reference(1.2))
                .of(rail.outputVoltage())
                .between(milli(2), milli(4));
        assertThat(steps.get(1).overshoot().get()).isCloseTo(rise.maximum() - 6, within(1e-12));
    }

    /** A short circuit and its end: the output comes back from 0 V to 5 V, which is no overshoot of 5 V. */
    @Test
    void theEndOfAShortCircuitIsNoOvershoot() {
        Converter rail = stage().load(Load.resistor(25))
                .drive(control()
                        .withProtection(
                                Protection.none().withCurrentLimit(4, nano(100)).withHiccup(8, milli(1))));
        List<StepFigures> steps = TransientFigures.of(
                        rail.startUp(
                                milli(14),
                                Change.at(milli(3)).shortCircuit(milli(10)),
                                Change.at(milli(9)).load(Load.resistor(2.5))),
                        0.02)
                .changes();
        assertThat(steps.get(0).levelBefore().get()).isCloseTo(5, within(1e-12));
        // at most the current limit through the short circuit
        assertThat(steps.get(0).levelAfter().get()).isBetween(0.0, 0.04);
        assertThat(steps.get(0).overshoot().get()).isZero();
        assertThat(steps.get(0).settlingTime().reason()).isEqualTo("the output has not settled by the next change");
        assertThat(steps.get(1).levelAfter().get()).isCloseTo(5, within(1e-12));
        assertThat(steps.get(1).overshoot().get()).isBetween(0.0, 0.01);
    }

    /** The second change comes 10 us after the first, which has drawn the output down: its level before is 5 V all the same. */
    @Test
    void aChangeIsNotChargedWithTheOneBefore() {
        Converter rail = rail(Load.resistor(25));
        List<StepFigures> steps = TransientFigures.of(
                        rail.transientFromSteadyState(
                                milli(3),
                                Change.at(milli(1)).load(Load.resistor(2.5)),
                                Change.at(milli(1.01)).load(Load.resistor(2.4))),
                        0.01)
                .changes();
        assertThat(steps.get(0).droop().get()).isGreaterThan(0.1);
        assertThat(steps.get(1).levelBefore().get()).isCloseTo(5, within(1e-12));
        assertThat(steps.get(1).overshoot().get()).isLessThan(0.1);
    }

    /** A run that ends 1 us after a change has nothing to tell about settling. */
    @Test
    void aRunThatEndsAtOnceHasNotSettled() {
        StepFigures step = only(
                rail(Load.resistor(25)),
                milli(1) + micro(1),
                Change.at(milli(1)).load(Load.resistor(5)));
        assertThat(step.settlingTime().reason())
                .isEqualTo("not one whole switching period lies before the end of the run");
    }

    /** Settled is where the mean of a period is: the end of the last one outside, found here by looking at each. */
    @Test
    void settlingIsTheEndOfTheLastPeriodWhoseMeanIsOutside() {
        Converter rail = rail(Load.resistor(25));
        StepFigures step = only(rail, milli(3), Change.at(milli(1)).load(Load.resistor(2.5)));
        Waveform output = rail.transientFromSteadyState(
                        milli(3), Change.at(milli(1)).load(Load.resistor(2.5)))
                .of(rail.outputVoltage());
        double last = 0;
        for (int k = 300; k < 899; k++) {
            double mean = output.between(k * PERIOD, (k + 1) * PERIOD).mean();
            if (Math.abs(mean - 5) > 0.05) {
                last = (k + 1) * PERIOD - milli(1);
            }
        }
        assertThat(last).isPositive();
        assertThat(step.settlingTime().get()).isCloseTo(last, within(1e-12));
        assertThat(step.settlingBand().get()).isCloseTo(0.05, within(1e-12));
    }

    /** Without a regulator the levels are the means of the steady states before and after. */
    @Test
    void anOpenLoopComesToRestAtTheMeanOfItsSteadyStates() {
        Converter open = stage().load(Load.resistor(2.5)).drive(Drive.fixedDuty(0.45, kilo(300)));
        StepFigures step = only(open, milli(2), Change.at(milli(1)).input(15));
        Converter after = open.withInput(15);
        assertThat(step.levelBefore().get())
                .isEqualTo(open.steadyState().of(open.outputVoltage()).mean());
        assertThat(step.levelAfter().get())
                .isEqualTo(after.steadyState().of(after.outputVoltage()).mean());
        assertThat(step.overshoot().get()).isGreaterThan(0.3);
    }

    /** A reference that cannot be reached is no level: the output comes to rest below. */
    @Test
    void outOfReachTheLevelIsWhereTheOutputRests() {
        Converter rail = stage().load(Load.resistor(25)).drive(control().withReference(3));
        double mean = rail.steadyState().of(rail.outputVoltage()).mean();
        StepFigures start =
                TransientFigures.of(rail.startUp(milli(4)), 0.02).start().get();
        assertThat(mean).isLessThan(12);
        assertThat(start.levelAfter().get()).isEqualTo(mean);
    }
}
