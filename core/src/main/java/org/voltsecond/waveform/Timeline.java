package org.voltsecond.waveform;

import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory;

/**
 * Where the spans of a waveform begin and end. A span is an interval of a trajectory that lasts; intervals of no
 * duration (simultaneous events) carry no value and are left out.
 */
final class Timeline {
    /** Times this close (in units in the last place) to the end of a span are taken to be that end. */
    private static final double SNAP_ULPS = 4;

    /** The share of time in cycles so long that one does not look at them to find the usual one. */
    private static final double RARE = 0.05;

    /** With fewer cycles in a picture each takes some ten pixels and is seen as it is. */
    private static final int FEWEST_CYCLES = 100;

    /** A window of whole cycles, cut by times that are rounded, holds them all. */
    private static final double CYCLE_ROUNDING = 1e-9;

    private static final Object EXPLICIT = new Object();

    private final Object source;
    private final int[] intervals;
    private final double[] bounds;

    private Timeline(Object source, int[] intervals, double[] bounds) {
        this.source = source;
        this.intervals = intervals;
        this.bounds = bounds;
    }

    static Timeline of(Trajectory trajectory) {
        int size = trajectory.size();
        int[] intervals = new int[size];
        double[] bounds = new double[size + 1];
        int count = 0;
        for (int i = 0; i < size; i++) {
            double start = trajectory.interval(i).start();
            double end = i + 1 < size ? trajectory.interval(i + 1).start() : trajectory.end();
            if (end > start) {
                intervals[count] = i;
                bounds[count++] = start;
            }
        }
        if (count == 0) {
            throw new IllegalArgumentException("a waveform needs a trajectory that lasts, but this one goes from "
                    + trajectory.start() + " s to " + trajectory.end() + " s; record a longer duration");
        }
        bounds[count] = trajectory.end();
        return new Timeline(trajectory, Arrays.copyOf(intervals, count), Arrays.copyOf(bounds, count + 1));
    }

    static Timeline of(String name, List<Piece> pieces) {
        if (pieces.isEmpty()) {
            throw new IllegalArgumentException("waveform " + name + ": at least one piece is needed but there is none");
        }
        requireNoGaps(name, pieces);
        int[] intervals = new int[pieces.size()];
        double[] bounds = new double[pieces.size() + 1];
        for (int i = 0; i < intervals.length; i++) {
            intervals[i] = i;
            bounds[i] = pieces.get(i).start();
            bounds[i + 1] = pieces.get(i).end();
        }
        return new Timeline(EXPLICIT, intervals, bounds);
    }

    private static void requireNoGaps(String name, List<Piece> pieces) {
        for (int i = 0; i < pieces.size(); i++) {
            Piece piece = pieces.get(i);
            double gap = i == 0 ? 0 : piece.start() - pieces.get(i - 1).end();
            // late in a run the times themselves are no finer than their last digits
            double rounding = 1e-9 * piece.length() + 4 * Math.ulp(piece.start());
            if (!(piece.length() > 0) || !(Math.abs(gap) <= rounding)) {
                throw new IllegalArgumentException(
                        "waveform " + name + ": pieces must last and follow each other without "
                                + "a gap, but piece " + i + " begins at " + piece.start() + " s, " + gap
                                + " s after the end of the one before, and lasts " + piece.length() + " s");
            }
        }
    }

    int size() {
        return intervals.length;
    }

    /** The position of a span in the trajectory. */
    int interval(int span) {
        return intervals[span];
    }

    double start() {
        return bounds[0];
    }

    double end() {
        return bounds[bounds.length - 1];
    }

    double start(int span) {
        return bounds[span];
    }

    double end(int span) {
        return bounds[span + 1];
    }

    /**
     * How long a switching cycle lasts, s: the period of the clock, or without one the time until a phase comes back, as it
     * is for nearly all of the time; 0 where there are no phases.
     */
    double cycle() {
        if (!(source instanceof Trajectory trajectory)) {
            return 0;
        }
        IdentityHashMap<Phase, Integer> last = new IdentityHashMap<>();
        TreeMap<Double, Double> shares = new TreeMap<>();
        for (int span = size() - 1; span >= 0; span--) {
            Phase phase = trajectory.interval(intervals[span]).phase();
            if (phase.endSinceTick() < Double.POSITIVE_INFINITY) {
                return trajectory.clockPeriod();
            }
            Integer next = last.put(phase, span);
            if (next != null) {
                shares.merge(start(next) - start(span), end(span) - start(span), Double::sum);
            }
        }
        double beyond =
                RARE * shares.values().stream().mapToDouble(share -> share).sum();
        for (var share : shares.descendingMap().entrySet()) {
            beyond -= share.getValue();
            if (beyond < 0) {
                return share.getKey();
            }
        }
        return 0;
    }

    /** Into how many columns this can be divided without one that is shorter than a cycle, if there are many cycles. */
    int columnsOfCycles(int most) {
        double cycles = Math.floor((end() - start()) / cycle() * (1 + CYCLE_ROUNDING));
        return cycles < FEWEST_CYCLES ? most : (int) Math.min(most, cycles);
    }

    boolean matches(Timeline other) {
        return source == other.source && Arrays.equals(bounds, other.bounds);
    }

    void requireMatch(Timeline other, String name, String otherName) {
        if (!matches(other)) {
            throw new IllegalArgumentException("waveforms " + name + " " + this + " and " + otherName + " " + other
                    + " must stand over the same time of the same run to be combined; "
                    + "take both from one run and cut both alike");
        }
    }

    /** The time, or the end of a span if it is that but for rounding. */
    double snap(double time) {
        int at = Arrays.binarySearch(bounds, time);
        if (at >= 0) {
            return time;
        }
        int next = -at - 1;
        double tolerance = SNAP_ULPS * Math.ulp(time);
        if (next < bounds.length && bounds[next] - time <= tolerance) {
            return bounds[next];
        }
        return next > 0 && time - bounds[next - 1] <= tolerance ? bounds[next - 1] : time;
    }

    /** The span that holds a snapped time; at a common end the one on the given side. */
    int span(double time, Side side) {
        int at = Arrays.binarySearch(bounds, time);
        if (at < 0) {
            return -at - 2;
        }
        return side == Side.BEFORE ? Math.max(0, at - 1) : Math.min(size() - 1, at);
    }

    /** The part between two times; its span 0 is {@code span(start(), AFTER)} of this time line. */
    Timeline cut(double from, double to, String name) {
        double begin = require(from, name);
        double end = require(to, name);
        if (!(begin < end)) {
            throw new IllegalArgumentException(
                    "waveform " + name + ": the part must last, but was to go from " + from + " s to " + to + " s");
        }
        return cut(begin, end);
    }

    private Timeline cut(double from, double to) {
        int first = span(from, Side.AFTER);
        int last = span(to, Side.BEFORE);
        if (from == start() && to == end()) {
            return this;
        }
        double[] cut = Arrays.copyOfRange(bounds, first, last + 2);
        cut[0] = from;
        cut[cut.length - 1] = to;
        return new Timeline(source, Arrays.copyOfRange(intervals, first, last + 1), cut);
    }

    /** This time line several times in a row, and the way back from its spans to those here. */
    Timeline repeat(int times, String name) {
        if (times < 1) {
            throw new IllegalArgumentException(
                    "waveform " + name + ": repetitions must be at least 1 but were " + times);
        }
        int[] repeated = new int[times * size()];
        double[] ends = new double[repeated.length + 1];
        double period = end() - start();
        for (int i = 0; i < repeated.length; i++) {
            repeated[i] = intervals[i % size()];
            int turn = i / size();
            ends[i] = bounds[i % size()] + turn * period;
        }
        ends[repeated.length] = start() + times * period;
        return new Timeline(source, repeated, ends);
    }

    /** The same spans, later. */
    Timeline delayed(double by) {
        return new Timeline(
                source,
                intervals,
                Arrays.stream(bounds).map(bound -> bound + by).toArray());
    }

    double[] bounds() {
        return bounds.clone();
    }

    double require(double time, String name) {
        double snapped = snap(time);
        if (!(snapped >= start() && snapped <= end())) {
            throw new IllegalArgumentException("waveform " + name + ": a time must be from " + start() + " s to "
                    + end() + " s but was " + time + " s");
        }
        return snapped;
    }

    void requireAll(double[] times, String name) {
        int[] outside = IntStream.range(0, times.length)
                .filter(i -> {
                    double snapped = snap(times[i]);
                    return !(snapped >= start() && snapped <= end());
                })
                .toArray();
        if (outside.length > 0) {
            throw new IllegalArgumentException("waveform " + name + ": times must be from " + start() + " s to " + end()
                    + " s but " + outside.length + " of " + times.length + " are not, the first of them "
                    + times[outside[0]] + " s at index " + outside[0]);
        }
    }

    @Override
    public String toString() {
        return "(" + start() + " s to " + end() + " s)";
    }
}
