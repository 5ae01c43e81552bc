package org.voltsecond.waveform;

import java.util.List;
import org.voltsecond.engine.Piece;

/** The lowest and the highest value of a waveform, each with the first instant at which it is reached, s. */
record Extremes(double minimum, double timeOfMinimum, double maximum, double timeOfMaximum) {
    private static final Extremes NONE = new Extremes(Double.POSITIVE_INFINITY, 0, Double.NEGATIVE_INFINITY, 0);

    /** Those of all, one after the other. */
    static Extremes of(List<Extremes> all) {
        Extremes most = NONE;
        for (Extremes one : all) {
            boolean lower = one.minimum < most.minimum;
            boolean higher = one.maximum > most.maximum;
            most = new Extremes(
                    lower ? one.minimum : most.minimum,
                    lower ? one.timeOfMinimum : most.timeOfMinimum,
                    higher ? one.maximum : most.maximum,
                    higher ? one.timeOfMaximum : most.timeOfMaximum);
        }
        return most;
    }

    /** Looks at one piece after the other; what comes again was reached before. */
    static final class Scan extends Measures.Gauge {
        private double minimum = Double.POSITIVE_INFINITY;
        private double maximum = Double.NEGATIVE_INFINITY;
        private double timeOfMinimum;
        private double timeOfMaximum;

        @Override
        void add(Piece piece) {
            if (Pieces.isWithin(piece, minimum, maximum)) {
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

        Extremes found() {
            return new Extremes(minimum, timeOfMinimum, maximum, timeOfMaximum);
        }
    }
}
