package org.voltsecond.control;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Peak current mode: the clock turns the transistor on, and a comparator turns it off when the inductor current reaches
 * its command. Above a duty cycle of one half the loop needs a compensating slope, or every second pulse differs (R. W.
 * Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, sec. 18.2). Immutable; every
 * {@code with} returns a new one.
 *
 * <pre>{@code
 * Compensator compensator = Compensator.type2(5000, 3000, kilo(100));
 * PeakCurrentMode regulator = PeakCurrentMode.of(kilo(300), 1, 0.2, compensator, 0.25) // senses 0.25 V/A
 *         .withSlopeCompensation(0.2 / micro(1)) // A/s
 *         .withBlankingTime(nano(80));
 * double dutyCycle = stage.input(9).drive(regulator).steadyState().dutyCycle(); // 0.593
 * }</pre>
 */
public final class PeakCurrentMode extends CurrentMode<PeakCurrentMode> {
    private PeakCurrentMode(ControlPath path, CurrentTiming timing, boolean commanded) {
        super(path, timing, commanded);
    }

    /**
     * Returns the inner loop alone, without slope compensation, blanking or limit of the duty cycle. Its control voltage
     * is the command at 1 V/A.
     *
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand inductor current at which the transistor turns off, A; more than 0
     * @return the regulator
     */
    public static PeakCurrentMode of(double switchingFrequency, double currentCommand) {
        return new PeakCurrentMode(ControlLoop.open(currentCommand), CurrentTiming.of(switchingFrequency, 1), true);
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
    public static PeakCurrentMode of(
            double switchingFrequency, double reference, double divider, Compensator compensator, double sense) {
        return new PeakCurrentMode(
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
    public static PeakCurrentMode withErrorAmplifier(double switchingFrequency, double sense) {
        return new PeakCurrentMode(new AmplifiedControl(), CurrentTiming.of(switchingFrequency, sense), false);
    }

    @Override
    PeakCurrentMode with(ControlPath newPath, CurrentTiming newTiming, boolean newCommanded) {
        return new PeakCurrentMode(newPath, newTiming, newCommanded);
    }

    @Override
    Modulator modulator(CurrentTiming of) {
        return new PeakCurrentModulator(of);
    }

    @Override
    public String toString() {
        return "peak current mode at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }
}
