package org.voltsecond.control;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

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
public final class CurrentMode extends ComposedRegulator<CurrentModulator, CurrentMode> {
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
        return of(extreme, CircuitControl.byAmplifier(), switchingFrequency, sense);
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
}
