package org.voltsecond.waveform;

/** Which of the two values of a waveform is meant at an instant at which it jumps. */
public enum Side {
    /** The limit from the left: the value just before the instant. */
    BEFORE,
    /** The limit from the right: the value just after the instant. */
    AFTER
}
