package org.voltsecond.waveform;

/**
 * An instant at which a waveform passes through a level, steadily or by a jump.
 *
 * @param time when, s
 * @param rising whether the waveform is above the level afterwards
 */
public record Crossing(double time, boolean rising) {}
