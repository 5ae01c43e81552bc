package org.voltsecond.control;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Valley current mode: the clock turns the transistor off, and a comparator turns it on when the inductor current has
 * fallen to its command. It is the mirror image of {@link PeakCurrentMode}: below a duty cycle of one half it needs a
 * compensating slope, or every second pulse differs (R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics,
 * 3rd ed., Springer 2020, sec. 18.2, with the two slopes exchanged). Immutable; every {@code with} returns a new one.
 *
 * <pre>{@code
 * ValleyCurrentMode regulator = ValleyCurrentMode.of(kilo(300), 1.8) // A, where the transistor turns on
 *         .withSlopeCompensation(0.2 / micro(1)); // A/s, which comes on top
 * Converter valley = stage.drive(regulator);
 * double lowest = valley.steadyState().of(valley.inductorCurrent()).minimum(); // 2.12 A
 * }</pre>
 */
public final class ValleyCurrentMode extends CurrentMode<ValleyCurrentMode> {
    private ValleyCurrentMode(ControlPath path, CurrentTiming timing, boolean commanded) {
        super(path, timing, commanded);
    }

    /**
     * Returns the inner loop alone, without slope compensation, blanking or limit of the duty cycle. Its control voltage
     * is the command at 1 V/A.
     *
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand inductor current at which the transistor turns on, A; more than 0
     * @return the regulator
     */
    public static ValleyCurrentMode of(double switchingFrequency, double currentCommand) {
        return new ValleyCurrentMode(ControlLoop.open(currentCommand), CurrentTiming.of(switchingFrequency, 1), true);
    }

    /**
     * Returns the inner loop under a voltage loop, without slope compensation, blanking or limit of the duty cycle.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @return the regulator
     */
    public static ValleyCurrentMode of(
            double switchingFrequency, double reference, double divider, Compensator compensator, double sense) {
        return new ValleyCurrentMode(
                ControlLoop.of(reference, divider, compensator), CurrentTiming.of(switchingFrequency, sense), false);
    }

    /**
     * Returns the inner loop under an error amplifier of the stage that makes the control voltage, and whose parts also hold
     * reference, soft start and limits; without slope compensation, blanking or limit of the duty cycle.
     *
     * @param switchingFrequency Hz; more than 0
     * @param sense control voltage over current command, V/A; more than 0
     * @return the regulator
     */
    public static ValleyCurrentMode withErrorAmplifier(double switchingFrequency, double sense) {
        return new ValleyCurrentMode(new AmplifiedControl(), CurrentTiming.of(switchingFrequency, sense), false);
    }

    @Override
    ValleyCurrentMode with(ControlPath newPath, CurrentTiming newTiming, boolean newCommanded) {
        return new ValleyCurrentMode(newPath, newTiming, newCommanded);
    }

    @Override
    Modulator modulator(CurrentTiming of) {
        return new ValleyCurrentModulator(of);
    }

    @Override
    public String toString() {
        return "valley current mode at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }
}
