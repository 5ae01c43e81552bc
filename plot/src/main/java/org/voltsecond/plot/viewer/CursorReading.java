package org.voltsecond.plot.viewer;

import org.voltsecond.units.Unit;

/**
 * What the two cursors read off one trace.
 *
 * <pre>{@code
 * CursorReading output = new CursorReading("output", Unit.VOLT, new CursorValue(5, 5, false), new CursorValue(5.2, 5.2, false));
 * double rise = output.difference(); // 0.2 V
 * }</pre>
 *
 * @param name name of the trace
 * @param unit unit of its values
 * @param a its value at cursor A
 * @param b its value at cursor B
 */
public record CursorReading(String name, Unit unit, CursorValue a, CursorValue b) {
    /**
     * Returns how much the trace differs from A to B; at an instant of a jump the value after it counts.
     *
     * @return value at B less value at A, in the unit of the trace; NaN where one does not exist
     */
    public double difference() {
        return b.after() - a.after();
    }
}
