package org.voltsecond.bench;

import org.voltsecond.units.Unit;

/**
 * What to read from a capture file.
 *
 * <pre>{@code
 * CaptureChoice first = CaptureChoice.first(Unit.VOLT);
 * CaptureChoice named = new CaptureChoice(Unit.AMPERE, "coil", 4e-9); // no column of times, a sample every 4 ns
 * }</pre>
 *
 * @param unit the unit of the channel, of which its heading may name a multiple, as in "(mV)"
 * @param channel the heading of its column without unit, or its number, from 1, not counting the column of times
 * @param sampleInterval time from row to row, s, for a file without a column of times; NaN if the first column is the time
 */
public record CaptureChoice(Unit unit, String channel, double sampleInterval) {
    /**
     * Returns the choice of the first channel, by the times in the first column.
     *
     * @param unit the unit of the channel
     * @return the choice
     */
    public static CaptureChoice first(Unit unit) {
        return new CaptureChoice(unit, "1", Double.NaN);
    }
}
