package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.engine.Piece;

/**
 * Finds all instants at which a waveform passes through a level. The sign of the distance to the level is followed from
 * root to root and from piece to piece; a contact without a change of sign is no crossing.
 */
final class CrossingSearch {
    private final double level;
    private final List<Crossing> crossings = new ArrayList<>();
    private double sign;

    private CrossingSearch(double level) {
        this.level = level;
    }

    static List<Crossing> in(Timeline timeline, Curve curve, double level) {
        CrossingSearch search = new CrossingSearch(level);
        for (int span = 0; span < timeline.size(); span++) {
            for (Piece piece : curve.pieces(span)) {
                search.add(piece);
            }
        }
        return List.copyOf(search.crossings);
    }

    private void add(Piece piece) {
        double[] ends = Pieces.withEnds(Pieces.meetings(piece, level));
        for (int k = 0; k + 1 < ends.length; k++) {
            if (ends[k + 1] > ends[k]) {
                double middle = 0.5 * (ends[k] + ends[k + 1]);
                pass(Pieces.time(piece, ends[k]), Math.signum(piece.valueAt(middle) - level));
            }
        }
    }

    /** A stretch that rests on the level keeps the sign: the crossing then is where the waveform leaves the level. */
    private void pass(double time, double next) {
        if (next != 0 && sign != 0 && next != sign) {
            crossings.add(new Crossing(time, next > 0));
        }
        sign = next != 0 ? next : sign;
    }
}
