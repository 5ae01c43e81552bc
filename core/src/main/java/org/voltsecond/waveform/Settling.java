package org.voltsecond.waveform;

import java.util.List;
import java.util.OptionalDouble;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory.Block;
import org.voltsecond.waveform.Measures.Summary;

/** Finds the last instant at which a waveform is outside a band. */
final class Settling {
    private final double target;
    private final double band;

    Settling(Waveform waveform, double target, double band) {
        if (!(band > 0)) {
            throw new IllegalArgumentException("waveform " + waveform.name() + ": a settling band must be more than 0 "
                    + waveform.unit().symbol() + " but was " + band);
        }
        this.target = target;
        this.band = band;
    }

    /** How long it takes from the start; empty if the waveform ends outside. */
    OptionalDouble time(Timeline timeline, Curve curve, Measures measures) {
        int end = timeline.size();
        if (timeline.longReading() != null && timeline.blocks().size() == 1) {
            // what is inside as a whole is not looked at
            List<Summary> all = measures.summaries();
            int k = all.size() - 1;
            while (k >= 0 && isInside(all.get(k).extremes())) {
                k--;
            }
            end = k < 0 ? 0 : all.get(k).end();
        }
        OptionalDouble last = lastOutside(timeline, curve, end);
        return last.isEmpty() ? last : OptionalDouble.of(last.getAsDouble() - timeline.start());
    }

    /** The last instant outside; the start if there is none; empty if the waveform ends outside. */
    private OptionalDouble lastOutside(Timeline timeline, Curve curve, int end) {
        List<Block> blocks = timeline.blocks();
        for (int b = blocks.size() - 1; b >= 0; b--) {
            Block block = blocks.get(b);
            // what is inside in the last repetition is so in all
            for (int span = Math.min(end, block.end()) - 1; span >= block.end() - block.count(); span--) {
                List<Piece> pieces = curve.pieces(span);
                for (int k = pieces.size() - 1; k >= 0; k--) {
                    double fraction = lastOutside(pieces.get(k));
                    if (fraction >= 0) {
                        boolean last = span == timeline.size() - 1 && k == pieces.size() - 1;
                        return last && fraction == 1
                                ? OptionalDouble.empty()
                                : OptionalDouble.of(Pieces.time(pieces.get(k), fraction));
                    }
                }
            }
        }
        return OptionalDouble.of(timeline.start());
    }

    /** The fraction of the piece at which it is outside for the last time; negative if it stays inside. */
    private double lastOutside(Piece piece) {
        if (Math.abs(piece.coefficient(0) - target) + Pieces.reach(piece) <= band) {
            return -1;
        }
        if (outside(piece.valueAt(1))) {
            return 1;
        }
        double[] ends = Pieces.withEnds(
                Pieces.merge(Pieces.meetings(piece, target + band), Pieces.meetings(piece, target - band)));
        for (int k = ends.length - 1; k > 0; k--) {
            if (outside(piece.valueAt(0.5 * (ends[k] + ends[k - 1])))) {
                return ends[k];
            }
        }
        return outside(piece.valueAt(0)) ? 0 : -1;
    }

    private boolean isInside(Extremes extremes) {
        return !outside(extremes.minimum()) && !outside(extremes.maximum());
    }

    private boolean outside(double value) {
        return !(Math.abs(value - target) <= band);
    }
}
