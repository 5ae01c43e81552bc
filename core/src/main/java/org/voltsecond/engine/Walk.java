package org.voltsecond.engine;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReferenceArray;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Goes through an interval in segments on each of which every quantity is a polynomial: one base of the flow at a time,
 * and in longer and longer steps where the flow is stiff and its fast part has died out. Allocates nothing once it has
 * been created. A named numeric kernel.
 */
final class Walk {
    /** Intervals of so many bases or fewer are walked base by base. */
    static final int SHORT = 16;
    /** Highest Chebyshev coefficients of a resolved segment, relative to the largest state. */
    private static final double RESOLVED = 1e-14;

    /** Below this share they are rounding: a step two levels longer is worth trying. */
    private static final double ROUNDING = 0x1p-51;

    /**
     * States that have died out to this share of what they were are not resolved any more relative to what is left of them: they
     * would go on dying out at their own pace down to the smallest number.
     */
    private static final double NEGLIGIBLE = 1e-20;

    private static final double MOST_SEGMENTS = 2e7;
    /** The work of a long step, which is tried for and then looked through for crossings, in short ones, as measured. */
    private static final int STEPS_OF_A_LONG_ONE = 32;
    /** So many segments pass without a look at whether the run is to be ended. */
    private static final int UNWATCHED = 1024;

    private final Flow flow;
    private final int n;
    final double[] z;
    final double[] end;
    private final double[] nodes;
    private final double[] rate;
    private final double[] scratch;
    private final double[] highest;
    private final double[] nextToHighest;
    private final double[] values = new double[Ladder.DEGREE + 1];
    /** What of the states is nothing beside those that the interval began with. */
    private double negligible;

    private double total;
    /** Whole bases gone so far: the time is worked out of it, since the rounding of a sum of very many would add up to a phase. */
    private double bases;

    private double next;
    private int level;
    /** By how many levels the next long step is tried to be longer. */
    private int stride;

    private int wait;
    private int patience;
    private double segments;
    private int unwatched;

    /** Start of the present segment, s since the start of the interval. */
    double offset;
    /** Length of the present segment, s. */
    double length;

    /** The guards beside what rings, once an interval of this run has shown that something does. */
    EventSearch.@Nullable Clearance clearance;

    private boolean interpolated;
    /** The span that one unit of the polynomials stands for, s; a segment that ends the interval may be shorter. */
    private double unit;

    Walk(Flow flow) {
        this.flow = flow;
        n = flow.n;
        z = new double[n];
        end = new double[n];
        rate = new double[n];
        scratch = new double[n];
        highest = new double[n];
        nextToHighest = new double[n];
        nodes = new double[n * (Ladder.DEGREE + 1)];
    }

    void begin(double[] start, double duration) {
        System.arraycopy(start, 0, end, 0, n);
        negligible = NEGLIGIBLE * Matrices.size(start);
        total = duration;
        bases = 0;
        next = 0;
        level = 0;
        stride = 1;
        wait = 4;
        patience = 4;
        segments = 0;
    }

    /** Steps into the next segment; false after the last, and as soon as the state is no longer finite. */
    boolean next() {
        if (!(next < total) || !(Matrices.size(end) < Double.POSITIVE_INFINITY)) {
            return false;
        }
        if (++segments > MOST_SEGMENTS) {
            throw new SwitchingException(
                    "an interval of " + Quantity.brief(total, Unit.SECOND) + " takes more than " + (long) MOST_SEGMENTS
                            + " steps, since a time constant of about " + Quantity.brief(1 / flow.norm, Unit.SECOND)
                            + " in it does not die out; enlarge the smallest time constant of the circuit");
        }
        if (++unwatched > UNWATCHED) {
            Watch.step(unwatched);
            unwatched = 0;
        }
        System.arraycopy(end, 0, z, 0, n);
        offset = next;
        if (total <= SHORT * flow.base || !longStep()) {
            shortStep();
        }
        if (total - next <= 0x1p-52 * total) {
            length = total - offset;
            next = total;
        }
        return true;
    }

    private void addBases(int atLevel) {
        bases += Math.scalb(1.0, atLevel);
        next = bases * flow.base;
    }

    /** How far it has come, s since the start of the interval. */
    double reached() {
        return next;
    }

    double rest() {
        return total - next;
    }

    /** Goes on from the state at the end of a level of the ladder, to which nobody needs to see the way. */
    void leap(int atLevel, double[] to) {
        System.arraycopy(to, 0, end, 0, n);
        addBases(atLevel);
        if (total - next <= 0x1p-52 * total) {
            next = total;
        }
    }

    private void shortStep() {
        interpolated = false;
        unit = flow.base;
        flow.rate(z, rate);
        double rest = total - offset;
        if (rest > flow.base) {
            length = flow.base;
            addBases(0);
            flow.baseLeg().move(z, end);
        } else {
            length = rest;
            next = total;
            flow.stateAt(z, rest / flow.base, end);
        }
    }

    /**
     * Tries a step of two bases or more; false if the flow is not smooth enough for it. The last step of an interval may look
     * beyond its end: the flow goes on there, and one polynomial that is cut takes the place of ever shorter ones.
     */
    private boolean longStep() {
        if (wait > 0) {
            wait--;
            return false;
        }
        double rest = total - offset;
        level = Math.min(level + stride, Ladder.HIGHEST);
        while (level > 0 && flow.base * Math.scalb(1.0, level - 1) >= rest) {
            level--;
        }
        while (level > 0) {
            flow.ladder().statesAtNodes(level, z, nodes);
            unwatched += STEPS_OF_A_LONG_ONE;
            if (resolved()) {
                interpolated = true;
                unit = flow.base * Math.scalb(1.0, level);
                length = Math.min(unit, rest);
                if (length == unit) {
                    addBases(level);
                    System.arraycopy(nodes, n * Ladder.DEGREE, end, 0, n);
                } else {
                    next = total;
                    stateAt(length, end);
                }
                return true;
            }
            level--;
        }
        patience = Math.min(2 * patience, 64);
        wait = patience;
        return false;
    }

    private boolean resolved() {
        double size = negligible;
        for (double value : nodes) {
            size = Math.max(size, Math.abs(value));
        }
        Ladder.chebyshev(Ladder.DEGREE, nodes, highest);
        Ladder.chebyshev(Ladder.DEGREE - 1, nodes, nextToHighest);
        double largest = 0;
        for (int i = 0; i < n; i++) {
            largest = Math.max(largest, Math.abs(highest[i]) + Math.abs(nextToHighest[i]));
        }
        stride = largest <= ROUNDING * size ? 2 : 1;
        return largest <= RESOLVED * size;
    }

    /** The span that one unit of the polynomials stands for, s. */
    double unit() {
        return unit;
    }

    /** How many coefficients {@link #polynomial} writes. */
    int terms() {
        return interpolated ? Ladder.DEGREE + 1 : flow.degree + 1;
    }

    /** Writes the coefficients of a form in the time since the start of the segment, counted in {@link #unit()}. */
    void polynomial(GuardRows form, double sinceTick, double[] into) {
        if (!interpolated) {
            form.polynomial(z, sinceTick + offset, flow.base, into);
            return;
        }
        interpolate(form, nodes, sinceTick + offset, unit, values, into);
    }

    /** Writes the coefficients of a form over a segment of which the states at the nodes are known. */
    static void interpolate(
            GuardRows form, double[] nodes, double sinceTick, double length, double[] values, double[] into) {
        int n = form.n;
        for (int k = 0; k <= Ladder.DEGREE; k++) {
            double sum = form.form[n];
            for (int j = 0; j < n; j++) {
                sum += form.form[j] * nodes[k * n + j];
            }
            values[k] = sum;
        }
        Ladder.monomial(values, into);
        into[0] += form.slope * sinceTick;
        into[1] += form.slope * length;
    }

    /** All segments of an interval, to be kept. */
    static List<Segment> through(Flow flow, double[] start, double duration) {
        List<Segment> segments = new ArrayList<>();
        Walk walk = new Walk(flow);
        walk.begin(start, duration);
        while (walk.next()) {
            double[] states = walk.interpolated ? walk.series() : walk.z.clone();
            segments.add(new Segment(walk.offset, walk.length, walk.interpolated, states));
        }
        return segments;
    }

    /** The coefficients of the scaled state in the fraction of an interpolated segment, power by power. */
    private double[] series() {
        double[] series = new double[nodes.length];
        Ladder.monomial(nodes, n, series);
        double power = 1;
        for (int k = 0; k <= Ladder.DEGREE; k++) {
            for (int i = 0; i < n; i++) {
                series[k * n + i] *= power;
            }
            power *= length / unit;
        }
        return series;
    }

    /** Whether a guard is certainly above zero throughout the segment, by the bound of {@link Leg}. */
    boolean clear(int g, double sinceTick) {
        if (interpolated) {
            return false;
        }
        return flow.guards[g].clear(z, rate, end, sinceTick + offset, length, length / flow.base);
    }

    /** What counts as zero for a guard in the present segment. */
    double tolerance(int g, double sinceTick) {
        GuardRows rows = flow.guards[g];
        double factor = interpolated ? 100 * RESOLVED / Flow.TOLERANCE : 1;
        if (interpolated) {
            flow.rate(z, rate);
        }
        return Math.max(1, factor) * rows.tolerance(z, rate, sinceTick + offset + length);
    }

    /** Sharpens a crossing by one step of Newton's method on the exact flow; returns its time in the segment, s. */
    double polish(int g, double room, double time, double sinceTick, double[] into) {
        stateAt(time, into);
        if (!interpolated) {
            return time;
        }
        GuardRows rows = flow.guards[g];
        double value = rows.valueAt(into, sinceTick + offset + time) + room;
        flow.rate(into, scratch);
        double slope = rows.slope;
        for (int j = 0; j < n; j++) {
            slope += rows.form[j] * scratch[j];
        }
        double better = time - value / slope;
        if (!(Math.abs(better - time) <= 1e-9 * length) || better < 0) {
            return time;
        }
        stateAt(better, into);
        return better;
    }

    /** Writes the state at a time since the start of the segment, s. */
    void stateAt(double time, double[] into) {
        stateAfter(flow, z, time, into, scratch);
    }

    /** The exact flow over any duration. */
    static void stateAfter(Flow flow, double[] start, double duration, double[] into) {
        stateAfter(flow, start, duration, into, new double[start.length]);
    }

    /** The same, by levels of the ladder, then the rest; with scratch space. */
    static void stateAfter(Flow flow, double[] start, double duration, double[] into, double[] from) {
        System.arraycopy(start, 0, into, 0, start.length);
        double rest = duration;
        System.arraycopy(start, 0, from, 0, start.length);
        while (rest > flow.base) {
            int level = Math.min(Ladder.HIGHEST, Math.getExponent(rest / flow.base));
            flow.ladder().advance(level, from, into);
            System.arraycopy(into, 0, from, 0, from.length);
            rest -= flow.base * Math.scalb(1.0, level);
        }
        if (rest > 0) {
            flow.stateAt(from, rest / flow.base, into);
        }
    }

    /**
     * One step of a walk through a long interval, kept so that any form can be read off it without walking again.
     *
     * @param offset start of the segment, s since the start of the interval
     * @param length length of the segment, s
     * @param interpolated whether the states are the coefficients of a polynomial in the fraction of the segment, not those at its
     *     start
     * @param states scaled states, never written after construction
     */
    record Segment(double offset, double length, boolean interpolated, double[] states) {
        /** A form over the segment of an interval that starts at {@code start}, {@code sinceTick} after a clock edge. */
        Piece piece(GuardRows form, double start, double sinceTick) {
            double since = sinceTick + offset;
            double[] coefficients = interpolated
                    ? form.ofSeries(states, since, length)
                    : form.coefficients(states, since, length / form.flow.base);
            return Piece.ofUnsafe(start + offset, length, coefficients);
        }
    }

    /**
     * What was worked out of the intervals of a run: long ones were walked through, of short ones the state was written as a
     * series. One signal after the other is read in them, and each would do that again. As many as a bounded memory takes are kept for ever, and beyond that those that were read last, since
     * several signals are often read in the same interval. Safe for any thread: what is kept is never written again, and two
     * threads that walk through the same interval find the same.
     */
    static final class Walked {
        /** How many numbers are kept for ever, of 8 bytes each. */
        static final int MOST_NUMBERS = 1 << 22;
        /** The same of a run that is not kept as a whole. */
        static final int MOST_OF_A_STRETCH = 1 << 18;
        /** Some threads in different places of a run should not be in each other's way; a power of two. */
        private static final int RECENT = 16;
        /** Beyond what is kept for ever, an interval of more segments is walked through again, so that little memory is held. */
        private static final int MOST_SEGMENTS = 500;
        /** One interval is kept for ever up to so many numbers: that of a node which rings for 1,000 turns is, with ten states. */
        private static final int LARGEST = MOST_NUMBERS / 4;

        /** A series has some sixteen terms of three states or more. */
        private static final int FEWEST_NUMBERS = 48;

        private record Latest(int index, List<Segment> segments) {}

        private final AtomicReferenceArray<@Nullable List<Segment>> kept;
        private final AtomicReferenceArray<@Nullable Latest> recent = new AtomicReferenceArray<>(RECENT);
        /** Series of short intervals; null where a run has so many that few of them would be kept. */
        private final @Nullable AtomicReferenceArray<double @Nullable []> series;

        private final int mostNumbers;
        private final AtomicInteger numbers = new AtomicInteger();

        Walked(int intervals) {
            this(intervals, MOST_NUMBERS);
        }

        Walked(int intervals, int mostNumbers) {
            kept = new AtomicReferenceArray<>(intervals);
            this.mostNumbers = mostNumbers;
            series = intervals > mostNumbers / FEWEST_NUMBERS ? null : new AtomicReferenceArray<>(intervals);
        }

        double[] series(KeptIntervals run, int index) {
            double[] known = series == null ? null : series.get(index);
            if (known != null) {
                return known;
            }
            Flow flow = run.phase(index).configuration().flow();
            double[] found = flow.series(run.scaledStart(index), run.duration(index));
            if (series != null && numbers.get() + found.length <= mostNumbers) {
                numbers.addAndGet(found.length);
                series.set(index, found);
            }
            return found;
        }

        List<Segment> segments(KeptIntervals run, int index) {
            List<Segment> known = kept.get(index);
            if (known != null) {
                return known;
            }
            Latest last = recent.get(index & (RECENT - 1));
            if (last != null && last.index == index) {
                return last.segments;
            }
            Flow flow = run.phase(index).configuration().flow();
            List<Segment> segments = Walk.through(flow, run.scaledStart(index), run.duration(index));
            keep(index, segments);
            return segments;
        }

        private void keep(int index, List<Segment> segments) {
            int size = segments.stream()
                    .mapToInt(segment -> segment.states().length)
                    .sum();
            if (size <= LARGEST && numbers.get() + size <= mostNumbers) {
                numbers.addAndGet(size);
                kept.set(index, segments);
            } else if (segments.size() <= MOST_SEGMENTS) {
                recent.set(index & (RECENT - 1), new Latest(index, segments));
            }
        }
    }
}
