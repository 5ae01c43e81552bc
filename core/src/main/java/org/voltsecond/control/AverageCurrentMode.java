package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.ComposedRegulator.Checks;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.control.VoltageMode.RampModulator;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * Average current mode: an inner compensator compares the inductor current with its command, and its output makes pulses with a
 * ramp, so that the mean of the current follows the command, whatever its ripple. The command is given, or comes from a voltage
 * loop. Each leg of several has an inner compensator of its own, so that they share the current. The output of the inner
 * compensator is held within the ramp. (L. Dixon, Average current mode control of switching power supplies, Unitrode application
 * note U-140, from memory.) Immutable; every {@code with} returns a new one.
 *
 * <pre>{@code
 * Compensator current = Compensator.type2(20000, 5000, kilo(150)); // of the current's error
 * Converter charging = stage.drive(AverageCurrentMode.of(kilo(300), 2, current)); // A
 * double mean = charging.steadyState().of(charging.inductorCurrent()).mean(); // 2.000 A
 * Regulator looped = AverageCurrentMode.of(kilo(300), 1, 0.2, Compensator.type2(2000, 2000, kilo(100)), 0.25, current);
 * }</pre>
 */
public final class AverageCurrentMode
        extends ComposedRegulator<AverageCurrentMode.AverageModulator, AverageCurrentMode> {
    private AverageCurrentMode(Parts<AverageModulator> parts) {
        super(parts);
    }

    /**
     * Returns the inner loop alone, whose control voltage is the command at 1 V/A, with a ramp from 0 V to 1 V.
     *
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand mean inductor current, A; more than 0
     * @param currentCompensator from the error of the current, at 1 V/A, to what the ramp is compared with
     * @return the regulator
     */
    public static AverageCurrentMode of(
            double switchingFrequency, double currentCommand, Compensator currentCompensator) {
        return of(ControlLoop.ofCommand(currentCommand), switchingFrequency, 1, currentCompensator);
    }

    /**
     * Returns the inner loop under a voltage loop, with a ramp from 0 V to 1 V.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @param currentCompensator from the error of the sensed current, V, to what the ramp is compared with
     * @return the regulator
     */
    public static AverageCurrentMode of(
            double switchingFrequency,
            double reference,
            double divider,
            Compensator compensator,
            double sense,
            Compensator currentCompensator) {
        return of(ControlLoop.of(reference, divider, compensator), switchingFrequency, sense, currentCompensator);
    }

    private static AverageCurrentMode of(ControlPath path, double frequency, double sense, Compensator compensator) {
        RampModulator ramp = new RampModulator(1 / frequency, 0, 1, 1, VoltageMode.Edge.TRAILING, true);
        return new AverageCurrentMode(Parts.of(path, new AverageModulator(ramp, sense, compensator)));
    }

    @Override
    AverageCurrentMode of(Parts<AverageModulator> others) {
        return new AverageCurrentMode(others);
    }

    /**
     * Returns this regulator with another ramp.
     *
     * @param valley lowest value, V
     * @param peak highest value, V; above the valley
     * @return a new regulator
     */
    public AverageCurrentMode withRamp(double valley, double peak) {
        return with(modulator().with(modulator().ramp().withRamp(valley, peak)));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public AverageCurrentMode withMaximumDutyCycle(double maximumDutyCycle) {
        return with(modulator().with(modulator().ramp().withMaximumDutyCycle(maximumDutyCycle)));
    }

    /**
     * Returns this regulator with limits of the control voltage, and so of the current command, in place of those that it
     * takes of itself: from zero to the current limit of its protection or, without one, to twice the command at full load.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower; infinite for none
     * @return a new regulator
     */
    public AverageCurrentMode withControlLimits(double low, double high) {
        return withLimits(new ControlLimits(low, high, ControlLimits.Origin.GIVEN));
    }

    @Override
    public String toString() {
        return "average current mode at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }

    /**
     * A loop around the inductor current, whose reference is the control voltage, and a ramp.
     *
     * @param ramp makes pulses of what the inner compensator says
     * @param sense control voltage over current command, V/A
     * @param compensator of the error of the current
     */
    record AverageModulator(RampModulator ramp, double sense, Compensator compensator) implements Modulator {
        /** Where in the pulse, and where the output of the inner compensator is. */
        private record Averaged(Pulse pulse, ControlPath.State loop) implements Pulse {
            @Override
            public boolean on() {
                return pulse.on();
            }
        }

        AverageModulator with(RampModulator other) {
            return new AverageModulator(other, sense, compensator);
        }

        /** What the control voltage adds to its reference of zero makes it follow. */
        private ControlLoop loop() {
            return ControlLoop.of(0, sense, compensator)
                    .within(new ControlLimits(ramp.valley(), ramp.peak(), ControlLimits.Origin.RAMP));
        }

        @Override
        public double clockPeriod() {
            return ramp.clockPeriod();
        }

        @Override
        public List<String> faults() {
            return new Checks()
                    .and(ramp.faults())
                    .positive("sense factor", sense, "V/A")
                    .and(compensator.faults().stream()
                            .map(AverageModulator::ofCurrent)
                            .toList())
                    .faults();
        }

        private static String ofCurrent(String text) {
            return text.replace("compensator", "current compensator");
        }

        @Override
        public Comparison comparison(boolean commanded) {
            return Comparison.ofCurrent("sensed current", sense, commanded, 0);
        }

        @Override
        public double[] dutyCycles() {
            return ramp.dutyCycles();
        }

        @Override
        public ControlLimits usableControl(Plant plant, Protection protection) {
            ControlLimits current = Modulator.currentCommand(sense, plant, protection);
            return protection.letsCurrentBack(plant) ? current.with(-current.high(), current.high()) : current;
        }

        @Override
        public List<OwnState> states() {
            return compensator.states(clockPeriod()).stream()
                    .map(state -> new OwnState(ofCurrent(state.name()), state.scale(), state.initial()))
                    .toList();
        }

        @Override
        public Pulse start() {
            return new Averaged(ramp.start(), loop().start());
        }

        @Override
        public Pulse resting() {
            return new Averaged(ramp.resting(), loop().start());
        }

        @Override
        public List<Pulse> pulses() {
            return ramp.pulses().stream()
                    .flatMap(pulse -> ControlLoop.statesAfterStart().map(state -> (Pulse) new Averaged(pulse, state)))
                    .toList();
        }

        @Override
        public double end(Pulse pulse) {
            return ramp.end(((Averaged) pulse).pulse());
        }

        @Override
        public Pulse next(Pulse pulse) {
            Averaged averaged = (Averaged) pulse;
            return new Averaged(ramp.next(averaged.pulse()), averaged.loop());
        }

        @Override
        public List<String> faultsIn(SwitchPattern pattern) {
            return CurrentMode.CurrentModulator.faultsIn(pattern, "average");
        }

        @Override
        public AverageModulator ofLeg(SwitchPattern pattern, int leg) {
            return with(ramp.ofLeg(pattern, leg));
        }

        @Override
        public Modulator ofPulsesAlone() {
            return ramp;
        }

        @Override
        public @Nullable Instant instant(Pulse pulse) {
            return ramp.instant(((Averaged) pulse).pulse());
        }

        private static Next with(Next next, ControlPath.State loop) {
            return Next.to(new Averaged(next.pulse(), loop));
        }

        @Override
        public Next cut(Pulse pulse, Sensing sensing) {
            Averaged averaged = (Averaged) pulse;
            return with(ramp.cut(averaged.pulse(), sensing), averaged.loop());
        }

        @Override
        public Present in(Pulse pulse, Sensing sensing, AffineForm control, Signal current) {
            Averaged averaged = (Averaged) pulse;
            ControlPath.Present loop = loop().in(averaged.loop(), sensing, current, control);
            Present pulses = ramp.in(averaged.pulse(), sensing, loop.control(), current);
            List<PulseRule> rules = new ArrayList<>();
            pulses.rules()
                    .forEach(rule ->
                            rules.add(new PulseRule(rule.name(), rule.form(), with(rule.then(), averaged.loop()))));
            for (ControlPath.PathRule rule : loop.rules()) {
                Next then = new Next(new Averaged(averaged.pulse(), rule.then()), rule.statesAfter(), null);
                rules.add(new PulseRule(
                        rule.name().replace("control voltage", "current compensator"), rule.form(), then));
            }
            AffineForm sensed = sensing.of(current).times(sense);
            return new Present(
                    loop.rates(), rules, pulses.endSinceTick(), with(pulses.atEnd(), averaged.loop()), sensed);
        }
    }
}
