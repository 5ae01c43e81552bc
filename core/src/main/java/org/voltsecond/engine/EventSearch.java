package org.voltsecond.engine;

/**
 * Finds the first guard that falls through zero within an interval. A guard is dismissed by a bound on its polynomial;
 * where the bound is not enough, the first crossing is isolated. Holds scratch space and allocates nothing.
 *
 * <p>Crossings within 8 units in the last place of the interval's time are simultaneous: the guard that its
 * configuration lists first is the one reported.
 */
final class EventSearch {
    static final int NONE = -1;
    private static final double SAME_TIME = 8 * 0x1p-52;

    private final FirstCrossing crossing = new FirstCrossing();
    private double[] polynomial = new double[64];
    private double elapsed;

    /** How far the last search went, s. */
    double elapsed() {
        return elapsed;
    }

    /**
     * Goes on from a state for at most the given time.
     *
     * @return the guard that ends the interval, or {@link #NONE}; {@code end} then holds the state there
     */
    int first(PhaseRun phase, double[] z, double sinceTick, double atMost, double[] end) {
        if (atMost > phase.flow.base) {
            return firstOfWalk(phase, z, sinceTick, atMost, end);
        }
        Flow flow = phase.flow;
        double until = atMost / flow.base;
        flow.stateAt(z, until, end);
        double best = FirstCrossing.NONE;
        int guard = NONE;
        for (int g = 0; g < flow.guards.length; g++) {
            GuardRows rows = flow.guards[g];
            if (rows.clear(z, end, sinceTick, atMost, until)) {
                continue;
            }
            reserve(flow.degree + 1);
            rows.polynomial(z, sinceTick, flow.base, polynomial);
            double limit = guard == NONE ? until : best * (1 - SAME_TIME);
            double u = limit > 0
                    ? crossing.search(
                            polynomial,
                            flow.degree + 1,
                            limit,
                            rows.tolerance(z, sinceTick + atMost),
                            phase.lastCrossing[g])
                    : FirstCrossing.NONE;
            if (u < best) {
                best = u;
                guard = g;
                phase.lastCrossing[g] = u;
            }
        }
        elapsed = atMost;
        if (guard != NONE) {
            elapsed = best * flow.base;
            flow.stateAt(z, best, end);
        }
        return guard;
    }

    private int firstOfWalk(PhaseRun phase, double[] z, double sinceTick, double atMost, double[] end) {
        Walk walk = phase.walk();
        Flow flow = phase.flow;
        walk.begin(z, atMost);
        while (walk.next()) {
            reserve(walk.terms());
            double best = FirstCrossing.NONE;
            int guard = NONE;
            for (int g = 0; g < flow.guards.length; g++) {
                if (walk.clear(g, sinceTick)) {
                    continue;
                }
                walk.polynomial(flow.guards[g], sinceTick, polynomial);
                double until = walk.length / walk.unit();
                double limit = guard == NONE ? until : best * (1 - SAME_TIME);
                double u = limit > 0
                        ? crossing.search(polynomial, walk.terms(), limit, walk.tolerance(g, sinceTick), 0)
                        : FirstCrossing.NONE;
                if (u < best) {
                    best = u;
                    guard = g;
                }
            }
            if (guard != NONE) {
                double inSegment = walk.polish(guard, best * walk.unit(), sinceTick, end);
                elapsed = walk.offset + inSegment;
                return guard;
            }
        }
        System.arraycopy(walk.end, 0, end, 0, end.length);
        elapsed = atMost;
        return NONE;
    }

    private void reserve(int terms) {
        if (polynomial.length < terms) {
            polynomial = new double[terms];
        }
    }
}
