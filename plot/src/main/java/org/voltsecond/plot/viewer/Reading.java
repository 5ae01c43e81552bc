package org.voltsecond.plot.viewer;

import org.voltsecond.units.Unit;

/**
 * What the two cursors read off one trace.
 *
 * @param name name of the trace
 * @param unit unit of its values
 * @param a its value at cursor A
 * @param b its value at cursor B
 */
public record Reading(String name, Unit unit, CursorValue a, CursorValue b) {
    /**
     * Returns how much the trace differs from A to B; at an instant of a jump the value after it counts.
     *
     * @return value at B less value at A, in the unit of the trace; NaN where one does not exist
     */
    public double difference() {
        return b.after() - a.after();
    }
}
