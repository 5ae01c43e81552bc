package org.voltsecond.control;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Hysteretic control: a comparator with a band holds the output voltage or the inductor current in it. There is no
 * clock; the switching frequency follows from the band and the circuit. Immutable; every {@code with} returns a new one.
 *
 * <p>A band of 0 without delay makes the comparator chatter wherever what it senses turns back at once; the run then ends
 * with an error that names the comparator.
 *
 * <pre>{@code
 * Hysteretic regulator = Hysteretic.voltageBand(kilo(300), 1, 0.2, milli(0.3)) // 1.5 mV at the output
 *         .withDelay(nano(50)); // of the comparator
 * double frequency = 1 / stage.drive(regulator).steadyState().period(); // 338 kHz
 * }</pre>
 */
public final class Hysteretic extends ComposedRegulator<FreeRunningModulator, Hysteretic> {
    private Hysteretic(Parts<FreeRunningModulator> parts) {
        super(parts);
    }

    /**
     * Returns a regulator that turns the transistor off when the sensed voltage has risen half a band above the
     * reference, and on when it has fallen half a band below.
     *
     * @param typicalFrequency about the frequency of the switching, Hz; more than 0. Nothing happens at this frequency:
     *     it sets the scale of time for the arithmetic
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param band width of the band of the sensed voltage, V; 0 or more
     * @return the regulator
     */
    public static Hysteretic voltageBand(double typicalFrequency, double reference, double divider, double band) {
        return new Hysteretic(Parts.of(
                ControlLoop.of(reference, divider, Compensator.proportional(1)),
                modulator(typicalFrequency, false, 1, band)));
    }

    /**
     * Returns a regulator that holds the inductor current in a band around a command that is given.
     *
     * @param typicalFrequency about the frequency of the switching, Hz; more than 0
     * @param currentCommand middle of the band, A; more than 0
     * @param band width of the band, A; 0 or more
     * @return the regulator
     */
    public static Hysteretic currentBand(double typicalFrequency, double currentCommand, double band) {
        return new Hysteretic(
                Parts.of(ControlLoop.ofCommand(currentCommand), modulator(typicalFrequency, true, 1, band)));
    }

    /**
     * Returns a regulator that holds the inductor current in a band around the command of a voltage loop.
     *
     * @param typicalFrequency about the frequency of the switching, Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @param band width of the band of the current, A; 0 or more
     * @return the regulator
     */
    public static Hysteretic currentBand(
            double typicalFrequency,
            double reference,
            double divider,
            Compensator compensator,
            double sense,
            double band) {
        return new Hysteretic(Parts.of(
                ControlLoop.of(reference, divider, compensator), modulator(typicalFrequency, true, sense, band)));
    }

    private static FreeRunningModulator modulator(double frequency, boolean ofCurrent, double sense, double band) {
        return new FreeRunningModulator(1 / frequency, ofCurrent, sense, band, 0, Double.POSITIVE_INFINITY, 0, false);
    }

    /**
     * Returns this regulator with a delay from the comparator's crossing to the switch.
     *
     * @param delay s; 0 or more
     * @return a new regulator
     */
    public Hysteretic withDelay(double delay) {
        return with(modulator().withDelay(delay));
    }

    /**
     * Returns this regulator with a limit of the on-time, which a stage needs whose output falls while the transistor is
     * on, if it is the output voltage that is held in the band.
     *
     * @param maximumOnTime s; more than 0, infinite for none
     * @return a new regulator
     */
    public Hysteretic withMaximumOnTime(double maximumOnTime) {
        return with(modulator().withTimes(maximumOnTime, modulator().minimumOffTime()));
    }

    /**
     * Returns this regulator with a shortest time off.
     *
     * @param minimumOffTime s; 0 or more
     * @return a new regulator
     */
    public Hysteretic withMinimumOffTime(double minimumOffTime) {
        return with(modulator().withTimes(modulator().maximumOnTime(), minimumOffTime));
    }

    /**
     * Returns this regulator with limits of the control voltage of its voltage loop, in place of those that one with a current
     * band takes of itself: from zero to the current limit of its protection or, without one, to twice the command at full load.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower
     * @return a new regulator
     */
    public Hysteretic withControlLimits(double low, double high) {
        return withLimits(new ControlLimits(low, high, ControlLimits.Origin.GIVEN));
    }

    @Override
    Hysteretic of(Parts<FreeRunningModulator> others) {
        return new Hysteretic(others);
    }

    @Override
    public String toString() {
        return "hysteretic control near " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }
}
