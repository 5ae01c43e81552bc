package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.control.Stages.Values;

/** Bad values of regulators are named all at once, with what is valid and what was given. */
class RegulatorFaultsTest {
    private static final Compensator GOOD = Compensator.type2(1000, 1e3, 1e5);

    @Test
    void peakCurrentModeNamesEverythingWrong() {
        assertThat(CurrentMode.peak(-1, 0, 2, Compensator.proportional(-3), Double.NaN)
                        .withSlopeCompensation(-5)
                        .withMaximumDutyCycle(1.5)
                        .withControlLimits(2, 1)
                        .withSoftStart(-1e-3)
                        .faults())
                .anyMatch(fault -> fault.contains("switching frequency") && fault.contains("-1 Hz"))
                .anyMatch(fault -> fault.contains("reference") && fault.contains("0 V"))
                .anyMatch(fault -> fault.contains("divider") && fault.contains("at most 1") && fault.contains("was 2"))
                .anyMatch(fault -> fault.contains("gain") && fault.contains("-3.0"))
                .anyMatch(fault -> fault.contains("sense") && fault.contains("NaN V/A"))
                .anyMatch(fault -> fault.contains("slope compensation") && fault.contains("-5 A/s"))
                .anyMatch(fault -> fault.contains("maximum duty cycle") && fault.contains("1.5"))
                .anyMatch(fault -> fault.contains("lower limit") && fault.contains("1 V"))
                .anyMatch(fault -> fault.contains("soft start") && fault.contains("-1 ms"));
    }

    @Test
    void sampledControlNamesEverythingWrong() {
        assertThat(SampledControl.of(100e3, 5, 1)
                        .withDenominator(Double.NaN)
                        .withBias(Double.POSITIVE_INFINITY)
                        .withSampling(1, -1e-6)
                        .withMaximumDutyCycle(0)
                        .withQuantisedDutyCycle(-8)
                        .faults())
                .anyMatch(fault -> fault.contains("numerator") && fault.contains("at least 1"))
                .anyMatch(fault -> fault.contains("denominator") && fault.contains("NaN"))
                .anyMatch(fault -> fault.contains("bias") && fault.contains("Infinity"))
                .anyMatch(fault -> fault.contains("sampling instant") && fault.contains("below 1 period"))
                .anyMatch(fault -> fault.contains("delay") && fault.contains("-1 µs"))
                .anyMatch(fault -> fault.contains("maximum duty cycle") && fault.contains("was 0"))
                .anyMatch(fault -> fault.contains("steps") && fault.contains("-8"))
                .hasSize(7);
    }

    @Test
    void freeRunningMethodsNameEverythingWrong() {
        assertThat(Hysteretic.voltageBand(Double.NaN, 5, 1, -0.1)
                        .withDelay(-1)
                        .withMaximumOnTime(0)
                        .withMinimumOffTime(Double.POSITIVE_INFINITY)
                        .faults())
                .hasSizeGreaterThanOrEqualTo(5)
                .anyMatch(fault -> fault.contains("typical switching frequency"))
                .anyMatch(fault -> fault.contains("band") && fault.contains("-100 mV"))
                .anyMatch(fault -> fault.contains("delay") && fault.contains("-1 s"))
                .anyMatch(fault -> fault.contains("on-time") && fault.contains("0 s"))
                .anyMatch(fault -> fault.contains("off-time") && fault.contains("Infinity s"));
        assertThat(ConstantOnTime.of(1e5, 5, 1, Double.POSITIVE_INFINITY, 0).faults())
                .singleElement()
                .asString()
                .contains("on-time", "finite");
        assertThat(Hysteretic.currentBand(1e5, -2, 1).faults())
                .singleElement()
                .asString()
                .contains("current command", "-2 A");
    }

    @Test
    void aBlankingTimeAsLongAsThePulseIsRefused() {
        assertThat(CurrentMode.peak(100e3, 2)
                        .withMaximumDutyCycle(0.5)
                        .withBlankingTime(5e-6)
                        .faults())
                .singleElement()
                .asString()
                .contains("blanking", "below the longest pulse", "5 µs");
        assertThat(CurrentMode.valley(100e3, 2).withBlankingTime(1e-5).faults())
                .singleElement()
                .asString()
                .contains("blanking", "below the period");
    }

    static Stream<Regulator> good() {
        return Stream.of(
                CurrentMode.peak(100e3, 2),
                CurrentMode.peak(100e3, 5, 1, GOOD, 0.1).withBlankingTime(1e-7),
                CurrentMode.valley(100e3, 2),
                CurrentMode.valley(100e3, 5, 1, GOOD, 0.1),
                Hysteretic.voltageBand(100e3, 5, 1, 0.1),
                Hysteretic.currentBand(100e3, 2, 0.5),
                Hysteretic.currentBand(100e3, 5, 1, GOOD, 0.1, 0.5),
                ConstantOnTime.of(100e3, 5, 1, 2e-6, 0),
                SampledControl.of(100e3, 5, 1, 0.01));
    }

    @ParameterizedTest
    @MethodSource("good")
    void goodValuesHaveNoFault(Regulator regulator) {
        assertThat(regulator.faults()).isEmpty();
    }

    @Test
    void aFaultyRegulatorIsNotPutToACircuit() {
        Plant plant = Stages.plant(Stages.buck(Values.ideal(12, 1e-5, 1e-5, 5)));
        Regulator regulator = CurrentMode.peak(0, -1);
        assertThatThrownBy(() -> regulator.on(plant))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("the regulator cannot be built")
                .hasMessageContaining("switching frequency")
                .hasMessageContaining("current command");
    }
}
