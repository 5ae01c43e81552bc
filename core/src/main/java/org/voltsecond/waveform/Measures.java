package org.voltsecond.waveform;

import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory.Block;

/**
 * Measures of a waveform over all its time, worked out on first use and kept; two threads at once find the same. What is
 * mostly asked for together comes from one walk over all pieces, since working these out takes far longer than measuring them.
 */
final class Measures {
    private record Totals(double integral, double duration) {}

    /** Integrals of the square, and of the square of what departs from the mean. */
    private record Squares(double ofValue, double ofRipple) {}

    private final Timeline timeline;
    private final Curve curve;
    private volatile @Nullable Extremes extremes;
    private volatile @Nullable Totals totals;
    private volatile @Nullable Squares squares;

    Measures(Timeline timeline, Curve curve) {
        this.timeline = timeline;
        this.curve = curve;
    }

    Extremes extremes() {
        Extremes known = extremes;
        if (known == null) {
            Total integral = new Total();
            Total duration = new Total();
            Extremes.Scan scan = new Extremes.Scan();
            walk(
                    piece -> {
                        scan.add(piece);
                        integral.add(piece.integral());
                        duration.add(piece.length());
                    },
                    integral,
                    duration);
            known = scan.found(timeline);
            extremes = known;
            totals = new Totals(integral.value(), duration.value());
        }
        return known;
    }

    double integral() {
        return totals().integral;
    }

    double mean() {
        return totals().integral / totals().duration;
    }

    /** The sum of the pieces' own lengths, which late in a long run is finer than the difference of two times. */
    double duration() {
        return totals().duration;
    }

    private Totals totals() {
        Totals known = totals;
        if (known == null) {
            Total integral = new Total();
            Total duration = new Total();
            walk(
                    piece -> {
                        integral.add(piece.integral());
                        duration.add(piece.length());
                    },
                    integral,
                    duration);
            known = new Totals(integral.value(), duration.value());
            totals = known;
        }
        return known;
    }

    /** The square itself is integrated, never a difference of squares, so that small values keep their digits. */
    double integralOfSquare() {
        return squares().ofValue;
    }

    /** The same of what departs from the mean. */
    double integralOfSquaredRipple() {
        return squares().ofRipple;
    }

    private Squares squares() {
        Squares known = squares;
        if (known == null) {
            double mean = mean();
            Total ofValue = new Total();
            Total ofRipple = new Total();
            walk(
                    piece -> {
                        ofValue.add(piece.integralOfProduct(piece));
                        Piece ripple = Pieces.plusConstant(piece, -mean);
                        ofRipple.add(ripple.integralOfProduct(ripple));
                    },
                    ofValue,
                    ofRipple);
            known = new Squares(ofValue.value(), ofRipple.value());
            squares = known;
        }
        return known;
    }

    /** Goes over all pieces; what comes again is gone over once. */
    private void walk(Consumer<Piece> reader, Total... totals) {
        for (Block block : timeline.blocks()) {
            for (Total total : totals) {
                total.begin(block);
            }
            for (int span = block.first(); span < block.first() + block.count(); span++) {
                curve.pieces(span).forEach(reader);
            }
            for (Total total : totals) {
                total.end(block);
            }
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
