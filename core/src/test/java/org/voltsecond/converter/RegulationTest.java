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
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.ControlLimits;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.Limiter;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.SampledControl;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/**
 * What is said about regulation, each case with an output that is known by hand: that of an ideal synchronous buck is its input
 * times its duty cycle.
 */
class RegulationTest {
    private static final double INPUT = 12;
    private static final double FREQUENCY = 300e3;
    private static final Compensator INTEGRATING = Compensator.type2(1500, 4557, kilo(100));

    /** Ideal but for the resistance of the output capacitor, which the output voltage does not know in the mean. */
    private static PowerStage ideal(Topology topology) {
        return PowerStage.of(topology)
                .input(INPUT)
                .inductor(micro(22))
                .outputCapacitor(micro(47), milli(5))
                .load(Load.resistor(2.5));
    }

    private static PowerStage buck() {
        return ideal(Topology.BUCK).synchronousRectifier(0);
    }

    private static VoltageMode voltageMode(double target, Compensator compensator) {
        return VoltageMode.of(FREQUENCY, 0.2 * target, 0.2, compensator);
    }

    private static CurrentMode peak(double target) {
        return CurrentMode.peak(FREQUENCY, 0.2 * target, 0.2, Compensator.type2(5000, 3000, kilo(100)), 0.25)
                .withSlopeCompensation(0.2 / micro(1));
    }

    private static OutputRegulation of(Converter converter) {
        return converter.steadyState().regulation().orElseThrow();
    }

    private static void isHeld(OutputRegulation regulation, Limiter by, double output) {
        assertThat(regulation.heldBy()).contains(by);
        assertThat(regulation.inRegulation()).isFalse();
        assertThat(regulation.target() + regulation.error()).isCloseTo(output, within(1e-6));
        assertThat(regulation).hasToString("out of regulation: " + by.words());
    }

    @Test
    void anIntegratingLoopIsAtItsTargetToTheLastDigits() {
        for (Topology topology : List.of(Topology.BUCK, Topology.BOOST, Topology.INVERTING_BUCK_BOOST)) {
            double target = topology == Topology.BOOST ? 20 : 5;
            Converter rail = ideal(topology)
                    .rectifier(0.4, milli(20))
                    .load(Load.resistor(target / 0.5))
                    .drive(CurrentMode.peak(FREQUENCY, 0.2 * target, 0.2, Compensator.type2(300, 300, kilo(100)), 0.25)
                            .withSlopeCompensation(0.3 / micro(1)));
            OutputRegulation regulation = of(rail);
            assertThat(regulation.heldBy()).isEmpty();
            assertThat(regulation.inRegulation()).isTrue();
            assertThat(regulation.target()).isEqualTo(target);
            assertThat(regulation.error()).isCloseTo(0, within(1e-9 * target));
        }
    }

    /** By hand: the control voltage is g (r - k V), the duty cycle the same over a ramp of 1 V, the output D times the input. */
    @Test
    void theErrorOfAPlainGainIsOfTheDesign() {
        double gain = 3;
        OutputRegulation regulation = of(buck().drive(voltageMode(5, Compensator.proportional(gain))));
        assertThat(regulation.inRegulation()).isTrue();
        double averaged = gain / (1 / INPUT + 0.2 * gain);
        // the comparator looks at the ripple of some millivolts, of which the average knows nothing
        assertThat(regulation.target() + regulation.error()).isCloseTo(averaged, within(0.02));
        assertThat(regulation.error()).isLessThan(-0.5);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.95, 0.6, 1})
    void moreThanTheInputGivesIsTheMaximumDutyCycle(double maximum) {
        isHeld(
                of(buck().drive(voltageMode(15, INTEGRATING).withMaximumDutyCycle(maximum))),
                Limiter.MAXIMUM_DUTY_CYCLE,
                maximum * INPUT);
    }

    @ParameterizedTest
    @EnumSource(VoltageMode.Edge.class)
    void atEitherEdgeOfThePulse(VoltageMode.Edge edge) {
        VoltageMode regulator =
                voltageMode(15, INTEGRATING).withMaximumDutyCycle(0.9).withModulation(edge, true);
        isHeld(of(buck().drive(regulator)), Limiter.MAXIMUM_DUTY_CYCLE, 0.9 * INPUT);
    }

    @ParameterizedTest
    @EnumSource(VoltageMode.Edge.class)
    void aControlVoltageAtALimitWithinTheRampHoldsTheDutyCycleThere(VoltageMode.Edge edge) {
        VoltageMode regulator =
                voltageMode(5, INTEGRATING).withControlLimits(0, 0.3).withModulation(edge, true);
        isHeld(of(buck().drive(regulator)), Limiter.CONTROL_LIMIT, 0.3 * INPUT);
    }

    @Test
    void currentModeAtItsLongestPulse() {
        isHeld(of(buck().drive(peak(5).withMaximumDutyCycle(0.3))), Limiter.MAXIMUM_DUTY_CYCLE, 0.3 * INPUT);
        CurrentMode valley = CurrentMode.valley(FREQUENCY, 1, 0.2, Compensator.type2(5000, 3000, kilo(100)), 0.25)
                .withMaximumDutyCycle(0.3);
        isHeld(of(buck().drive(valley)), Limiter.MAXIMUM_DUTY_CYCLE, 0.3 * INPUT);
    }

    /**
     * The crest of the current is the limit; its mean lies half a ripple of (Vin - V) D T / L below, but for the curvature that the
     * ripple of the output brings in.
     */
    @ParameterizedTest
    @ValueSource(doubles = {0, 100e-9})
    void anOverloadIsHeldByTheCurrentLimit(double blanking) {
        for (Regulator regulator : new Regulator[] {voltageMode(5, INTEGRATING), peak(5)}) {
            Converter rail = buck().load(Load.resistor(0.5))
                    .drive(regulator.withProtection(Protection.none().withCurrentLimit(4, blanking)));
            ConverterSteadyState steady = rail.steadyState();
            assertThat(steady.of(rail.inductorCurrent()).maximum()).isCloseTo(4, within(1e-12));
            OutputRegulation regulation = steady.regulation().orElseThrow();
            double output = regulation.target() + regulation.error();
            double duty = output / INPUT;
            double ripple = (INPUT - output) * duty / FREQUENCY / micro(22);
            assertThat(output / 0.5).isCloseTo(4 - ripple / 2, within(1e-4));
            isHeld(regulation, Limiter.CURRENT_LIMIT, output);
        }
    }

    @Test
    void blankingIsTheShortestPulseOfCurrentMode() {
        isHeld(of(buck().drive(peak(1).withBlankingTime(micro(1)))), Limiter.MINIMUM_ON_TIME, 0.3 * INPUT);
    }

    /** A control voltage that hardly moves asks for 5 % of the period and gets 20 %. */
    @Test
    void aMinimumOnTimeHoldsTheOutputAbove() {
        Regulator regulator = voltageMode(0.5, Compensator.proportional(1e-4, 0.05))
                .withProtection(Protection.none().withMinimumOnTime(0.2 / FREQUENCY));
        isHeld(of(buck().drive(regulator)), Limiter.MINIMUM_ON_TIME, 0.2 * INPUT);
    }

    @Test
    void aBoostThatIsAskedToGoBelowItsInputPassesIt() {
        Converter boost = ideal(Topology.BOOST).synchronousRectifier(0).drive(voltageMode(5, INTEGRATING));
        isHeld(of(boost), Limiter.INPUT_VOLTAGE, INPUT);
        Converter diode = ideal(Topology.BOOST).rectifier(0.4, 0).drive(peak(5).withBlankingTime(nano(100)));
        OutputRegulation regulation = of(diode);
        assertThat(regulation.heldBy()).contains(Limiter.INPUT_VOLTAGE);
        assertThat(regulation.error()).isGreaterThan(6.6);
    }

    /** Nothing discharges the capacitor, and so any voltage above the target stays. */
    @Test
    void withoutALoadAnOutputThatIsTooHighStays() {
        Converter rail =
                ideal(Topology.BUCK).rectifier(0.4, 0).load(Load.current(0)).drive(voltageMode(5, INTEGRATING));
        DrivenCircuit circuit = rail.driven().running();
        double[] charged = circuit.restState();
        charged[1] = 6;
        SteadyState orbit = SteadyState.of(circuit, charged, 1);
        isHeld(OutputRegulation.of(orbit, rail.outputVoltage(), 5, rail.controlLimits()), Limiter.NO_LOAD_SKIP, 6);
    }

    /** 7.2 V under a lock-out that lets go at 8 V: the regulator never starts, and all that is stored dies out. */
    @Test
    void underALockoutNothingSwitches() {
        Regulator[] regulators = {
            voltageMode(5, INTEGRATING).withSoftStart(1e-3),
            peak(5),
            ConstantOnTime.of(FREQUENCY, 1, 0.2, micro(1.4), nano(300))
        };
        for (Regulator regulator : regulators) {
            Converter rail = ideal(Topology.BUCK)
                    .input(7.2)
                    .outputCapacitor(micro(47), milli(40))
                    .rectifier(0.4, 0)
                    .drive(regulator.withProtection(Protection.none().withUndervoltageLockout(7, 8)));
            ConverterSteadyState steady = rail.steadyState();
            assertThat(steady.onTime()).isZero();
            assertThat(steady.periodic().isStable()).isTrue();
            isHeld(steady.regulation().orElseThrow(), Limiter.UNDERVOLTAGE_LOCKOUT, 0);
            assertThat(of(rail.withInput(8.1)).inRegulation()).isTrue();
        }
    }

    @Test
    void aBoostThatIsLockedOutPassesItsInput() {
        Converter rail = ideal(Topology.BOOST)
                .rectifier(0.4, 0)
                .drive(voltageMode(20, Compensator.type2(150, 4557, kilo(100)))
                        .withProtection(Protection.none().withUndervoltageLockout(14, 15)));
        isHeld(of(rail), Limiter.UNDERVOLTAGE_LOCKOUT, INPUT - 0.4);
    }

    /** Start, eight limited pulses, a pause of 1 ms, and from the beginning: that repeats, and is what becomes of an overload. */
    @Test
    void anOverloadThatMakesTheRegulatorPauseRepeatsFromStartToStart() {
        Regulator regulator = voltageMode(5, INTEGRATING)
                .withSoftStart(milli(0.3))
                .withProtection(Protection.none().withCurrentLimit(4, 0).withHiccup(8, milli(1)));
        Converter rail = ideal(Topology.BUCK)
                .rectifier(0.4, milli(20))
                .load(Load.resistor(0.5))
                .drive(regulator);
        ConverterSteadyState steady = rail.steadyState();
        assertThat(steady.regulation().orElseThrow().heldBy()).contains(Limiter.HICCUP);
        assertThat(steady.period()).isGreaterThan(1e-3).isLessThan(1.4e-3);
        assertThat(steady.period() * FREQUENCY).isCloseTo(Math.rint(steady.period() * FREQUENCY), within(1e-9));
        assertThat(steady.of(rail.inductorCurrent()).maximum()).isCloseTo(4, within(1e-12));
        // a long run from rest does the same
        double end = 12 * steady.period();
        ConverterTransient run = rail.startUp(end);
        assertThat(run.of(rail.outputVoltage())
                        .between(end - steady.period(), end)
                        .mean())
                .isCloseTo(steady.of(rail.outputVoltage()).mean(), within(1e-9));
        assertThat(of(rail.withLoad(Load.resistor(2.5))).inRegulation()).isTrue();
    }

    @Test
    void comparatorsWithoutAClockDecideBesideTheirTarget() {
        PowerStage ripple = buck().outputCapacitor(micro(47), milli(40));
        OutputRegulation band = of(ripple.drive(Hysteretic.voltageBand(FREQUENCY, 1, 0.2, milli(4))));
        assertThat(band.inRegulation()).isTrue();
        OutputRegulation onTime = of(ripple.drive(ConstantOnTime.of(FREQUENCY, 1, 0.2, micro(1.4), nano(300))));
        assertThat(onTime.inRegulation()).isTrue();
        assertThat(onTime.error()).isBetween(1e-3, 20e-3); // the valley is at the target, the mean half a ripple above
        assertThat(onTime.controlLimits().origin()).isEqualTo(ControlLimits.Origin.NONE);
    }

    /** Pulses of 1.4 µs every 1.7 µs at most. */
    @Test
    void constantOnTimeAtItsShortestPauseIsAtItsMaximumDutyCycle() {
        PowerStage ripple = buck().outputCapacitor(micro(47), milli(40));
        isHeld(
                of(ripple.drive(ConstantOnTime.of(FREQUENCY, 2.4, 0.2, micro(1.4), nano(300)))),
                Limiter.MAXIMUM_DUTY_CYCLE,
                INPUT * 1.4 / 1.7);
    }

    @Test
    void digitalControlAtItsMaximum() {
        SampledControl regulator =
                SampledControl.of(FREQUENCY, 3, 0.2, 0.02).withDenominator(-1).withMaximumDutyCycle(0.9);
        OutputRegulation regulation = of(buck().drive(regulator));
        isHeld(regulation, Limiter.MAXIMUM_DUTY_CYCLE, 0.9 * INPUT);
        assertThat(regulation.controlLimits()).isEqualTo(new ControlLimits(0, 0.9, ControlLimits.Origin.DUTY_CYCLE));
    }

    @Test
    void anAmplifierOfPartsHasItsOwnTargetAndLimits() {
        ErrorAmplifier amplifier = new ErrorAmplifier(
                1,
                0.2,
                OperationalAmplifier.of(1e5, 10e6, 0.1, 0.3),
                kilo(20),
                new ErrorAmplifier.Branch(kilo(1), nano(33)),
                ErrorAmplifier.Branch.NONE,
                nano(1.5));
        OutputRegulation regulation = of(buck().drive(VoltageMode.withErrorAmplifier(FREQUENCY), amplifier));
        assertThat(regulation.controlLimits()).isEqualTo(new ControlLimits(0.1, 0.3, ControlLimits.Origin.AMPLIFIER));
        isHeld(regulation, Limiter.CONTROL_LIMIT, 0.3 * INPUT);
    }

    @Test
    void whatIsNotRegulatedHasNoVerdict() {
        assertThat(buck().drive(CurrentMode.peak(FREQUENCY, 2)).steadyState().regulation())
                .isEmpty();
        assertThat(buck().drive(Drive.fixedDuty(0.4, FREQUENCY)).steadyState().regulation())
                .isEmpty();
    }
}
