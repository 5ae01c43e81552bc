package org.voltsecond.study;

import java.util.List;

/**
 * A line in a map. Immutable.
 *
 * <pre>{@code
 * OperatingMap map = OperatingMap.of(
 *         rail, Axis.loadCurrent(milli(50), 1, 6), Axis.inputVoltage(9, 15, 3), List.of(), Execution.standard());
 * MapLine boundary = map.boundary().get(0);
 * MapLine.Spot lowest = boundary.spots().get(0);
 * double current = lowest.across(); // 231.9 mA
 * }</pre>
 *
 * @param spots its corners in order; of a closed line the last equals the first
 */
public record MapLine(List<Spot> spots) {
    /**
     * A place in a map.
     *
     * @param across value of the axis from left to right
     * @param up value of the axis from bottom to top
     */
    public record Spot(double across, double up) {}

    /**
     * Copies the corners.
     *
     * @param spots the corners in order
     */
    public MapLine {
        spots = List.copyOf(spots);
    }
}
