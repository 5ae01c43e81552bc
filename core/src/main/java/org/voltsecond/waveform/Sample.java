package org.voltsecond.waveform;

/**
 * One value of a waveform.
 *
 * @param time when, s
 * @param value the value, in the unit of the waveform
 */
public record Sample(double time, double value) {}
