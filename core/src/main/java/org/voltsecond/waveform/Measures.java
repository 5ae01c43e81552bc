package org.voltsecond.waveform;

import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory.Block;

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
            double integral = sum(Piece::integral);
            double duration = sum(Piece::length);
            known = new Totals(integral, duration);
            totals = known;
        }
        return known;
    }

    /** The square itself is integrated, never a difference of squares, so that small values keep their digits. */
    double integralOfSquare() {
        Double known = integralOfSquare;
        if (known == null) {
            known = sum(piece -> piece.integralOfProduct(piece));
            integralOfSquare = known;
        }
        return known;
    }

    /** Over all pieces; what comes again is worked out once. */
    private double sum(ToDoubleFunction<Piece> of) {
        Sum all = new Sum();
        for (Block block : timeline.blocks()) {
            Sum once = block.times() == 1 ? all : new Sum();
            for (int span = block.first(); span < block.first() + block.count(); span++) {
                for (Piece piece : curve.pieces(span)) {
                    once.add(of.applyAsDouble(piece));
                }
            }
            if (block.times() > 1) {
                all.add(once.value() * block.times());
            }
        }
        return all.value();
    }
}
