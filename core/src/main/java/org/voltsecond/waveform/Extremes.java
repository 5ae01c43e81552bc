package org.voltsecond.waveform;

import org.voltsecond.engine.Piece;

/** The lowest and the highest value of a waveform, each with the first instant at which it is reached. */
record Extremes(double minimum, double timeOfMinimum, double maximum, double timeOfMaximum) {
    /** Looks at one piece after the other; of what comes again once, since it was reached before. */
    static final class Scan {
        private double minimum = Double.POSITIVE_INFINITY;
        private double maximum = Double.NEGATIVE_INFINITY;
        private double timeOfMinimum;
        private double timeOfMaximum;

        Extremes found(Timeline timeline) {
            return new Extremes(minimum, timeline.snap(timeOfMinimum), maximum, timeline.snap(timeOfMaximum));
        }

        void add(Piece piece) {
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
