package org.voltsecond.control;

/** How the transistor that stands in for the rectifier is driven between two pulses. */
public enum SynchronousRectification {
    /** On whenever the transistor that drives the inductor is off: the inductor current may reverse. */
    FORCED,
    /** Off as soon as the inductor current has come down to zero, as a rectifier would be. */
    DIODE_EMULATION,
    /** Diode emulation until the soft start is over, forced from then on: does not discharge a pre-biased output. */
    DIODE_EMULATION_AT_START
}
