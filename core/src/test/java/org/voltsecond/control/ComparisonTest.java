package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.voltsecond.units.Unit;

/** What each regulator compares, by the trade's names and in true units. */
class ComparisonTest {
    private static final Compensator COMPENSATOR = Compensator.type2(1500, 4557, kilo(100));

    @Test
    void voltageModeComparesWithARampAlsoBehindAProtection() {
        Regulator regulator = VoltageMode.of(kilo(300), 1, 0.2, COMPENSATOR).withProtection(Protection.none());
        assertThat(regulator.comparison())
                .isEqualTo(new Comparison("control voltage", Unit.VOLT, "ramp", Unit.VOLT, 0));
    }

    @Test
    void currentModeComparesASensedCurrent() {
        CurrentMode commanded = CurrentMode.peak(kilo(300), 2);
        assertThat(commanded.comparison())
                .isEqualTo(new Comparison("current command", Unit.AMPERE, "sensed current", Unit.AMPERE, 0));
        CurrentMode looped =
                CurrentMode.peak(kilo(300), 1, 0.2, COMPENSATOR, 0.25).withSlopeCompensation(1e5);
        assertThat(looped.comparison())
                .isEqualTo(new Comparison(
                        "control voltage", Unit.VOLT, "sensed current with slope, at 250 mV/A", Unit.VOLT, 0));
    }

    @Test
    void hystereticControlHasABand() {
        assertThat(Hysteretic.voltageBand(kilo(300), 1, 0.2, milli(10)).comparison())
                .isEqualTo(new Comparison("reference less sensed voltage", Unit.VOLT, "", Unit.VOLT, 0.01));
        assertThat(Hysteretic.currentBand(kilo(300), 2, 0.4).comparison())
                .isEqualTo(new Comparison("current command", Unit.AMPERE, "sensed current", Unit.AMPERE, 0.4));
        assertThat(Hysteretic.currentBand(kilo(300), 1, 0.2, COMPENSATOR, 0.25, 0.4)
                        .comparison()
                        .band())
                .isEqualTo(0.1);
    }
}
