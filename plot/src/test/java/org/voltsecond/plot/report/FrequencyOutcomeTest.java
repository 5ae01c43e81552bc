package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.design.FrequencyPlan;
import org.voltsecond.stage.Load;

/** Why a regulated rail may have no loop gain. */
class FrequencyOutcomeTest {
    private static FrequencyOutcome behind(double onResistance) {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(onResistance)
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                        .withMaximumDutyCycle(0.95));
        return FrequencyOutcome.of(rail.steadyState(), new FrequencyPlan(100, kilo(50), 10));
    }

    /** A transistor of a kilohm leaves nothing to regulate: the loop does not act, and it is not said that there is none. */
    @Test
    void aRailAtItsLongestPulseHasNoLoopThatActs() {
        FrequencyOutcome response = behind(1000);
        assertThat(response.hasLoop()).isFalse();
        assertThat(response.whyOpen()).isEqualTo("the loop does not act, since the duty cycle is at its maximum");
        assertThat(behind(milli(80)).hasLoop()).isTrue();
    }
}
