package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.engine.Trajectory.Block;

/**
 * Where the spans of a waveform begin and end. A span is an interval of a trajectory that lasts; intervals of no
 * duration (simultaneous events) carry no value and are left out.
 */
final class Timeline {
    /** Times this close (in units in the last place) to the end of a span are taken to be that end. */
    private static final double SNAP_ULPS = 4;

    /** The share of time in cycles so long that one does not look at them to find the usual one. */
    private static final double RARE = 0.05;

    /** So many spans tell it, the last ones: there are as many cycles as matter in a picture of them all. */
    private static final int ENOUGH = 1 << 16;

    /** With fewer cycles in a picture each takes some ten pixels and is seen as it is. */
    private static final int FEWEST_CYCLES = 100;

    /** A window of whole cycles, cut by times that are rounded, holds them all. */
    private static final double CYCLE_ROUNDING = 1e-9;

    private static final Object EXPLICIT = new Object();

    private final Object source;
    private final Bounds bounds;
    /** The first span here in the bounds, and how many there are. */
    private final int first;

    private final int size;
    private final double start;
    private final double end;

    private Timeline(Object source, Bounds bounds) {
        this(source, bounds, 0, bounds.size(), bounds.at(0), bounds.at(bounds.size()));
    }

    private Timeline(Object source, Bounds bounds, int first, int size, double start, double end) {
        this.source = source;
        this.bounds = bounds;
        this.first = first;
        this.size = size;
        this.start = start;
        this.end = end;
    }

    static Timeline of(RunReading reading) {
        Trajectory trajectory = reading.run();
        if (!(trajectory.end() > trajectory.start())) {
            throw new IllegalArgumentException("a waveform needs a trajectory that lasts, but this one goes from "
                    + trajectory.start() + " s to " + trajectory.end() + " s; record a longer duration");
        }
        return new Timeline(reading, Bounds.OfRun.of(trajectory));
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
        return new Timeline(EXPLICIT, new Bounds.Listed(intervals, bounds));
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
        return size;
    }

    /** The position of a span in the trajectory. */
    int interval(int span) {
        return bounds.interval(first + span);
    }

    double start() {
        return start;
    }

    double end() {
        return end;
    }

    double start(int span) {
        return span == 0 ? start : span == size ? end : bounds.at(first + span);
    }

    double end(int span) {
        return start(span + 1);
    }

    /**
     * The spans in blocks: in all repetitions of one a signal has the same values. The outermost spans, which may be cut, stand in
     * blocks that do not come again.
     */
    List<Block> blocks() {
        List<Block> blocks = new ArrayList<>();
        int next = 0;
        for (Block block : bounds.blocks()) {
            int skipped = Math.max(0, 1 + first - block.first());
            int from = block.first() - first + roundUp(skipped, block.count());
            int times = (Math.min(block.end() - first, size - 1) - from) / block.count();
            if (block.times() > 1 && times > 1) {
                blocks.add(new Block(next, from - next, 1));
                blocks.add(new Block(from, block.count(), times));
                next = from + block.count() * times;
            }
        }
        blocks.add(new Block(next, size - next, 1));
        blocks.removeIf(block -> block.count() == 0);
        return blocks;
    }

    private static int roundUp(int value, int unit) {
        return (value + unit - 1) / unit * unit;
    }

    /**
     * How long a switching cycle lasts, s: the period of the clock, or without one the time until a phase comes back, as it
     * is for nearly all of the time; 0 where there are no phases.
     */
    double cycle() {
        if (!(source instanceof RunReading reading)) {
            return 0;
        }
        Trajectory trajectory = reading.run();
        IdentityHashMap<Phase, Integer> last = new IdentityHashMap<>();
        TreeMap<Double, Double> shares = new TreeMap<>();
        for (int span = size() - 1; span >= Math.max(0, size() - ENOUGH); span--) {
            Phase phase = trajectory.interval(interval(span)).phase();
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
        return isOf(other.source)
                && size == other.size
                && start == other.start
                && end == other.end
                && ((first == other.first && bounds.equals(other.bounds)) || Arrays.equals(bounds(), other.bounds()));
    }

    private boolean isOf(Object other) {
        return source == other
                || (source instanceof RunReading one && other instanceof RunReading two && one.run() == two.run());
    }

    /** The reading of the run if that, and this too, is so long that as few walks as can be are to be made; else null. */
    @Nullable
    RunReading longReading() {
        return source instanceof RunReading reading && reading.run().isLong(size) ? reading : null;
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
        int at = place(time);
        if (at >= 0) {
            return time;
        }
        int next = -at - 1;
        double tolerance = SNAP_ULPS * Math.ulp(time);
        if (next <= size && start(next) - time <= tolerance) {
            return start(next);
        }
        return next > 0 && time - start(next - 1) <= tolerance ? start(next - 1) : time;
    }

    /** The span that begins at a time, or that ends the last; else less than 0 as that of {@link Arrays#binarySearch(double[], double)}. */
    private int place(double time) {
        if (!(time >= start)) {
            return -1;
        }
        if (time >= end) {
            return time == end ? size : -size - 2;
        }
        int span = Math.max(0, Math.min(size - 1, bounds.lastBy(time) - first));
        return start(span) == time ? span : -span - 2;
    }

    /** The span that holds a snapped time; at a common end the one on the given side. */
    int span(double time, Side side) {
        int at = place(time);
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
        int begin = span(from, Side.AFTER);
        int last = span(to, Side.BEFORE);
        return from == start && to == end
                ? this
                : new Timeline(source, bounds, first + begin, last - begin + 1, from, to);
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
            repeated[i] = interval(i % size());
            int turn = i / size();
            ends[i] = start(i % size()) + turn * period;
        }
        ends[repeated.length] = start() + times * period;
        return new Timeline(source, new Bounds.Listed(repeated, ends));
    }

    /** The same spans, later. */
    Timeline delayed(double by) {
        return new Timeline(source, new Bounds.Delayed(bounds, by), first, size, start + by, end + by);
    }

    double[] bounds() {
        return IntStream.rangeClosed(0, size).mapToDouble(this::start).toArray();
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
