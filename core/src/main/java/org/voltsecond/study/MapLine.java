package org.voltsecond.study;

import java.util.List;

/**
 * A line in a map. Immutable.
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
