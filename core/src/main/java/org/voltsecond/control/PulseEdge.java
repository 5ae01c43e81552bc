package org.voltsecond.control;

/**
 * Which edge of a pulse the control voltage moves; the clock fixes the other.
 *
 * <pre>{@code
 * VoltageMode leading = VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
 *         .withRamp(0, 1)
 *         .withModulation(PulseEdge.LEADING, true); // the clock turns off; one pulse a period
 * }</pre>
 */
public enum PulseEdge {
    /** The ramp rises over the period; the clock turns the transistor on, the comparator turns it off. */
    TRAILING,
    /** The ramp falls over the period; the comparator turns the transistor on, the clock turns it off. */
    LEADING,
    /** The ramp is a triangle; the comparator moves both edges. */
    BOTH
}
