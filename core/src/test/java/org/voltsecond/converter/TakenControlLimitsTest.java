package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.CircuitSignals;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ControlLimits;
import org.voltsecond.control.ControlLimits.Origin;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Plant;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Protection.Rectification;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** The limits that a regulator takes where none are given: by hand, and what they do to a run. */
class TakenControlLimitsTest {
    private static final double FREQUENCY = 300e3;
    private static final double SENSE = 0.25;
    private static final double SLOPE = 0.2 / micro(1);
    private static final double UNLIMITED = Double.POSITIVE_INFINITY;
    private static final Compensator INTEGRATING = Compensator.type2(1500, 4557, kilo(100));

    /** Half the ripple of the inductor current from 12 V to 5 V: 5 V (1 - 5/12) T / 22 µH / 2. */
    private static final double HALF_RIPPLE = 5 * (1 - 5.0 / 12) / FREQUENCY / micro(22) / 2;

    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, 0)
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5));
    }

    private static CurrentMode mode(CurrentMode.Extreme extreme) {
        return CurrentMode.of(extreme, FREQUENCY, 1, 0.2, Compensator.type2(5000, 3000, kilo(100)), SENSE)
                .withSlopeCompensation(SLOPE);
    }

    private static CurrentMode peak() {
        return mode(CurrentMode.Extreme.PEAK);
    }

    private static void isTaken(ControlLimits limits, double low, double high, Origin origin) {
        assertThat(limits.origin()).isEqualTo(origin);
        assertThat(limits.isTaken()).isTrue();
        assertThat(limits.low()).isCloseTo(low, within(1e-12));
        // the current limit is passed by a millionth
        assertThat(limits.high()).isCloseTo(high, within(1.1e-6 * high));
    }

    @Test
    void voltageModeTakesItsRamp() {
        VoltageMode regulator = VoltageMode.of(FREQUENCY, 1, 0.2, INTEGRATING).withRamp(0.5, 2);
        isTaken(stage().drive(regulator).controlLimits(), 0.5, 2, Origin.RAMP);
        ControlLimits given =
                stage().drive(regulator.withControlLimits(0.6, 1.5)).controlLimits();
        assertThat(given).isEqualTo(new ControlLimits(0.6, 1.5, Origin.GIVEN));
        assertThat(given.isTaken()).isFalse();
    }

    /** From rest at 0 V the control voltage stands at the valley at once, and the converter starts. */
    @Test
    void aRampAboveZeroStartsFromItsValley() {
        VoltageMode regulator = VoltageMode.of(FREQUENCY, 1, 0.2, INTEGRATING)
                .withRamp(0.5, 1.5)
                .withSoftStart(milli(1));
        Converter rail = stage().drive(regulator);
        ConverterTransient run = rail.startUp(milli(4));
        Waveform control = run.of(rail.driven().control("control voltage"));
        assertThat(control.minimum()).isEqualTo(0.5);
        assertThat(run.of(rail.outputVoltage()).at(milli(4))).isCloseTo(5, within(0.02));
    }

    @Test
    void currentModeTakesTwiceItsCommandAtFullLoad() {
        double slope = SENSE * SLOPE / FREQUENCY;
        double twice = 2 * SENSE * (2 + HALF_RIPPLE);
        isTaken(stage().drive(peak()).controlLimits(), 0, twice + slope, Origin.FULL_LOAD);
        isTaken(
                stage().drive(peak().withMaximumDutyCycle(0.5)).controlLimits(),
                0,
                twice + slope / 2,
                Origin.FULL_LOAD);
        isTaken(
                stage().load(Load.current(1)).drive(peak()).controlLimits(),
                0,
                2 * SENSE * (1 + HALF_RIPPLE) + slope,
                Origin.FULL_LOAD);
        isTaken(stage().drive(mode(CurrentMode.Extreme.VALLEY)).controlLimits(), -slope, twice, Origin.FULL_LOAD);
        // forced rectification lets the valley of the light load lie below zero
        isTaken(
                stage().synchronousRectifier(milli(20))
                        .drive(mode(CurrentMode.Extreme.VALLEY))
                        .controlLimits(),
                -twice - slope,
                twice,
                Origin.FULL_LOAD);
        isTaken(
                stage().synchronousRectifier(milli(20), 0.8, 0)
                        .drive(mode(CurrentMode.Extreme.VALLEY)
                                .withProtection(Protection.none()
                                        .withSynchronousRectification(Rectification.DIODE_EMULATION, 0)))
                        .controlLimits(),
                -slope,
                twice,
                Origin.FULL_LOAD);
    }

    /** A boost carries its input current, an inverting stage that of input and output together. */
    @Test
    void fullLoadIsThatOfTheInductor() {
        PowerStage boost = PowerStage.boost()
                .input(12)
                .inductor(micro(22))
                .outputCapacitor(micro(47), milli(5))
                .load(Load.resistor(24));
        CurrentMode to24 = CurrentMode.peak(FREQUENCY, 4.8, 0.2, INTEGRATING, 1);
        double ripple = 12 * 0.5 / FREQUENCY / micro(22) / 2;
        isTaken(boost.drive(to24).controlLimits(), 0, 2 * (2 + ripple), Origin.FULL_LOAD);
        PowerStage inverting = PowerStage.invertingBuckBoost()
                .input(12)
                .inductor(micro(22))
                .outputCapacitor(micro(47), milli(5))
                .load(Load.resistor(12));
        CurrentMode to12 = CurrentMode.peak(FREQUENCY, 2.4, 0.2, INTEGRATING, 1);
        isTaken(inverting.drive(to12).controlLimits(), 0, 2 * (2 + ripple), Origin.FULL_LOAD);
    }

    @Test
    void aCurrentLimitComesFirst() {
        CurrentMode limited = peak().withProtection(Protection.none().withCurrentLimit(4, 0));
        isTaken(stage().drive(limited).controlLimits(), 0, SENSE * 4 + SENSE * SLOPE / FREQUENCY, Origin.CURRENT_LIMIT);
        Hysteretic band = Hysteretic.currentBand(FREQUENCY, 1, 0.2, INTEGRATING, SENSE, 0.4);
        isTaken(stage().drive(band).controlLimits(), 0, 2 * SENSE * (2 + HALF_RIPPLE), Origin.FULL_LOAD);
        isTaken(
                stage().drive(band.withProtection(Protection.none().withCurrentLimit(4, 0)))
                        .controlLimits(),
                0,
                SENSE * 4,
                Origin.CURRENT_LIMIT);
    }

    /** A run in which the load grows takes the largest; a short circuit is no load. */
    @Test
    void fullLoadIsTheLargestOfARun() {
        Converter light = stage().load(Load.resistor(25)).drive(peak());
        Change heavy = Change.at(milli(1)).load(Load.resistor(2.5));
        Change shorted = Change.at(milli(2)).shortCircuit(milli(20));
        ConverterTransient run = light.startUp(milli(3), heavy, shorted);
        assertThat(run.run().circuit().controlLimits().high())
                .isEqualTo(stage().drive(peak()).controlLimits().high());
        assertThat(light.controlLimits().high())
                .isLessThan(stage().drive(peak()).controlLimits().high());
    }

    @Test
    void whereTheLoadIsNotKnownNoUpperLimitIsTaken() {
        Converter rail = stage().drive(peak());
        CircuitSignals signals = CircuitSignals.of(rail.circuit());
        Plant plant =
                new Plant("Q1", null, signals.nodeVoltage("out"), signals.current("L1"), signals.nodeVoltage("in"));
        ControlLimits unknown = peak().controlLimits(plant);
        assertThat(unknown).isEqualTo(new ControlLimits(0, UNLIMITED, Origin.UNKNOWN_LOAD));
        isTaken(
                peak().controlLimits(plant.withFullLoad(3)),
                0,
                2 * SENSE * 3 + SENSE * SLOPE / FREQUENCY,
                Origin.FULL_LOAD);
    }

    @Test
    void aCommandThatIsGivenHasNothingToWindUp() {
        ControlLimits limits = stage().drive(CurrentMode.peak(FREQUENCY, 2)).controlLimits();
        assertThat(limits.origin()).isEqualTo(Origin.NONE);
        assertThat(limits.low()).isEqualTo(Double.NEGATIVE_INFINITY);
    }

    /**
     * A rail of 5 V is overloaded for 2 ms so that its current limit acts: without limits its control voltage winds up to several
     * volts beyond a ramp of one, and the output overshoots for as long as it takes to come back.
     */
    @Test
    void anOverloadDoesNotWindUp() {
        VoltageMode bare = VoltageMode.of(FREQUENCY, 1, 0.2, INTEGRATING)
                .withMaximumDutyCycle(0.95)
                .withSoftStart(milli(1));
        Protection limit = Protection.none().withCurrentLimit(4, 0);
        Change overload = Change.at(milli(3)).load(Load.resistor(0.8));
        Change release = Change.at(milli(5)).load(Load.resistor(2.5));
        Converter held = stage().drive(bare.withProtection(limit));
        Converter free =
                stage().drive(bare.withControlLimits(-UNLIMITED, UNLIMITED).withProtection(limit));
        Waveform heldControl = control(held, held.startUp(milli(8), overload, release));
        Waveform freeControl = control(free, free.startUp(milli(8), overload, release));
        assertThat(heldControl.maximum()).isEqualTo(1);
        assertThat(heldControl.minimum()).isNotNegative();
        assertThat(freeControl.maximum()).isGreaterThan(1.1);
        assertThat(lastAboveRamp(freeControl)).isGreaterThan(milli(5));
    }

    private static Waveform control(Converter rail, ConverterTransient run) {
        return run.of(rail.driven().control("control voltage"));
    }

    /** The last of a thousand instants at which the control voltage is beyond its ramp. */
    private static double lastAboveRamp(Waveform control) {
        double last = 0;
        for (int k = 0; k <= 1000; k++) {
            double time = k * milli(8) / 1000;
            last = control.at(time) > 1 ? time : last;
        }
        return last;
    }

    /** Where a limit never binds the orbit is the same. */
    @Property(tries = 40, seed = "20260301")
    void limitsThatDoNotBindChangeNothing(
            @ForAll @DoubleRange(min = 9, max = 18) double input,
            @ForAll @DoubleRange(min = 1, max = 20) double load,
            @ForAll @DoubleRange(min = 0.5, max = 1.3) double reference,
            @ForAll boolean current) {
        Compensator compensator = Compensator.type2(1000, 3000, kilo(100));
        PowerStage stage = stage().input(input).load(Load.resistor(load));
        Converter taken;
        Converter free;
        if (current) {
            CurrentMode regulator = CurrentMode.peak(FREQUENCY, reference, 0.2, compensator, SENSE)
                    .withSlopeCompensation(2 * SLOPE);
            taken = stage.drive(regulator);
            free = stage.drive(regulator.withControlLimits(-UNLIMITED, UNLIMITED));
        } else {
            VoltageMode regulator = VoltageMode.of(FREQUENCY, reference, 0.2, compensator);
            taken = stage.drive(regulator);
            free = stage.drive(regulator.withControlLimits(-UNLIMITED, UNLIMITED));
        }
        double[] a = taken.steadyState().periodic().state();
        double[] b = free.steadyState().periodic().state();
        for (int i = 0; i < a.length; i++) {
            assertThat(a[i]).isCloseTo(b[i], within(1e-12 * Math.max(1, Math.abs(b[i]))));
        }
    }
}
