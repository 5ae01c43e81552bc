package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory.Block;

/**
 * Measures of a waveform over all its time, worked out on first use and kept; two threads at once find the same. What is
 * mostly asked for together comes from one walk over all pieces, since working these out takes far longer than measuring them. Of a
 * long run one walk serves all waveforms that wait for it, and leaves a summary of each chunk of spans, from which parts of the waveform
 * are measured without another walk.
 */
final class Measures {
    /** Spans of which a summary is kept: some milliseconds to look through. */
    private static final int CHUNK = 1 << 12;

    private final Timeline timeline;
    private final Curve curve;
    /** Those of the whole of which this is a part, and its first span there; null of a whole, and where that is not known. */
    private final @Nullable Measures whole;

    private final int offset;

    private volatile @Nullable Extremes extremes;
    private volatile @Nullable Totals totals;
    private volatile @Nullable Spread spread;
    private volatile @Nullable List<Summary> summaries;

    /** A walk over a long run that others may have gone for this waveform. */
    private @Nullable Walk first;

    Measures(Timeline timeline, Curve curve) {
        this(timeline, curve, null, 0);
    }

    private Measures(Timeline timeline, Curve curve, @Nullable Measures whole, int offset) {
        this.timeline = timeline;
        this.curve = curve;
        this.whole = whole;
        this.offset = offset;
    }

    /** Of a signal of a run; the first come along with the next walk over a long one. */
    static Measures ofSignal(Timeline timeline, Curve curve) {
        Measures measures = new Measures(timeline, curve);
        RunReading reading = timeline.longReading();
        if (reading != null) {
            reading.await(measures.first());
        }
        return measures;
    }

    /** Of a part that begins with a span of this. */
    Measures part(Timeline window, Curve cut, int span) {
        return new Measures(window, cut, whole == null ? this : whole, offset + span);
    }

    /**
     * What is known of some spans in a row.
     *
     * @param span the first
     * @param end the span after the last
     * @param times how often they come
     */
    record Summary(
            int span, int end, int times, Extremes extremes, double integral, double duration, double squaredRipple) {}

    Extremes extremes() {
        Extremes known = extremes;
        if (known == null) {
            known = Extremes.of(summaries().stream().map(Summary::extremes).toList());
            extremes = known;
        }
        return known;
    }

    double integral() {
        return totals().integral.value();
    }

    double mean() {
        return integral() / duration();
    }

    /** The sum of the pieces' own lengths, which late in a long run is finer than the difference of two times. */
    double duration() {
        return totals().duration.value();
    }

    private Totals totals() {
        Totals known = totals;
        if (known == null) {
            if (timeline.longReading() == null) {
                Totals all = new Totals();
                new Walk(timeline.blocks(), all).toTheEnd();
                totals = all;
            } else {
                summaries();
            }
            known = Objects.requireNonNull(totals);
        }
        return known;
    }

    /** The integral of the square: a sum of squares, never a difference, so that small values keep their digits. */
    double integralOfSquare() {
        return integralOfSquaredRipple() + mean() * mean() * duration();
    }

    /** The same of what departs from the mean. */
    double integralOfSquaredRipple() {
        Spread known = spread;
        if (known == null) {
            known = new Spread();
            if (timeline.longReading() == null) {
                new Walk(timeline.blocks(), known).toTheEnd();
            } else {
                for (Summary part : summaries()) {
                    known.addTimes(part.times, part.integral / part.duration, part.duration, part.squaredRipple);
                }
            }
            spread = known;
        }
        return known.squares.value();
    }

    /** What is known of the spans in order, of those that come again once; the totals too. */
    List<Summary> summaries() {
        List<Summary> known = summaries;
        if (known == null) {
            RunReading reading = timeline.longReading();
            Measures all = whole;
            if (reading == null) {
                newFirst().toTheEnd();
            } else if (all != null && all.timeline.blocks().size() == 1) {
                summaries = partOf(all.summaries());
            } else {
                reading.read(first());
            }
            known = Objects.requireNonNull(summaries);
        }
        return known;
    }

    /** Those of the whole that lie within, and what is left at both ends; the outermost spans may be cut. */
    private List<Summary> partOf(List<Summary> all) {
        int low = offset / CHUNK + 1;
        int high = (offset + timeline.size() - 1) / CHUNK;
        if (high < low) {
            Summing alone = summed(0, timeline.size());
            totals = alone;
            return List.copyOf(alone.summaries);
        }
        Summing left = summed(0, low * CHUNK - offset);
        Summing right = summed(high * CHUNK - offset, timeline.size());
        Totals sum = new Totals();
        List<Summary> parts = new ArrayList<>(left.summaries);
        for (Summary one : all.subList(low, high)) {
            parts.add(new Summary(
                    one.span - offset,
                    one.end - offset,
                    1,
                    one.extremes,
                    one.integral,
                    one.duration,
                    one.squaredRipple));
        }
        parts.addAll(right.summaries);
        for (Summary one : parts) {
            sum.integral.add(one.integral);
            sum.duration.add(one.duration);
        }
        totals = sum;
        return List.copyOf(parts);
    }

    private Summing summed(int from, int to) {
        Summing part = new Summing(true);
        new Walk(List.of(new Block(from, to - from, 1)), part).toTheEnd();
        return part;
    }

    private synchronized Walk first() {
        Walk known = first;
        if (known == null) {
            known = newFirst();
            first = known;
        }
        return known;
    }

    private Walk newFirst() {
        Summing all = new Summing(timeline.longReading() != null);
        return new Walk(timeline.blocks(), all) {
            @Override
            public void done() {
                totals = all;
                summaries = List.copyOf(all.summaries);
            }
        };
    }

    /** Is told of all pieces, of a block that comes again once. */
    abstract static class Gauge {
        void begin(Block block) {}

        abstract void add(Piece piece);

        /** After some spans in a row. */
        void endChunk(int from, int to, int times) {}

        void end(Block block) {}
    }

    /** Goes over the spans of blocks, those of one that comes again once. */
    private class Walk implements RunReading.Reader {
        private final List<Block> blocks;
        private final Gauge gauge;
        private int block;
        private int span;
        private int begun;

        Walk(List<Block> blocks, Gauge gauge) {
            this.blocks = blocks;
            this.gauge = gauge;
            span = blocks.get(0).first();
        }

        @Override
        public int next() {
            return block == blocks.size() ? Integer.MAX_VALUE : timeline.interval(span);
        }

        @Override
        public void read(Interval interval) {
            step();
        }

        void step() {
            List<Piece> pieces = curve.pieces(span);
            Block now = blocks.get(block);
            if (span == now.first()) {
                begun = span;
                gauge.begin(now);
            }
            for (Piece piece : pieces) {
                gauge.add(piece);
            }
            span++;
            boolean ends = span == now.first() + now.count();
            if (ends || span - begun == CHUNK) {
                gauge.endChunk(begun, span, now.times());
                begun = span;
            }
            if (ends) {
                gauge.end(now);
                block++;
                span = block == blocks.size() ? span : blocks.get(block).first();
            }
        }

        void toTheEnd() {
            while (block < blocks.size()) {
                step();
            }
            done();
        }
    }

    /** Integral and duration. */
    private static class Totals extends Gauge {
        private final Total integral = new Total();
        private final Total duration = new Total();

        @Override
        void begin(Block block) {
            integral.begin(block);
            duration.begin(block);
        }

        @Override
        void add(Piece piece) {
            integral.add(piece.integral());
            duration.add(piece.length());
        }

        @Override
        void end(Block block) {
            integral.end(block);
            duration.end(block);
        }
    }

    /** The same, of each chunk too, and its extremes; what departs from the mean where that is wanted. */
    private static final class Summing extends Totals {
        private final List<Summary> summaries = new ArrayList<>();
        private final boolean withSpread;
        private Extremes.Scan scan = new Extremes.Scan();
        private Sum integral = new Sum();
        private Sum duration = new Sum();
        private Spread spread = new Spread();

        Summing(boolean withSpread) {
            this.withSpread = withSpread;
        }

        @Override
        void add(Piece piece) {
            super.add(piece);
            scan.add(piece);
            integral.add(piece.integral());
            duration.add(piece.length());
            if (withSpread) {
                spread.add(piece);
            }
        }

        @Override
        void endChunk(int from, int to, int times) {
            summaries.add(new Summary(
                    from, to, times, scan.found(), integral.value(), duration.value(), spread.squares.value()));
            scan = new Extremes.Scan();
            integral = new Sum();
            duration = new Sum();
            spread = new Spread();
        }
    }

    /**
     * The integral of the square of what departs from the mean, though that is known only in the end: two parts with means of their own have
     * together the sum of theirs and the square of the distance of the means times t1 t2 / (t1 + t2) (T. F. Chan, G. H. Golub, R. J. LeVeque,
     * Updating formulae and a pairwise algorithm for computing sample variances, 1979, from memory). All terms are positive.
     */
    private static final class Spread extends Gauge {
        private final Sum squares = new Sum();
        private double mean;
        private double time;
        private @Nullable Spread once;

        @Override
        void begin(Block block) {
            once = block.times() == 1 ? null : new Spread();
        }

        @Override
        void add(Piece piece) {
            double own = piece.integral() / piece.length();
            Spread to = once == null ? this : once;
            to.addTimes(1, own, piece.length(), piece.integralOfSquare(own));
        }

        @Override
        void end(Block block) {
            Spread part = once;
            if (part != null) {
                once = null;
                addTimes(block.times(), part.mean, part.time, part.squares.value());
            }
        }

        void addTimes(int times, double ownMean, double ownTime, double ownSquares) {
            double distance = ownMean - mean;
            double more = times * ownTime;
            double all = time + more;
            squares.add(times * ownSquares);
            squares.add(distance * distance * (time * more / all));
            mean += distance * (more / all);
            time = all;
        }
    }

    /** A sum over all pieces, in which those of a block count as often as it comes. */
    private static final class Total {
        private final Sum all = new Sum();
        private Sum once = all;

        void begin(Block block) {
            once = block.times() == 1 ? all : new Sum();
        }

        void add(double value) {
            once.add(value);
        }

        void end(Block block) {
            if (block.times() > 1) {
                all.add(once.value() * block.times());
            }
        }

        double value() {
            return all.value();
        }
    }
}
