package org.voltsecond.engine;

import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReferenceArray;
import org.jspecify.annotations.Nullable;

/**
 * What was worked out of the intervals of a trajectory: long ones were walked through, of short ones the state was written as a
 * series. One signal after the other is read in them, and each would do that again. As many as a bounded memory takes are kept for ever, and beyond that those that were read last, since
 * several signals are often read in the same interval. Safe for any thread: what is kept is never written again, and two
 * threads that walk through the same interval find the same.
 */
final class WalkedIntervals {
    /** How many numbers are kept for ever, of 8 bytes each. */
    private static final int MOST_NUMBERS = 1 << 22;
    /** Some threads in different places of a run should not be in each other's way; a power of two. */
    private static final int RECENT = 16;
    /** Beyond what is kept for ever, an interval of more segments is walked through again, so that little memory is held. */
    private static final int MOST_SEGMENTS = 500;
    /** One interval is kept for ever up to so many numbers: that of a node which rings for 1,000 turns is, with ten states. */
    private static final int LARGEST = MOST_NUMBERS / 4;

    /** A series has some sixteen terms of three states or more. */
    private static final int FEWEST_NUMBERS = 48;

    private record Walked(int index, List<Segment> segments) {}

    private final AtomicReferenceArray<@Nullable List<Segment>> kept;
    private final AtomicReferenceArray<@Nullable Walked> recent = new AtomicReferenceArray<>(RECENT);
    /** Series of short intervals; null where a run has so many that few of them would be kept. */
    private final @Nullable AtomicReferenceArray<double @Nullable []> series;

    private final int mostNumbers;
    private final AtomicInteger numbers = new AtomicInteger();

    WalkedIntervals(int intervals) {
        this(intervals, MOST_NUMBERS);
    }

    WalkedIntervals(int intervals, int mostNumbers) {
        kept = new AtomicReferenceArray<>(intervals);
        this.mostNumbers = mostNumbers;
        series = intervals > mostNumbers / FEWEST_NUMBERS ? null : new AtomicReferenceArray<>(intervals);
    }

    double[] series(Trajectory trajectory, int index) {
        double[] known = series == null ? null : series.get(index);
        if (known != null) {
            return known;
        }
        Flow flow = trajectory.phase(index).configuration().flow();
        double[] found = flow.series(trajectory.scaledStart(index), trajectory.duration(index));
        if (series != null && numbers.get() + found.length <= mostNumbers) {
            numbers.addAndGet(found.length);
            series.set(index, found);
        }
        return found;
    }

    List<Segment> segments(Trajectory trajectory, int index) {
        List<Segment> known = kept.get(index);
        if (known != null) {
            return known;
        }
        Walked last = recent.get(index & (RECENT - 1));
        if (last != null && last.index == index) {
            return last.segments;
        }
        Flow flow = trajectory.phase(index).configuration().flow();
        List<Segment> segments = Walk.through(flow, trajectory.scaledStart(index), trajectory.duration(index));
        keep(index, segments);
        return segments;
    }

    private void keep(int index, List<Segment> segments) {
        int size =
                segments.stream().mapToInt(segment -> segment.states().length).sum();
        if (size <= LARGEST && numbers.get() + size <= mostNumbers) {
            numbers.addAndGet(size);
            kept.set(index, segments);
        } else if (segments.size() <= MOST_SEGMENTS) {
            recent.set(index & (RECENT - 1), new Walked(index, segments));
        }
    }

    /**
     * One step of a walk through a long interval, kept so that any form can be read off it without walking again.
     *
     * @param offset start of the segment, s since the start of the interval
     * @param length length of the segment, s
     * @param interpolated whether the states are those at the nodes of an interpolation polynomial, not the one at the start
     * @param states scaled states, never written after construction
     */
    record Segment(double offset, double length, boolean interpolated, double[] states) {
        /** A form over the segment of an interval that starts at {@code start}, {@code sinceTick} after a clock edge. */
        Piece piece(GuardRows form, double start, double sinceTick) {
            double unit = interpolated ? length : form.flow.base;
            double[] coefficients;
            if (interpolated) {
                coefficients = new double[Ladder.DEGREE + 1];
                Walk.interpolate(form, states, sinceTick + offset, length, new double[Ladder.DEGREE + 1], coefficients);
            } else {
                coefficients = new double[Math.max(2, form.flow.degree + 1)];
                form.polynomial(states, sinceTick + offset, unit, coefficients);
            }
            if (length != unit) {
                rescale(coefficients, length / unit);
            }
            return Piece.ofUnsafe(start + offset, length, coefficients);
        }

        private static void rescale(double[] coefficients, double ratio) {
            double power = 1;
            for (int k = 0; k < coefficients.length; k++) {
                coefficients[k] *= power;
                power *= ratio;
            }
        }
    }
}
