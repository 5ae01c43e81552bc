package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.List;
import java.util.function.BinaryOperator;
import java.util.function.UnaryOperator;
import org.voltsecond.engine.Piece;

/** The polynomials of a waveform, worked out anew whenever they are asked for, so that long runs cost no memory. */
@FunctionalInterface
interface Curve {
    /** The pieces that fill one span of the time line, without gaps, in ascending order. */
    List<Piece> pieces(int span);

    default Curve map(UnaryOperator<Piece> change) {
        return span -> {
            List<Piece> pieces = pieces(span);
            List<Piece> result = new ArrayList<>(pieces.size());
            for (Piece piece : pieces) {
                result.add(change.apply(piece));
            }
            return result;
        };
    }

    /** Both curves must stand over the same trajectory: only then do their pieces share their ends. */
    default Curve zip(Curve other, BinaryOperator<Piece> join) {
        return span -> {
            List<Piece> mine = pieces(span);
            List<Piece> others = other.pieces(span);
            List<Piece> result = new ArrayList<>(mine.size());
            for (int k = 0; k < mine.size(); k++) {
                result.add(join.apply(mine.get(k), others.get(k)));
            }
            return result;
        };
    }

    /** The curve over a cut time line whose span 0 is span {@code offset} here, with its outermost pieces trimmed. */
    default Curve cut(int offset, Timeline window) {
        int last = window.size() - 1;
        return span -> {
            List<Piece> pieces = pieces(span + offset);
            return span > 0 && span < last ? pieces : Pieces.trim(pieces, window.start(), window.end());
        };
    }

    /** The curve over a repeated time line of which {@code period} is one turn. */
    default Curve repeat(Timeline period) {
        return span -> {
            int turn = span / period.size();
            double shift = turn * (period.end() - period.start());
            return turn == 0 ? pieces(span) : Pieces.shift(pieces(span % period.size()), shift);
        };
    }
}
