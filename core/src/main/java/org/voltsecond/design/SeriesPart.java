package org.voltsecond.design;

/**
 * An inductor or a capacitor with its series resistance.
 *
 * @param value inductance, H, or capacitance, F; more than 0
 * @param resistance series resistance, Ω; 0 or more
 */
public record SeriesPart(double value, double resistance) {}
