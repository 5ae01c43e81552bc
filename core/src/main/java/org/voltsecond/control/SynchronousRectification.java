package org.voltsecond.control;

/**
 * How the transistor that stands in for the rectifier is driven between two pulses.
 *
 * <pre>{@code
 * Protection light = Protection.none()
 *         .withSynchronousRectification(SynchronousRectification.DIODE_EMULATION, nano(30)); // dead time
 * Converter rail = stage.synchronousRectifier(milli(20), 0.8, milli(20)) // with a body diode for the dead time
 *         .load(Load.resistor(100))
 *         .drive(regulated.regulator().withProtection(light));
 * double lowest = rail.steadyState().of(rail.inductorCurrent()).minimum(); // 0.0 A
 * }</pre>
 */
public enum SynchronousRectification {
    /** On whenever the transistor that drives the inductor is off: the inductor current may reverse. */
    FORCED,
    /** Off as soon as the inductor current has come down to zero, as a rectifier would be. */
    DIODE_EMULATION,
    /** Diode emulation until the soft start is over, forced from then on: does not discharge a pre-biased output. */
    DIODE_EMULATION_AT_START
}
