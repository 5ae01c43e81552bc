package org.voltsecond.engine;

import java.util.Arrays;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.FastModes;
import org.voltsecond.numeric.RoundOff;

/**
 * Finds the first guard that falls through zero within an interval. A guard is dismissed by a bound on its polynomial;
 * where the bound is not enough, the first crossing is isolated. Holds scratch space and allocates nothing.
 *
 * <p>Crossings within 8 units in the last place of the interval's time are simultaneous: the guard that its
 * configuration lists first is the one reported.
 */
final class EventSearch {
    static final int NONE = -1;
    private final FirstCrossing crossing = new FirstCrossing();
    private final Leaps leaps = new Leaps();
    private double[] polynomial = FirstCrossing.NO_ROOM;
    private double[] rate = FirstCrossing.NO_ROOM;
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
        double until = atMost / phase.flow.base;
        Leg.Near near = atMost <= phase.flow.farthest ? phase.nearEnd(atMost) : null;
        elapsed = atMost;
        boolean led = near != null && near.leadBases > 0;
        if (near != null && led && passes(near, phase.flow, z, sinceTick, until, end)) {
            return NONE;
        }
        if (atMost > phase.flow.base) {
            return firstOfWalk(phase, z, sinceTick, atMost, end);
        }
        if (near != null && !led) {
            near.stateAt(z, until, end);
        } else {
            phase.flow.stateAt(z, until, end);
        }
        return firstBefore(phase, z, sinceTick, atMost, end);
    }

    /** Goes to near an end that was met before, more than a base away; whether all guards are certainly clear until there. */
    private boolean passes(Leg.Near near, Flow flow, double[] z, double sinceTick, double until, double[] end) {
        double rest = until - near.leadBases;
        double[] from = near.begin(z, sinceTick);
        if (from == null || !(rest > 0 && rest <= 1)) {
            return false;
        }
        near.stateAt(from, until, end);
        findRate(flow, from);
        double since = sinceTick + near.leadBases * flow.base;
        for (GuardRows guard : flow.guards) {
            if (!guard.clear(from, rate, end, since, rest * flow.base, rest)) {
                return false;
            }
        }
        return true;
    }

    /** The same where the state at the end of the time is known; of more than one base of the flow it is found anew. */
    int firstBefore(PhaseRun phase, double[] z, double sinceTick, double atMost, double[] end) {
        if (atMost > phase.flow.base) {
            return firstOfWalk(phase, z, sinceTick, atMost, end);
        }
        elapsed = atMost;
        GuardRows[] guards = phase.flow.guards;
        double until = atMost / phase.flow.base;
        findRate(phase.flow, z);
        for (int g = 0; g < guards.length; g++) {
            if (!guards[g].clear(z, rate, end, sinceTick, atMost, until)) {
                return search(phase, g, z, sinceTick, atMost, end);
            }
        }
        return NONE;
    }

    /**
     * The usual case where a guard ends a phase period after period: it falls steadily, and crosses near where it did the
     * last time, while all others stay clear. Goes there without a look at what would come later.
     *
     * @return that guard, or {@link #NONE} if this is not certain
     */
    int follow(PhaseRun phase, double[] z, double sinceTick, double atMost, double[] end) {
        int followed = phase.followed;
        Leg.Near near = phase.nearCrossing(followed);
        if (near == null) {
            return NONE;
        }
        Flow flow = phase.flow;
        GuardRows guard = flow.guards[followed];
        double[] from = near.begin(z, sinceTick);
        if (from == null) {
            return NONE;
        }
        double u = near.crossing(guard, from, sinceTick, end);
        double time = u * flow.base;
        double rest = u - near.leadBases;
        // the bounds hold within one base
        if (!(rest > 0 && rest <= 1)) {
            return NONE;
        }
        findRate(flow, from);
        double since = sinceTick + near.leadBases * flow.base;
        double restTime = rest * flow.base;
        boolean certain = time < atMost
                && guard.valueAt(from, since) > guard.tolerance(from, since + restTime)
                && guard.fallsSteadily(rate, flow.base, rest);
        for (int g = 0; certain && g < flow.guards.length; g++) {
            certain = g == followed || flow.guards[g].clear(from, rate, end, since, restTime, rest);
        }
        elapsed = time;
        if (!certain) {
            return NONE;
        }
        phase.crossed(followed, u);
        return followed;
    }

    private void findRate(Flow flow, double[] z) {
        if (rate.length != flow.n) {
            rate = new double[flow.n];
        }
        flow.rate(z, rate);
    }

    /** Looks through the guards from the first that may reach zero on. */
    private int search(PhaseRun phase, int first, double[] z, double sinceTick, double atMost, double[] end) {
        Flow flow = phase.flow;
        double until = atMost / flow.base;
        double best = FirstCrossing.NONE;
        int guard = NONE;
        reserve(flow.degree + 1);
        for (int g = first; g < flow.guards.length; g++) {
            GuardRows rows = flow.guards[g];
            if (g > first && rows.clear(z, rate, end, sinceTick, atMost, until)) {
                continue;
            }
            rows.polynomial(z, sinceTick, flow.base, polynomial);
            polynomial[0] += phase.room(g);
            double tolerance = rows.tolerance(z, rate, sinceTick + atMost);
            double limit = guard == NONE ? until : best - RoundOff.OF_AN_INSTANT * until;
            double u = limit > 0
                    ? crossing.search(polynomial, flow.degree + 1, limit, tolerance, phase.lastCrossing(g))
                    : FirstCrossing.NONE;
            if (u < best) {
                best = u;
                guard = g;
            }
        }
        elapsed = atMost;
        if (guard == NONE) {
            flow.stateAt(z, until, end);
        } else {
            elapsed = best * flow.base;
            flow.stateAt(z, best, end);
            phase.crossed(guard, best);
        }
        return guard;
    }

    private int firstOfWalk(PhaseRun phase, double[] z, double sinceTick, double atMost, double[] end) {
        Walk walk = phase.walk();
        Flow flow = phase.flow;
        walk.begin(z, atMost);
        leaps.begin(walk, flow, atMost);
        while (true) {
            while (leaps.pass(walk, flow, sinceTick)) {
                // goes on from there
            }
            if (!walk.next()) {
                break;
            }
            reserve(walk.terms());
            double best = FirstCrossing.NONE;
            int guard = NONE;
            for (int g = 0; g < flow.guards.length; g++) {
                if (walk.clear(g, sinceTick)) {
                    continue;
                }
                walk.polynomial(flow.guards[g], sinceTick, polynomial);
                polynomial[0] += phase.room(g);
                double until = walk.length / walk.unit();
                double limit = guard == NONE ? until : best - RoundOff.OF_AN_INSTANT * until;
                double u = limit > 0
                        ? crossing.search(polynomial, walk.terms(), limit, walk.tolerance(g, sinceTick), 0)
                        : FirstCrossing.NONE;
                if (u < best) {
                    best = u;
                    guard = g;
                }
            }
            if (guard != NONE) {
                double inSegment = walk.polish(guard, phase.room(guard), best * walk.unit(), sinceTick, end);
                elapsed = walk.offset + inSegment;
                if (elapsed <= flow.farthest) {
                    phase.crossed(guard, elapsed / flow.base);
                }
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

    /** Passes over the part of a walk in which all guards are clear of what rings or dies out, in steps of the ladder. */
    private static final class Leaps {
        /** So many steps of one base tell that something rings; together they cost what finding the modes does. */
        private static final int STEPS_FIRST = 48;
        /** The shortest leap: two to the power of this. */
        private static final int LEAST_LEVEL = 3;
        /** Steps between two looks, at most. */
        private static final int LONGEST_WAIT = 8;
        /** Round-off grows with the turns of what rings, as in {@link Interval}: what takes more bases is walked, and refused if too long. */
        private static final double MOST_BASES = 1 << 20;

        private double[] to = {};
        private double[] shares = {};
        private @Nullable Clearance known;
        private int steps;
        private int wait;
        private int patience;

        /** What a phase of this run has shown to ring counts, never what another run has: the same run takes the same steps. */
        void begin(Walk walk, Flow flow, double atMost) {
            boolean isShort = atMost < MOST_BASES * flow.base;
            known = isShort ? walk.clearance : null;
            steps = isShort ? 0 : STEPS_FIRST;
            wait = 0;
            patience = 1;
        }

        /** Leads a walk on as far as it may; whether it did. */
        boolean pass(Walk walk, Flow flow, double sinceTick) {
            int level = Math.getExponent(walk.rest() / flow.base);
            if (level < LEAST_LEVEL) {
                return false;
            }
            steps++;
            if (known == null && steps == STEPS_FIRST) {
                known = flow.ladder().clearance();
                walk.clearance = known;
            }
            Clearance clearance = known;
            if (clearance == null || clearance.modes == null || wait-- > 0) {
                return false;
            }
            if (to.length != flow.n) {
                to = new double[flow.n];
                shares = new double[flow.n];
            }
            double since = sinceTick + walk.reached();
            boolean isHopeful = clearance.begins(walk.end, since, shares);
            while (isHopeful && level >= LEAST_LEVEL) {
                double span = flow.base * Math.scalb(1.0, level);
                flow.ladder().advance(level, walk.end, to);
                if (clearance.holds(walk.end, to, since, span, shares)) {
                    walk.leap(level, to);
                    patience = 1;
                    wait = 0;
                    return true;
                }
                level--;
            }
            patience = Math.min(2 * patience, LONGEST_WAIT);
            wait = patience;
            return false;
        }
    }

    /** The guards of a flow beside its fast modes. Immutable. */
    static final class Clearance {
        private final @Nullable FastModes modes;
        private final GuardRows[] guards;
        private final FastModes.Form[] forms;

        Clearance(Flow flow) {
            double[][] matrix = new double[flow.n][flow.n];
            double[] constants = new double[flow.n];
            for (int i = 0; i < flow.n; i++) {
                System.arraycopy(flow.dynamics, i * (flow.n + 1), matrix[i], 0, flow.n);
                constants[i] = flow.dynamics[i * (flow.n + 1) + flow.n];
            }
            FastModes found = FastModes.of(matrix, constants);
            modes = found;
            guards = flow.guards;
            forms = new FastModes.Form[found == null ? 0 : guards.length];
            for (int g = 0; g < forms.length && found != null; g++) {
                forms[g] = found.form(Arrays.copyOf(guards[g].form, flow.n), guards[g].form[flow.n]);
            }
        }

        /** Writes the shares of a state; whether all guards are clear of what swings there. */
        boolean begins(double[] z, double since, double[] shares) {
            Objects.requireNonNull(modes).shares(z, shares);
            for (int g = 0; g < forms.length; g++) {
                if (!(forms[g].slow(z) + guards[g].slope * since > forms[g].swing(shares))) {
                    return false;
                }
            }
            return true;
        }

        /** Whether all guards are certainly above zero over a span, by the bounds of {@link FastModes}. */
        boolean holds(double[] z, double[] end, double since, double span, double[] shares) {
            double largest = Objects.requireNonNull(modes).largest(z, shares, span);
            for (int g = 0; g < forms.length; g++) {
                GuardRows guard = guards[g];
                double first = forms[g].slow(z) + guard.slope * since;
                double last = forms[g].slow(end) + guard.slope * (since + span);
                double bound = forms[g].swing(shares)
                        + forms[g].departure(largest, span)
                        + guard.tolerance(z, since + span)
                        + guard.tolerance(end, since + span);
                if (!(Math.min(first, last) > bound)) {
                    return false;
                }
            }
            return largest < Double.POSITIVE_INFINITY;
        }
    }
}
