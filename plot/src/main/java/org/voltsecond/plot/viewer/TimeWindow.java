package org.voltsecond.plot.viewer;

/**
 * A stretch of time.
 *
 * @param from start, s
 * @param to end, s; after the start
 */
record TimeWindow(double from, double to) {
    /** Shorter than this part of the whole nothing is shown; far below one switching period of any run. */
    private static final double SHORTEST_PART = 1e-9;

    /** So many steps of the clock of a double are needed for a straight line to look straight. */
    private static final double FEWEST_ULPS = 1e5;

    double length() {
        return to - from;
    }

    double middle() {
        return from + 0.5 * length();
    }

    boolean contains(double time) {
        return time >= from && time <= to;
    }

    double nearest(double time) {
        return Math.max(from, Math.min(to, time));
    }

    /** Scaled about a time, which keeps its place. */
    TimeWindow zoomed(double factor, double about) {
        return new TimeWindow(about - (about - from) * factor, about + (to - about) * factor);
    }

    TimeWindow shifted(double by) {
        return new TimeWindow(from + by, to + by);
    }

    /** This window, made long enough to be drawn and moved into the whole; the whole if it is longer. */
    TimeWindow within(TimeWindow whole) {
        double shortest = Math.max(
                SHORTEST_PART * whole.length(),
                FEWEST_ULPS * Math.ulp(Math.max(Math.abs(whole.from), Math.abs(whole.to))));
        if (!(length() < whole.length()) || !(shortest < whole.length())) {
            return whole;
        }
        if (length() >= shortest && from >= whole.from && to <= whole.to) {
            return this;
        }
        double length = Math.max(length(), shortest);
        double start = Math.max(whole.from, Math.min(middle() - 0.5 * length, whole.to - length));
        double end = middle() + 0.5 * length >= whole.to ? whole.to : Math.min(whole.to, start + length);
        return new TimeWindow(start, end);
    }
}
