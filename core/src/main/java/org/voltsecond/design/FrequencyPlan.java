package org.voltsecond.design;

/**
 * The frequency response that a design file asks for.
 *
 * @param from lowest frequency, Hz; more than 0
 * @param to highest frequency, Hz; above the lowest
 * @param pointsPerDecade how many points in a decade at least; at least 1
 */
public record FrequencyPlan(double from, double to, int pointsPerDecade) {}
