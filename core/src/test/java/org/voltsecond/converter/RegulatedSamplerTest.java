package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Load;

/**
 * A regulator with an integrator holds the mean of the output and does no more, unless something else acts. The oracle is the
 * engine, whose search ends with the whole loop; each condition is broken by itself, just so far that it would be felt.
 */
class RegulatedSamplerTest {
    private static final int RAILS = Integer.getInteger("voltsecond.rails", 60);
    private static final List<StageMeasurement> FIGURES = SensitivityTest.allFigures();
    /** Far beyond what rounding makes of a bound, far below what the figures of a design differ by. */
    private static final double LITTLE = 1e-6;

    private static final Compensator TYPE3 = Compensator.type3(36000, kilo(3.5), kilo(3.5), kilo(120), kilo(150));

    private static PowerStage stage(double ohm) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(ohm));
    }

    private static VoltageMode voltageMode() {
        return VoltageMode.of(kilo(300), 1, 0.2, TYPE3);
    }

    private static CurrentMode currentMode() {
        return CurrentMode.peak(kilo(300), 1, 0.2, Compensator.type2(3000, kilo(3), kilo(150)), 0.1)
                .withSlopeCompensation(0.05 / micro(1));
    }

    private static double[] kernel(Converter converter) {
        StageSampler sampler = StageSampler.of(converter, List.of(), FIGURES);
        double[] found = new double[FIGURES.size()];
        sampler.measure(sampler.nominal(), found);
        assertThat(sampler.leftToEngine()).isZero();
        return found;
    }

    private static boolean isQuick(PowerStage stage, Regulator regulator) {
        return StageSampler.isQuickFor(stage.drive(regulator));
    }

    @Test
    void figuresOfRandomRailsAreThoseOfTheWholeLoop() {
        int quick = 0;
        for (long seed = 1; seed <= RAILS; seed++) {
            Converter rail = RandomRails.of(seed);
            if (!StageSampler.isQuickFor(rail)) {
                continue;
            }
            double[] found = kernel(rail);
            quick++;
            ConverterSteadyState steady = rail.steadyState();
            for (int k = 0; k < found.length; k++) {
                StageMeasurement figure = FIGURES.get(k);
                double expected = figure.in(steady);
                double size = figure.signal() == null ? expected : SensitivityOracle.size(steady, figure);
                assertThat(found[k])
                        .as("%s of rail %d: %s", figure, seed, rail)
                        .isCloseTo(expected, within(1e-10 * Math.max(Math.abs(size), steady.period())));
            }
        }
        assertThat(quick).isGreaterThan(RAILS / 2);
    }

    @ParameterizedTest
    @ValueSource(doubles = {2.5, 100})
    void aLimitOfTheControlVoltageThatIsTouchedIsLeftToTheEngine(double ohm) {
        for (Regulator each : List.of(voltageMode(), currentMode())) {
            Converter rail = stage(ohm).drive(each);
            ConverterSteadyState steady = rail.steadyState();
            double low = steady.of(rail.controlVoltage()).minimum();
            double high = steady.of(rail.controlVoltage()).maximum();
            double little = 0.1 * (high - low);
            assertThat(isQuick(stage(ohm), limited(each, low - little, high + little)))
                    .isTrue();
            assertThat(isQuick(stage(ohm), limited(each, low - little, high - LITTLE)))
                    .isFalse();
            assertThat(isQuick(stage(ohm), limited(each, low + LITTLE, high + little)))
                    .isFalse();
        }
    }

    private static Regulator limited(Regulator regulator, double low, double high) {
        return regulator instanceof VoltageMode mode
                ? mode.withControlLimits(low, high)
                : ((CurrentMode) regulator).withControlLimits(low, high);
    }

    @Test
    void aProtectionThatActsIsLeftToTheEngine() {
        Converter rail = stage(2.5).drive(voltageMode());
        ConverterSteadyState steady = rail.steadyState();
        double peak = steady.of(rail.inductorCurrent()).maximum();
        double onTime = steady.onTime();
        double lowest = steady.of(rail.controlVoltage()).minimum();
        Protection none = Protection.none();
        assertThat(isKept(none.withCurrentLimit(peak * 1.001, 0))).isTrue();
        assertThat(isKept(none.withCurrentLimit(peak * (1 - LITTLE), 0))).isFalse();
        assertThat(isKept(none.withMinimumOnTime(onTime * (1 - LITTLE)))).isTrue();
        assertThat(isKept(none.withMinimumOnTime(onTime * (1 + LITTLE)))).isFalse();
        assertThat(isKept(none.withPulseSkipping(lowest - 0.01))).isTrue();
        assertThat(isKept(none.withPulseSkipping(lowest + LITTLE))).isFalse();
        assertThat(isKept(none.withUndervoltageLockout(11, 11.9))).isTrue();
        assertThat(isKept(none.withUndervoltageLockout(11, 12.1))).isFalse();
    }

    private static boolean isKept(Protection protection) {
        return isQuick(stage(2.5), voltageMode().withProtection(protection));
    }

    @Test
    void aDutyCycleAtItsEndIsLeftToTheEngine() {
        double dutyCycle = stage(2.5).drive(voltageMode()).steadyState().dutyCycle();
        assertThat(isQuick(stage(2.5), voltageMode().withMaximumDutyCycle(dutyCycle + LITTLE)))
                .isTrue();
        assertThat(isQuick(stage(2.5), voltageMode().withMaximumDutyCycle(dutyCycle - LITTLE)))
                .isFalse();
        double onTime = dutyCycle / kilo(300);
        assertThat(isQuick(stage(2.5), currentMode().withBlankingTime(onTime * (1 - LITTLE))))
                .isTrue();
        assertThat(isQuick(stage(2.5), currentMode().withBlankingTime(onTime * (1 + LITTLE))))
                .isFalse();
    }

    /** The mean is not what is held, or not by a comparator that ends what the clock begins. */
    @Test
    void otherRegulatorsAreLeftToTheEngine() {
        assertThat(isQuick(stage(2.5), VoltageMode.of(kilo(300), 1, 0.2, Compensator.proportional(2, 0.4))))
                .isFalse();
        assertThat(isQuick(stage(2.5), CurrentMode.peak(kilo(300), 2.2))).isFalse();
        assertThat(isQuick(stage(2.5), voltageMode().withModulation(VoltageMode.Edge.LEADING, true)))
                .isFalse();
        assertThat(isQuick(stage(2.5), voltageMode().withModulation(VoltageMode.Edge.BOTH, true)))
                .isFalse();
        assertThat(isQuick(
                        stage(2.5),
                        CurrentMode.valley(kilo(300), 1, 0.2, Compensator.type2(3000, kilo(3), kilo(150)), 0.1)))
                .isFalse();
        PowerStage synchronous = stage(2.5).synchronousRectifier(milli(20), 0.7, 0);
        assertThat(isQuick(synchronous, voltageMode())).isTrue();
        Protection none = Protection.none();
        assertThat(isQuick(
                        synchronous,
                        voltageMode()
                                .withProtection(none.withSynchronousRectification(
                                        Protection.Rectification.DIODE_EMULATION, 0))))
                .isFalse();
        assertThat(isQuick(
                        synchronous,
                        voltageMode()
                                .withProtection(
                                        none.withSynchronousRectification(Protection.Rectification.FORCED, nano(20)))))
                .isFalse();
    }

    /**
     * While a boost stage draws its pulse the output falls and the control voltage rises, with much gain faster than the ramp: then the
     * comparator does not act where it would have to.
     */
    @Test
    void aRampThatIsOvertakenByTheControlVoltageIsLeftToTheEngine() {
        PowerStage boost = PowerStage.boost()
                .input(5)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), 0)
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(10));
        double[] gains = {100, 1e4, 1e5, 1e6};
        boolean[] quick = new boolean[gains.length];
        for (int k = 0; k < gains.length; k++) {
            Compensator compensator = Compensator.type2(gains[k], kilo(0.5), kilo(100));
            Converter rail =
                    boost.drive(VoltageMode.of(kilo(300), 1, 0.1, compensator).withControlLimits(-100, 100));
            quick[k] = StageSampler.isQuickFor(rail);
            if (quick[k]) {
                int at = FIGURES.indexOf(StageMeasurement.of(StageMeasurement.Measure.DUTY_CYCLE));
                assertThat(kernel(rail)[at]).isCloseTo(rail.steadyState().dutyCycle(), within(1e-10));
            }
        }
        assertThat(quick).containsExactly(true, true, true, false);
    }
}
