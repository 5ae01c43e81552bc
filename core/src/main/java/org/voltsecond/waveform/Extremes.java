package org.voltsecond.waveform;

import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory.Block;

/** The lowest and the highest value of a waveform, each with the first instant at which it is reached. */
record Extremes(double minimum, double timeOfMinimum, double maximum, double timeOfMaximum) {
    static Extremes of(Timeline timeline, Curve curve) {
        Scan scan = new Scan();
        for (Block block : timeline.blocks()) {
            // what comes again was reached before
            for (int span = block.first(); span < block.first() + block.count(); span++) {
                for (Piece piece : curve.pieces(span)) {
                    scan.add(piece);
                }
            }
        }
        return new Extremes(
                scan.minimum, timeline.snap(scan.timeOfMinimum), scan.maximum, timeline.snap(scan.timeOfMaximum));
    }

    private static final class Scan {
        private double minimum = Double.POSITIVE_INFINITY;
        private double maximum = Double.NEGATIVE_INFINITY;
        private double timeOfMinimum;
        private double timeOfMaximum;

        private void add(Piece piece) {
            double first = piece.coefficient(0);
            double reach = Pieces.reach(piece);
            if (first + reach <= maximum && first - reach >= minimum) {
                return;
            }
            add(piece, 0);
            add(piece, 1);
            for (double turn : Pieces.turns(piece)) {
                add(piece, turn);
            }
        }

        private void add(Piece piece, double fraction) {
            double value = piece.valueAt(fraction);
            if (value < minimum) {
                minimum = value;
                timeOfMinimum = Pieces.time(piece, fraction);
            }
            if (value > maximum) {
                maximum = value;
                timeOfMaximum = Pieces.time(piece, fraction);
            }
        }
    }
}
