package org.voltsecond.plot;

/**
 * A level to be marked in one panel, for example the highest permitted voltage.
 *
 * @param value the level, in the unit of the panel
 * @param label what it means; short; blank where the heading of the panel says it
 */
record Limit(double value, String label) {}
