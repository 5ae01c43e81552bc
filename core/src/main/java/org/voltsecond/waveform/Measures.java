package org.voltsecond.waveform;

import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Piece;

/**
 * Measures of a waveform over all its time. Each is a walk over all pieces, so it is worked out on first use and kept; two
 * threads at once find the same.
 */
final class Measures {
    private record Totals(double integral, double duration) {}

    private final Timeline timeline;
    private final Curve curve;
    private volatile @Nullable Extremes extremes;
    private volatile @Nullable Totals totals;
    private volatile @Nullable Double integralOfSquare;

    Measures(Timeline timeline, Curve curve) {
        this.timeline = timeline;
        this.curve = curve;
    }

    Extremes extremes() {
        Extremes known = extremes;
        if (known == null) {
            known = Extremes.of(timeline, curve);
            extremes = known;
        }
        return known;
    }

    double integral() {
        return totals().integral;
    }

    /** The sum of the pieces' own lengths, which late in a long run is finer than the difference of two times. */
    double duration() {
        return totals().duration;
    }

    private Totals totals() {
        Totals known = totals;
        if (known == null) {
            Sum integral = new Sum();
            Sum duration = new Sum();
            for (int span = 0; span < timeline.size(); span++) {
                for (Piece piece : curve.pieces(span)) {
                    integral.add(piece.integral());
                    duration.add(piece.length());
                }
            }
            known = new Totals(integral.value(), duration.value());
            totals = known;
        }
        return known;
    }

    /** The square itself is integrated, never a difference of squares, so that small values keep their digits. */
    double integralOfSquare() {
        Double known = integralOfSquare;
        if (known == null) {
            Sum sum = new Sum();
            for (int span = 0; span < timeline.size(); span++) {
                for (Piece piece : curve.pieces(span)) {
                    sum.add(piece.integralOfProduct(piece));
                }
            }
            known = sum.value();
            integralOfSquare = known;
        }
        return known;
    }
}
