package org.voltsecond.waveform;

import java.util.function.ToDoubleFunction;
import org.voltsecond.engine.Piece;

/** Sums over all pieces of a waveform. */
final class Integrals {
    private Integrals() {}

    static double sum(Timeline timeline, Curve curve, ToDoubleFunction<Piece> part) {
        Sum sum = new Sum();
        for (int span = 0; span < timeline.size(); span++) {
            for (Piece piece : curve.pieces(span)) {
                sum.add(part.applyAsDouble(piece));
            }
        }
        return sum.value();
    }
}
