package org.voltsecond.study;

/**
 * A range of an operating quantity.
 *
 * @param low the lowest value, in the unit of the quantity
 * @param high the highest value, not below the lowest
 */
public record SizingRange(double low, double high) {}
