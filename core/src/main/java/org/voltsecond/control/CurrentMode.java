package org.voltsecond.control;

import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.ComposedRegulator.Checks;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * Current mode: the clock begins one part of the period, and a comparator ends it when the inductor current has come to its
 * command. In peak current mode that part is the on-time, in valley current mode, its mirror image, the off-time. Above a
 * duty cycle of one half (valley: below it) the loop needs a compensating slope, or every second pulse differs (R. W.
 * Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, sec. 18.2; for the valley with the two
 * slopes exchanged). Immutable; every {@code with} returns a new one.
 *
 * <pre>{@code
 * Compensator compensator = Compensator.type2(5000, 3000, kilo(100));
 * CurrentMode regulator = CurrentMode.peak(kilo(300), 1, 0.2, compensator, 0.25) // senses 0.25 V/A
 *         .withSlopeCompensation(0.2 / micro(1)) // A/s
 *         .withBlankingTime(nano(80));
 * double dutyCycle = stage.input(9).drive(regulator).steadyState().dutyCycle(); // 0.593
 * Converter valley = stage.drive(CurrentMode.valley(kilo(300), 1.8)); // A, where the transistor turns on
 * double lowest = valley.steadyState().of(valley.inductorCurrent()).minimum(); // 1.800 A
 * }</pre>
 */
public final class CurrentMode extends ComposedRegulator<CurrentMode.CurrentModulator, CurrentMode> {
    private CurrentMode(Parts<CurrentModulator> parts) {
        super(parts);
    }

    /** At which end of its ripple the inductor current is held. */
    public enum Extreme {
        /** The comparator ends the on-time. */
        PEAK,
        /** The comparator ends the off-time. */
        VALLEY;

        String word() {
            return this == PEAK ? "peak" : "valley";
        }
    }

    /**
     * Returns the inner loop alone, without slope compensation, blanking or limit of the duty cycle. Its control voltage
     * is the command at 1 V/A.
     *
     * @param extreme at which end of its ripple the current is held
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand inductor current at which the comparator switches, A; more than 0
     * @return the regulator
     */
    public static CurrentMode of(Extreme extreme, double switchingFrequency, double currentCommand) {
        return of(extreme, ControlLoop.ofCommand(currentCommand), switchingFrequency, 1);
    }

    /**
     * Returns the inner loop under a voltage loop, without slope compensation, blanking or limit of the duty cycle.
     *
     * @param extreme at which end of its ripple the current is held
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @return the regulator
     */
    public static CurrentMode of(
            Extreme extreme,
            double switchingFrequency,
            double reference,
            double divider,
            Compensator compensator,
            double sense) {
        return of(extreme, ControlLoop.of(reference, divider, compensator), switchingFrequency, sense);
    }

    /**
     * Returns the inner loop under an error amplifier of the stage that makes the control voltage, and whose parts also hold
     * reference, soft start and limits; without slope compensation, blanking or limit of the duty cycle.
     *
     * @param extreme at which end of its ripple the current is held
     * @param switchingFrequency Hz; more than 0
     * @param sense control voltage over current command, V/A; more than 0
     * @return the regulator
     */
    public static CurrentMode withErrorAmplifier(Extreme extreme, double switchingFrequency, double sense) {
        return of(extreme, ControlPath.OfCircuit.byAmplifier(), switchingFrequency, sense);
    }

    private static CurrentMode of(Extreme extreme, ControlPath path, double switchingFrequency, double sense) {
        return new CurrentMode(Parts.of(path, new CurrentModulator(extreme, 1 / switchingFrequency, sense, 0, 0, 1)));
    }

    /**
     * Returns peak current mode with a command that is given; see {@link #of(Extreme, double, double)}.
     *
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand inductor current at which the transistor turns off, A; more than 0
     * @return the regulator
     */
    public static CurrentMode peak(double switchingFrequency, double currentCommand) {
        return of(Extreme.PEAK, switchingFrequency, currentCommand);
    }

    /**
     * Returns peak current mode under a voltage loop; see {@link #of(Extreme, double, double, double, Compensator, double)}.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @return the regulator
     */
    public static CurrentMode peak(
            double switchingFrequency, double reference, double divider, Compensator compensator, double sense) {
        return of(Extreme.PEAK, switchingFrequency, reference, divider, compensator, sense);
    }

    /**
     * Returns valley current mode with a command that is given; see {@link #of(Extreme, double, double)}.
     *
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand inductor current at which the transistor turns on, A; more than 0
     * @return the regulator
     */
    public static CurrentMode valley(double switchingFrequency, double currentCommand) {
        return of(Extreme.VALLEY, switchingFrequency, currentCommand);
    }

    /**
     * Returns valley current mode under a voltage loop; see {@link #of(Extreme, double, double, double, Compensator, double)}.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @return the regulator
     */
    public static CurrentMode valley(
            double switchingFrequency, double reference, double divider, Compensator compensator, double sense) {
        return of(Extreme.VALLEY, switchingFrequency, reference, divider, compensator, sense);
    }

    @Override
    CurrentMode of(Parts<CurrentModulator> others) {
        return new CurrentMode(others);
    }

    /**
     * Returns this regulator with a compensating slope, which brings the comparator's crossing forward: the slope times the
     * time since the clock is added to the inductor current, or in valley current mode to the command.
     *
     * @param slope referred to the inductor current, A/s; 0 or more
     * @return a new regulator
     */
    public CurrentMode withSlopeCompensation(double slope) {
        return with(modulator().withSlope(slope));
    }

    /**
     * Returns this regulator with a time after the clock in which the comparator is not listened to, which is then the
     * shortest pulse, in valley current mode the shortest time off.
     *
     * @param blanking s; 0 or more, below the longest pulse, in valley current mode below the period
     * @return a new regulator
     */
    public CurrentMode withBlankingTime(double blanking) {
        return with(modulator().withBlanking(blanking));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public CurrentMode withMaximumDutyCycle(double maximumDutyCycle) {
        return with(modulator().withMaximumDutyCycle(maximumDutyCycle));
    }

    /**
     * Returns this regulator with limits of the control voltage, and so of the current command, in place of those that it
     * takes of itself: from zero to the current limit of its protection or, without one, to twice the command at full load.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower; infinite for none
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public CurrentMode withControlLimits(double low, double high) {
        return withLimits(new ControlLimits(low, high, ControlLimits.Origin.GIVEN));
    }

    @Override
    public String toString() {
        return modulator().extreme().word() + " current mode at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }

    /**
     * The clock begins one part of the period, the comparator of the inductor current ends it: on until the current has risen to
     * the command less the compensating slope, or off until it has fallen to the command and the slope together.
     *
     * @param extreme which of the two
     * @param clockPeriod s
     * @param sense control voltage over current command, V/A
     * @param slope of the compensation, referred to the inductor current, zero at the clock, A/s
     * @param blanking time from the clock in which the comparator is not listened to, s
     * @param maximumDutyCycle longest pulse in periods
     */
    record CurrentModulator(
            Extreme extreme, double clockPeriod, double sense, double slope, double blanking, double maximumDutyCycle)
            implements Modulator {

        /** Where in the period. The comparator ends what the clock begins. */
        private enum Part {
            /** As the clock has it, and the comparator is not listened to yet. */
            BLANKED,
            /** As the clock has it. */
            BEFORE,
            /** After the comparator, until the next clock edge. */
            AFTER,
            /** Cut short: off until the next clock edge. */
            CUT
        }

        /**
         * A part of the period and what it means for the transistor.
         *
         * @param part where in the period
         * @param on whether the transistor is asked to be on
         */
        private record Stretch(Part part, boolean on) implements Pulse {}

        CurrentModulator withSlope(double newSlope) {
            return new CurrentModulator(extreme, clockPeriod, sense, newSlope, blanking, maximumDutyCycle);
        }

        CurrentModulator withBlanking(double newBlanking) {
            return new CurrentModulator(extreme, clockPeriod, sense, slope, newBlanking, maximumDutyCycle);
        }

        CurrentModulator withMaximumDutyCycle(double newMaximum) {
            return new CurrentModulator(extreme, clockPeriod, sense, slope, blanking, newMaximum);
        }

        @Override
        public boolean clockEndsPulses() {
            return !peak();
        }

        private boolean peak() {
            return extreme == Extreme.PEAK;
        }

        private double longestPulse() {
            return maximumDutyCycle * clockPeriod;
        }

        @Override
        public Comparison comparison(boolean commanded) {
            return Comparison.ofCurrent(
                    slope > 0 ? "sensed current with slope" : "sensed current", sense, commanded, 0);
        }

        @Override
        public List<String> faults() {
            double most = peak() ? longestPulse() : clockPeriod;
            String span = peak() ? "longest pulse" : "period";
            return new Checks()
                    .frequency("switching frequency", clockPeriod)
                    .positive("sense factor", sense, "V/A")
                    .notNegative("slope compensation", slope, "A/s")
                    .dutyCycle(maximumDutyCycle)
                    .require(
                            blanking >= 0 && !(blanking >= most),
                            "blanking time",
                            "0 s or more and below the " + span + " of " + Quantity.brief(most, Unit.SECOND),
                            blanking,
                            "s")
                    .faults();
        }

        @Override
        public @Nullable Instant instant(Pulse pulse) {
            if (((Stretch) pulse).part() != Part.BEFORE) {
                return null;
            }
            return peak() ? new Instant(0, 1) : new Instant(1, -1);
        }

        @Override
        public double[] dutyCycles() {
            double blind = blindTime() / clockPeriod;
            return peak() ? new double[] {blind, maximumDutyCycle} : new double[] {0, 1 - blind};
        }

        @Override
        public double @Nullable [] rampOfPulse(double begin, double duration, double[] current) {
            if (!peak()) {
                return null;
            }
            double[] ramp = current.clone();
            ramp[0] += slope * begin;
            ramp[1] += slope * duration;
            for (int k = 0; k < ramp.length; k++) {
                ramp[k] *= sense;
            }
            return ramp;
        }

        /** How long after the clock the comparator cannot switch. The longest pulse of a valley begins so late. */
        private double blindTime() {
            return peak() ? blanking : Math.max(blanking, (1 - maximumDutyCycle) * clockPeriod);
        }

        private Pulse in(Part part) {
            boolean asTheClock = part == Part.BLANKED || part == Part.BEFORE;
            return new Stretch(part, part != Part.CUT && asTheClock == peak());
        }

        @Override
        public Pulse start() {
            return in(blindTime() > 0 ? Part.BLANKED : Part.BEFORE);
        }

        @Override
        public Pulse resting() {
            return in(Part.CUT);
        }

        @Override
        public List<Pulse> pulses() {
            return Stream.of(Part.values()).map(this::in).toList();
        }

        @Override
        public List<String> faultsIn(SwitchPattern pattern) {
            return faultsIn(pattern, extreme.word());
        }

        static List<String> faultsIn(SwitchPattern pattern, String word) {
            return pattern.timing() != SwitchPattern.Timing.FOUR_SWITCH
                    ? List.of()
                    : List.of("the two legs of a four-switch stage take turns in voltage mode only, but " + word
                            + " current mode drives them; valid for it: both legs together");
        }

        @Override
        public CurrentModulator ofLeg(SwitchPattern pattern, int leg) {
            return withMaximumDutyCycle(Math.min(maximumDutyCycle, pattern.longestPulse()));
        }

        @Override
        public Next cut(Pulse pulse, Sensing sensing) {
            return Next.to(in(Part.CUT));
        }

        @Override
        public Present in(Pulse pulse, Sensing sensing, AffineForm control, Signal current) {
            double direction = peak() ? 1 : -1;
            AffineForm ramp = sensing.of(current).plusRamp(direction * slope).times(sense);
            List<PulseRule> rules = List.of();
            if (((Stretch) pulse).part() == Part.BEFORE) {
                AffineForm left = peak() ? control.plus(-1, ramp) : ramp.plus(-1, control);
                rules = List.of(new PulseRule(extreme.word() + " current comparator", left, Next.to(in(Part.AFTER))));
            }
            return new Present(List.of(), rules, end(pulse), Next.to(next(pulse)), ramp);
        }

        @Override
        public double end(Pulse pulse) {
            return switch (((Stretch) pulse).part()) {
                case BLANKED -> blindTime();
                case BEFORE -> peak() ? longestPulse() : clockPeriod;
                case AFTER, CUT -> clockPeriod;
            };
        }

        @Override
        public Pulse next(Pulse pulse) {
            boolean cutShort = peak() && maximumDutyCycle < 1;
            return switch (((Stretch) pulse).part()) {
                case BLANKED -> in(Part.BEFORE);
                case BEFORE -> cutShort ? in(Part.AFTER) : start();
                case AFTER, CUT -> start();
            };
        }

        /**
         * The compensating slope takes from the command of a peak what it adds to that of a valley: over the longest pulse, or
         * the longest time off. Where a synchronous transistor lets the current flow back, a valley of the light load lies below
         * zero.
         */
        @Override
        public ControlLimits usableControl(Plant plant, Protection protection) {
            ControlLimits current = Modulator.currentCommand(sense, plant, protection);
            if (peak()) {
                return current.with(0, current.high() + sense * slope * longestPulse());
            }
            double back = protection.letsCurrentBack(plant) ? current.high() : 0;
            return current.with(0 - back - sense * slope * clockPeriod, current.high());
        }
    }
}
