package org.voltsecond.waveform;

import java.util.List;
import org.voltsecond.engine.Piece;

/** Values of one waveform within one span, whose pieces are worked out once. */
record SpanReader(List<Piece> pieces) {
    /** A smaller step, relative to the values on both sides, is rounding and no jump. */
    private static final double NOISE = 1e-9;

    static SpanReader of(Waveform waveform, int span) {
        return new SpanReader(waveform.curve().pieces(span));
    }

    double at(double time) {
        Piece holder = pieces.get(0);
        for (Piece piece : pieces) {
            holder = piece.start() <= time ? piece : holder;
        }
        return holder.valueAt(Pieces.fraction(holder, time));
    }

    double first() {
        return pieces.get(0).coefficient(0);
    }

    double last() {
        return pieces.get(pieces.size() - 1).valueAt(1);
    }

    boolean jumpsTo(SpanReader next) {
        double step = Math.abs(next.first() - last());
        return step > 0 && step > NOISE * Math.max(size(), next.size());
    }

    /** An upper bound of the size of the values. */
    private double size() {
        double size = 0;
        for (Piece piece : pieces) {
            size = Math.max(size, Pieces.size(piece));
        }
        return size;
    }
}
