package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** A limit holds everywhere: in the steady state, at the start, and after each change. */
class LimitChecksTest {
    private static Converter radioRail(double ohm) {
        return PowerStage.boost()
                .input(12)
                .inductor(micro(47), milli(40))
                .outputCapacitor(micro(100), milli(20))
                .transistor(milli(50))
                .rectifier(0.45, milli(30))
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(0.513, kilo(250)));
    }

    /** A radio rail with a sixth of its load resistance from 0.5 ms on: the ripple is six times as large then. */
    @Test
    void theRippleAfterAChangeCounts() {
        Converter rail = radioRail(96);
        TransientFigures run = TransientFigures.of(
                rail.transientFromSteadyState(milli(6), Change.at(milli(0.5)).load(Load.resistor(15))), 0.02);
        LimitCheck check = LimitChecks.of(rail).with(run).check(Limit.OUTPUT_RIPPLE, milli(50));
        assertThat(check.value().get())
                .isEqualTo(Figures.OUTPUT_RIPPLE.in(radioRail(15).steadyState()));
        assertThat(check.where()).isEqualTo("after the change at 500 µs");
        assertThat(check.isMet()).isFalse();
        assertThat(LimitChecks.of(rail).check(Limit.OUTPUT_RIPPLE, milli(50)))
                .satisfies(alone -> assertThat(alone.isMet()).isTrue())
                .satisfies(alone -> assertThat(alone.where()).isEqualTo("steady state"));
    }

    /** The start is limited by a limit of its own. */
    @Test
    void settlingDoesNotCountTheStart() {
        Converter rail = radioRail(15);
        LimitChecks checks = LimitChecks.of(rail).with(TransientFigures.of(rail.startUp(milli(8)), 0.02));
        assertThat(checks.check(Limit.SETTLING_TIME, milli(1)).isKnown()).isFalse();
        LimitCheck start = checks.check(Limit.START_TIME, milli(1));
        assertThat(start.value().get()).isGreaterThan(milli(1));
        assertThat(start.where()).isEqualTo("start");
        assertThat(checks.check(Limit.LOWEST_OUTPUT_VOLTAGE, 20).where()).isEqualTo("steady state");
    }

    @Test
    void aCornerCounts() {
        Converter rail = radioRail(96);
        LimitCheck check = LimitChecks.of(rail)
                .with(
                        "corner 12 V, 1.6 A",
                        org.voltsecond.units.Result.of(radioRail(15).steadyState()))
                .check(Limit.EFFICIENCY, 0.97);
        assertThat(check.where()).isEqualTo("corner 12 V, 1.6 A");
        assertThat(check.margin().get()).isNegative();
    }

    /** A boost whose current loop is unstable: what its steady state would be is nothing that the output ever does. */
    @Test
    void anUnstableSteadyStateIsHeldAgainstNothing() {
        Converter unstable = PowerStage.boost()
                .input(10)
                .inductor(micro(100), 0)
                .outputCapacitor(micro(22), milli(10))
                .transistor(milli(50))
                .rectifier(0.4, 0)
                .load(Load.resistor(20))
                .drive(CurrentMode.peak(kilo(100), 5));
        LimitChecks alone = LimitChecks.of(unstable);
        assertThat(alone.check(Limit.OUTPUT_RIPPLE, 1).verdict())
                .startsWith("not checked: the steady state is unstable");
        LimitChecks checks = alone.with(TransientFigures.of(unstable.startUp(milli(3)), 0.02));
        LimitCheck overshoot = checks.check(Limit.OVERSHOOT, milli(10));
        assertThat(overshoot.isMet()).isFalse();
        assertThat(overshoot.value().get()).isCloseTo(1, within(0.5));
        assertThat(checks.check(Limit.OUTPUT_RIPPLE, milli(20)).where()).isEqualTo("start");
    }
}
