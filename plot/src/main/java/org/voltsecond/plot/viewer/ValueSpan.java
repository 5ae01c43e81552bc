package org.voltsecond.plot.viewer;

/**
 * What the value axis of a panel shows.
 *
 * @param low value at the bottom
 * @param high value at the top
 */
record ValueSpan(double low, double high) {
    /** So many steps of a double are needed for an axis to be labelled. */
    private static final double FEWEST_ULPS = 1e5;

    ValueSpan zoomed(double factor, double about) {
        return new ValueSpan(about - (about - low) * factor, about + (high - about) * factor);
    }

    boolean canBeDrawn() {
        double largest = Math.max(Math.abs(low), Math.abs(high));
        return high - low > FEWEST_ULPS * Math.ulp(largest) && Double.isFinite(high - low);
    }
}
