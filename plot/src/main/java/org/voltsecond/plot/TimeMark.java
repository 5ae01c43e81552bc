package org.voltsecond.plot;

/**
 * An instant to be marked in all panels, for example a load step.
 *
 * @param time when, s
 * @param label what happens then; short
 */
public record TimeMark(double time, String label) {}
