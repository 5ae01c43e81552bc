package org.voltsecond.control;

/** Which edge of a pulse the control voltage moves; the clock fixes the other. */
public enum PulseEdge {
    /** The ramp rises over the period; the clock turns the transistor on, the comparator turns it off. */
    TRAILING,
    /** The ramp falls over the period; the comparator turns the transistor on, the clock turns it off. */
    LEADING,
    /** The ramp is a triangle; the comparator moves both edges. */
    BOTH
}
