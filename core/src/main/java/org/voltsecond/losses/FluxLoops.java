package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.voltsecond.engine.Piece;
import org.voltsecond.numeric.PolynomialRoots;
import org.voltsecond.numeric.RootSearch;

/**
 * Splits one period of a flux density into its major loop and the minor loops that ride on it, each with the pieces of time
 * in which it is run through. A minor loop begins at a turn, and ends where the flux comes back to the level of that turn
 * (Venkatachalam and others, 2002, who do it by recursion; here a stack of monotone runs does it in one pass).
 */
final class FluxLoops {
    private final List<Loop> loops = new ArrayList<>();
    private final List<Run> open = new ArrayList<>();

    private FluxLoops() {}

    /**
     * One loop.
     *
     * @param swing its peak-to-peak flux density, T
     * @param pieces when it is run through
     */
    record Loop(double swing, List<Piece> pieces) {}

    /** Pieces in a row between which the flux does not turn. */
    private record Run(double from, double to, List<Piece> pieces) {
        static Run of(Piece piece) {
            return new Run(piece.valueAt(0), piece.valueAt(1), List.of(piece));
        }

        double swing() {
            return Math.abs(to - from);
        }

        boolean rises() {
            return to > from;
        }

        Run then(Run next) {
            List<Piece> both = new ArrayList<>(pieces);
            both.addAll(next.pieces);
            return new Run(from, next.to, both);
        }

        /** The part up to a level within it, and the part beyond. */
        List<Run> cutAt(double level) {
            List<Piece> before = new ArrayList<>();
            List<Piece> after = new ArrayList<>();
            for (Piece piece : pieces) {
                double last = piece.valueAt(1);
                if (rises() ? last <= level : last >= level) {
                    before.add(piece);
                } else if (after.isEmpty() && (rises() ? piece.valueAt(0) < level : piece.valueAt(0) > level)) {
                    double at = RootSearch.between(u -> piece.valueAt(u) - level, 0, 1, 0);
                    before.add(piece.part(0, at));
                    after.add(piece.part(at, 1));
                } else {
                    after.add(piece);
                }
            }
            return List.of(new Run(from, level, before), new Run(level, to, after));
        }
    }

    /** The loops of one period, the major one last; none if the flux rests. */
    static List<Loop> of(List<Piece> period) {
        FluxLoops split = new FluxLoops();
        List<Run> monotone = new ArrayList<>();
        for (Piece piece : period) {
            double from = 0;
            for (double turn : PolynomialRoots.in01(piece.derivative().coefficients())) {
                add(monotone, piece, from, turn);
                from = turn;
            }
            add(monotone, piece, from, 1);
        }
        Collections.rotate(monotone, -lowest(monotone));
        monotone.forEach(split::push);
        split.closeMajor();
        return split.loops;
    }

    private static void add(List<Run> runs, Piece piece, double from, double to) {
        if (to > from) {
            Run run = Run.of(piece.part(from, to));
            if (run.swing() > 0) {
                runs.add(run);
            }
        }
    }

    private static int lowest(List<Run> runs) {
        int lowest = 0;
        for (int k = 1; k < runs.size(); k++) {
            lowest = runs.get(k).from() < runs.get(lowest).from() ? k : lowest;
        }
        return lowest;
    }

    private void push(Run run) {
        int top = open.size() - 1;
        if (top >= 0 && open.get(top).rises() == run.rises()) {
            open.set(top, open.get(top).then(run));
        } else {
            open.add(run);
        }
        while (open.size() > 2 && closesMinor()) {
            takeMinor();
        }
    }

    private boolean closesMinor() {
        int top = open.size() - 1;
        double inner = open.get(top - 1).swing();
        return inner <= open.get(top - 2).swing() && inner <= open.get(top).swing();
    }

    private void takeMinor() {
        Run last = open.remove(open.size() - 1);
        Run inner = open.remove(open.size() - 1);
        Run before = open.remove(open.size() - 1);
        List<Run> parts = last.cutAt(inner.from());
        loops.add(new Loop(inner.swing(), inner.then(parts.get(0)).pieces()));
        open.add(before.then(parts.get(1)));
    }

    private void closeMajor() {
        if (open.isEmpty()) {
            return;
        }
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        List<Piece> pieces = new ArrayList<>();
        for (Run run : open) {
            least = Math.min(least, Math.min(run.from(), run.to()));
            most = Math.max(most, Math.max(run.from(), run.to()));
            pieces.addAll(run.pieces());
        }
        loops.add(new Loop(most - least, pieces));
    }
}
