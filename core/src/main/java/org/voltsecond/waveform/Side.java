package org.voltsecond.waveform;

/**
 * Which of the two values of a waveform is meant at an instant at which it jumps.
 *
 * <pre>{@code
 * Waveform node = steady.of(rail.switchNode());
 * double turnOff = steady.onTime(); // 1.500 µs
 * double before = node.at(turnOff, Side.BEFORE); // 11.82 V
 * double after = node.at(turnOff, Side.AFTER); // -0.4448 V
 * }</pre>
 */
public enum Side {
    /** The limit from the left: the value just before the instant. */
    BEFORE,
    /** The limit from the right: the value just after the instant. */
    AFTER
}
