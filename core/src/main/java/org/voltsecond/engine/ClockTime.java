package org.voltsecond.engine;

/**
 * An instant as a count of clock periods and the time since that clock edge, so that long runs lose no digits.
 *
 * <pre>{@code
 * ClockTime instant = ClockTime.from(micro(10.5), micro(4));
 * long tick = instant.tick(); // 2
 * double rest = instant.sinceTick(); // 2.5 µs
 * }</pre>
 *
 * @param tick number of whole clock periods since the start
 * @param sinceTick time since that clock edge, s; from 0 up to, but not including, one period
 */
public record ClockTime(long tick, double sinceTick) implements Comparable<ClockTime> {
    /** The start of a run. */
    public static final ClockTime ZERO = new ClockTime(0, 0);

    /**
     * Returns the instant a given time after the start. A time within a few units in the last place of a clock edge is
     * taken to be that edge.
     *
     * @param seconds time since the start, s; not negative
     * @param clockPeriod the clock period, s; positive
     * @return the instant
     * @throws IllegalArgumentException if a value is out of range
     */
    public static ClockTime from(double seconds, double clockPeriod) {
        if (!(seconds >= 0) || !(clockPeriod > 0) || !(seconds / clockPeriod < 1e15)) {
            throw new IllegalArgumentException("a time must be from 0 s to 1e15 clock periods but was " + seconds
                    + " s at a clock period of " + clockPeriod + " s");
        }
        double nearest = Math.rint(seconds / clockPeriod);
        if (Math.abs(seconds - nearest * clockPeriod) <= 4 * Math.ulp(seconds)) {
            return new ClockTime((long) nearest, 0);
        }
        long tick = (long) Math.floor(seconds / clockPeriod);
        double rest = Math.max(0, seconds - tick * clockPeriod);
        return rest >= clockPeriod ? new ClockTime(tick + 1, 0) : new ClockTime(tick, rest);
    }

    /**
     * Returns the time since the start.
     *
     * @param clockPeriod the clock period, s
     * @return the time, s
     */
    public double seconds(double clockPeriod) {
        return tick * clockPeriod + sinceTick;
    }

    @Override
    public int compareTo(ClockTime other) {
        int ticks = Long.compare(tick, other.tick);
        return ticks != 0 ? ticks : Double.compare(sinceTick, other.sinceTick);
    }
}
