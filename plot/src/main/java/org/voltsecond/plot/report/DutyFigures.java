package org.voltsecond.plot.report;

/**
 * Duty cycles of the whole switching cycles between two instants.
 *
 * @param minimum the smallest
 * @param maximum the largest
 * @param last that of the last whole cycle
 */
public record DutyFigures(double minimum, double maximum, double last) {}
