package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.voltsecond.engine.Piece;
import org.voltsecond.numeric.PolynomialRoots;

/** Questions about single polynomials. */
final class Pieces {
    private static final double[] NONE = new double[0];
    /** Far above the rounding of a sum of some tens of terms. */
    private static final double STEADY = 1e-12;

    private Pieces() {}

    static double fraction(Piece piece, double time) {
        return piece.length() > 0 ? Math.min(1, Math.max(0, (time - piece.start()) / piece.length())) : 0;
    }

    static double time(Piece piece, double fraction) {
        return piece.start() + fraction * piece.length();
    }

    /** How far the polynomial can be from its value at the start: a cheap bound that dismisses most pieces. */
    static double reach(Piece piece) {
        double sum = 0;
        for (int k = piece.degree(); k >= 1; k--) {
            sum += Math.abs(piece.coefficient(k));
        }
        return sum;
    }

    /**
     * Whether no value lies outside a range, by a bound that is close where a piece is nearly a parabola, as most are: the extremes of
     * that, at the ends and at the vertex c0 - c1^2 / (4 c2), and the sizes of all higher terms.
     */
    static boolean isWithin(Piece piece, double low, double high) {
        double first = piece.coefficient(0);
        int degree = piece.degree();
        double slope = degree > 0 ? piece.coefficient(1) : 0;
        double bend = degree > 1 ? piece.coefficient(2) : 0;
        double last = first + slope + bend;
        double vertex = slope * (slope + 2 * bend) < 0 ? first - slope * slope / (4 * bend) : first;
        double rest = 0;
        for (int k = degree; k > 2; k--) {
            rest += Math.abs(piece.coefficient(k));
        }
        // far above what rounding adds
        double room = rest + STEADY * (Math.abs(first) + Math.abs(slope) + Math.abs(bend) + rest);
        return Math.max(first, Math.max(last, vertex)) + room <= high
                && Math.min(first, Math.min(last, vertex)) - room >= low;
    }

    /** An upper bound of the size of the values. */
    static double size(Piece piece) {
        return Math.abs(piece.coefficient(0)) + reach(piece);
    }

    /** Fractions at which the derivative is zero, ascending. */
    static double[] turns(Piece piece) {
        if (piece.degree() < 2 || isSteady(piece)) {
            return NONE;
        }
        double[] derivative = new double[piece.degree()];
        for (int k = 1; k <= piece.degree(); k++) {
            derivative[k - 1] = k * piece.coefficient(k);
        }
        return PolynomialRoots.in01(derivative);
    }

    /** Whether it rises or falls throughout: |c1| exceeds the sum of k |ck|, by more than what rounding may add. */
    private static boolean isSteady(Piece piece) {
        double bend = 0;
        for (int k = piece.degree(); k >= 2; k--) {
            bend += k * Math.abs(piece.coefficient(k));
        }
        return Math.abs(piece.coefficient(1)) > bend * (1 + STEADY);
    }

    /** Fractions at which the value is the level, ascending. */
    static double[] meetings(Piece piece, double level) {
        if (Math.abs(piece.coefficient(0) - level) > reach(piece)) {
            return NONE;
        }
        double[] shifted = piece.coefficients();
        shifted[0] -= level;
        return PolynomialRoots.in01(shifted);
    }

    /** The given fractions with 0 before and 1 after them. */
    static double[] withEnds(double[] fractions) {
        double[] all = new double[fractions.length + 2];
        System.arraycopy(fractions, 0, all, 1, fractions.length);
        all[all.length - 1] = 1;
        return all;
    }

    static double[] merge(double[] a, double[] b) {
        double[] all = Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, all, a.length, b.length);
        Arrays.sort(all);
        return all;
    }

    static Piece plusConstant(Piece piece, double constant) {
        double[] shifted = piece.coefficients();
        shifted[0] += constant;
        return Piece.of(piece.start(), piece.length(), shifted);
    }

    static Piece scale(Piece piece, double factor) {
        double[] scaled = piece.coefficients();
        for (int k = 0; k < scaled.length; k++) {
            scaled[k] *= factor;
        }
        return Piece.of(piece.start(), piece.length(), scaled);
    }

    static List<Piece> shift(List<Piece> pieces, double time) {
        List<Piece> shifted = new ArrayList<>(pieces.size());
        for (Piece piece : pieces) {
            shifted.add(Piece.of(piece.start() + time, piece.length(), piece.coefficients()));
        }
        return shifted;
    }

    /** The pieces between two times; the outermost ones are cut. */
    static List<Piece> trim(List<Piece> pieces, double from, double to) {
        List<Piece> kept = new ArrayList<>(pieces.size());
        for (int k = 0; k < pieces.size(); k++) {
            Piece piece = pieces.get(k);
            double low = from > piece.start() ? fraction(piece, from) : 0;
            double high = to < piece.end() ? fraction(piece, to) : 1;
            if (low == 0 && high == 1) {
                kept.add(piece);
            } else if (high > low) {
                kept.add(piece.part(low, high));
            }
        }
        return kept.isEmpty() ? sliver(pieces, from, to) : kept;
    }

    /** A window too narrow for its fractions to differ holds one value. */
    private static List<Piece> sliver(List<Piece> pieces, double from, double to) {
        Piece holder = pieces.get(0);
        for (Piece piece : pieces) {
            holder = piece.start() <= from ? piece : holder;
        }
        return List.of(Piece.of(from, to - from, new double[] {holder.valueAt(fraction(holder, from))}));
    }
}
