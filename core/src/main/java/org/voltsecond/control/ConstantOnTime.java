package org.voltsecond.control;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Constant on-time control: whenever the sensed voltage lies below the reference, and at least a minimum time after the
 * last pulse, the transistor turns on for a fixed time. There is no clock. The loop is stable if the ripple that the
 * comparator sees is in phase with the inductor current, which the resistance of the output capacitor provides if its
 * product with the capacitance is more than half the on-time (R. Redl, J. Sun, Ripple-based control of switching
 * regulators: an overview, IEEE Trans. Power Electron. 24(12):2669-2680, 2009, from memory). Immutable; every {@code
 * with} returns a new one.
 *
 * <pre>{@code
 * ConstantOnTime regulator = ConstantOnTime.of(kilo(300), 1, 0.2, micro(1.5), nano(300));
 * Converter free = stage.outputCapacitor(micro(47), milli(20)).drive(regulator); // enough ripple to be stable
 * double frequency = 1 / free.steadyState().period(); // 299 kHz
 * }</pre>
 */
public final class ConstantOnTime extends ComposedRegulator<Hysteretic.FreeRunning, ConstantOnTime> {
    private ConstantOnTime(Parts<Hysteretic.FreeRunning> parts) {
        super(parts);
    }

    /**
     * Returns a regulator without delay and soft start.
     *
     * @param typicalFrequency about the frequency of the switching, Hz; more than 0. Nothing happens at this frequency:
     *     it sets the scale of time for the arithmetic
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param onTime length of every pulse, s; more than 0
     * @param minimumOffTime shortest time from a pulse to the next, s; 0 or more
     * @return the regulator
     */
    public static ConstantOnTime of(
            double typicalFrequency, double reference, double divider, double onTime, double minimumOffTime) {
        return new ConstantOnTime(Parts.of(
                ControlLoop.of(reference, divider, Compensator.proportional(1)),
                new Hysteretic.FreeRunning(1 / typicalFrequency, false, 1, 0, 0, onTime, minimumOffTime, true)));
    }

    /**
     * Returns this regulator with a delay from the comparator's crossing to the switch; the on-time itself stays.
     *
     * @param delay s; 0 or more
     * @return a new regulator
     */
    public ConstantOnTime withDelay(double delay) {
        return with(modulator().withDelay(delay));
    }

    @Override
    ConstantOnTime of(Parts<Hysteretic.FreeRunning> others) {
        return new ConstantOnTime(others);
    }

    @Override
    public String toString() {
        return "constant on-time control near " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }
}
