package org.voltsecond.engine;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.CycleRows.Hop;
import org.voltsecond.engine.PhaseRun.Step;

/**
 * A clock period that repeats: the same phases, each ended by the clock or by the same guard, near instants that were worked
 * out before. The state at the end of the period is an affine function of the state at its start for every shift of those
 * instants, and a polynomial in the shifts; so is each guard that ends a phase. Phases between two instants that do not move
 * are fused into one polynomial. What has to hold on the way, every guard clear of zero from one end of its phase to the other,
 * is worked out once for a box of states ({@link CycleClearance}); a period that starts in the box needs no look at it.
 * A named numeric kernel.
 *
 * <p>Shifts count in clock periods. Allocates nothing, except where its instants are moved to where the events have drifted.
 */
final class Cycle {
    /** How much farther than the first guess a crossing may be. */
    private static final double MARGIN = 1.5;

    private static final int MOST_STEPS = 6;
    /** Beyond so many states the products of two polynomials cost more than they save. */
    private static final int MOST_FUSED = 8;
    /** Distances below this fraction of the reach take few powers. */
    private static final double FAR = 1e-2;
    /** Beyond this part of the reach instants are moved where a new box is to be made anyway. Chosen. */
    private static final double NEAR = 0.5;
    /** Working all out anew takes as long as so many periods save, as measured. */
    private static final double WORTH = 4096;
    /** What it costs to work out the polynomials, for each state of each phase; counted in chords, see {@link CycleClearance}. */
    private static final int PRICE_OF_A_STATE = 2;
    /** The most that is kept for worse times. */
    private static final long MOST_CREDIT = 1 << 16;
    /** How often the instants may be moved for one period: each time the linear guess is closer. */
    private static final int MOST_MOVES = 6;

    /** A crossing is right within a quarter of the round-off of the time that it lies after. */
    private static final double RELATIVE = 0x1p-54;

    /** One phase on the way, and how long it lasts unless its end is shifted. */
    static final class Stay {
        final Step entry;
        final Flow flow;
        /** The guard that ends it, or that it ends with the clock. */
        final int guard;

        /** How many shifts its start, and its length, may have come to. */
        int startShifts;

        int lengthShifts;
        double start;
        double duration;
        /** The change of the state over the duration. */
        final double[] change;
        /** The hop that looks for its guard; null where the clock ends it. */
        @Nullable
        Hop hop;
        /** Begin, length and states of the last time, for who listens. */
        double since;

        double length;
        final double[] from;

        final double[] to;

        Stay(Step entry, int guard, double duration) {
            this.entry = entry;
            this.guard = guard;
            this.duration = duration;
            flow = entry.next.flow;
            change = new double[flow.n * (flow.n + 1)];
            from = new double[flow.n];
            to = new double[flow.n];
        }

        boolean endsByGuard() {
            return guard != EventSearch.NONE;
        }

        /** Whether the phase may last so long without being ended by time, and is not over when it begins. */
        boolean mayLast(double most, double uncertain) {
            PhaseRun phase = entry.next;
            return start + uncertain < phase.endSinceTick
                    && most < phase.maximumDuration
                    && (!endsByGuard() || start + uncertain + most < phase.endSinceTick);
        }
    }

    final int n;
    final double period;
    final Stay[] stays;
    final Hop[] hops;
    /** The box of states from which all is certain. */
    final double[] centre;

    final double[] radius;
    /** The largest shift for which it is, in clock periods. */
    double reach;

    private final CycleRows rows;
    private final double[] scratch;
    private final CycleClearance clearance;
    private final double[] now;
    private final double[] then;
    private final double[] marked;
    /** How often what the polynomials or the box are has changed; while they do not, equal states lead to equal periods. */
    private int changes;

    private int markedChanges;
    /** Whether an event stands far from where it was, so that less would be to do if all were worked out there. */
    private boolean isDrifting;

    private final boolean isPossible;
    private final Finder finder;
    /** How much it has cost to be certain the last time, in chords. */
    private long price = 1;
    /** Whether its instants are far from where the events are now. */
    private boolean isLost;

    Cycle(Stay[] stays, Finder finder) {
        this.stays = stays;
        this.finder = finder;
        period = finder.period;
        n = stays[0].flow.n;
        hops = hops(stays, n);
        for (Hop hop : hops) {
            if (hop.event >= 0) {
                stays[hop.event].hop = hop;
            }
        }
        centre = new double[n];
        radius = new double[n];
        rows = new CycleRows(n, period);
        scratch = new double[n * (n + 1)];
        now = new double[n];
        then = new double[n];
        marked = new double[n];
        clearance = new CycleClearance(this);
        isPossible = clearance.isPossible();
        workOut();
    }

    /**
     * Where instants of the clock lie between two events, those are apart: each hop up to such an instant has one event at most,
     * or is one of a row that ends with one to the clock.
     */
    private static Hop[] hops(Stay[] stays, int n) {
        Hop[] result = new Hop[stays.length];
        int count = 0;
        int first = 0;
        while (first < stays.length) {
            int events = 0;
            int event = -1;
            int last = first;
            boolean ends = false;
            for (int i = first; i < stays.length && !ends; i++) {
                last = i;
                if (stays[i].endsByGuard()) {
                    events++;
                    event = i;
                } else {
                    ends = events > 0 && eventAfter(stays, i);
                }
            }
            if (events == 0 || (events == 1 && n <= MOST_FUSED)) {
                result[count++] = new Hop(first, event, last, 0, n);
            } else {
                int from = first;
                int before = 0;
                for (int i = first; i <= event; i++) {
                    if (stays[i].endsByGuard()) {
                        result[count++] = new Hop(from, i, i, 0, n);
                        stays[i].startShifts = before++;
                        stays[i].lengthShifts = 1;
                        from = i + 1;
                    }
                }
                result[count++] = new Hop(from, -1, last, events, n);
            }
            if (events > 0) {
                stays[event].lengthShifts = 1;
                stays[event + 1].startShifts = events;
                stays[event + 1].lengthShifts = events;
            }
            first = last + 1;
        }
        return Arrays.copyOf(result, count);
    }

    private static boolean eventAfter(Stay[] stays, int at) {
        for (int i = at + 1; i < stays.length; i++) {
            if (stays[i].endsByGuard()) {
                return true;
            }
        }
        return false;
    }

    /** Works out all polynomials about the present instants. */
    private void workOut() {
        changes++;
        Arrays.fill(radius, -1);
        double since = 0;
        for (Stay stay : stays) {
            stay.start = since;
            // an instant of the clock does not shift
            stay.duration = stay.endsByGuard() ? stay.duration : stay.entry.next.endSinceTick - since;
            stay.flow.changeOver(stay.duration, stay.change, scratch);
            since += stay.duration;
        }
        for (Hop hop : hops) {
            rows.begin();
            for (int i = hop.first; i <= hop.last; i++) {
                Stay stay = stays[i];
                if (i == hop.event + 1 && i > hop.first) {
                    rows.advanceToFixedEnd(stay.flow, stay.change);
                } else if (i == hop.event || (i == hop.first && hop.eventsBefore > 0)) {
                    rows.advanceToShiftedEnd(stay.flow, stay.change);
                } else {
                    rows.advance(stay.change);
                }
                if (i == hop.event) {
                    rows.write(stay.flow.guards[stay.guard], stay.start + stay.duration, hop);
                    hop.slope = stay.flow.guards[stay.guard].slope * period;
                    hop.within = RELATIVE * stay.duration / period;
                }
                rows.jump(stays[(i + 1) % stays.length].entry);
            }
            rows.write(hop);
        }
    }

    /** Whether it would cost more to be certain than there is to spend, or nothing can be certain in it. */
    boolean isSpent() {
        return !isPossible || finder.credit < price;
    }

    /** Begins anew with durations that were found otherwise, where its own have not led there. */
    private void comeBack(double[] durations) {
        if (isLost && !isSpent()) {
            for (int i = 0; i < stays.length; i++) {
                stays[i].duration = durations[i];
            }
            finder.credit -= priceOfAMove();
            isLost = false;
            workOut();
        }
    }

    private long priceOfAMove() {
        return (long) PRICE_OF_A_STATE * n * stays.length;
    }

    /**
     * Goes on for whole periods, as long as it is certain what happens.
     *
     * @param z the state on the clock edge, just after the entry into the first phase; overwritten
     * @return how many periods were gone
     */
    int run(double[] z, int most) {
        boolean planar = n == 2 && hops.length == 1 && hops[0].event < 0;
        int done = 0;
        while (done < most) {
            int more = planar ? runPlanar(z, most - done) : 0;
            finder.earn((long) more * stays.length);
            done += more;
            if (done == most || !next(z)) {
                return done;
            }
            done++;
        }
        return done;
    }

    /** The same for two states and no event, with everything at hand. */
    private int runPlanar(double[] z, int most) {
        double[] r = hops[0].state;
        double r00 = r[0];
        double r01 = r[1];
        double r0 = r[2];
        double r10 = r[3];
        double r11 = r[4];
        double r1 = r[5];
        double c0 = centre[0];
        double c1 = centre[1];
        double wide0 = radius[0];
        double wide1 = radius[1];
        double z0 = z[0];
        double z1 = z[1];
        int done = 0;
        while (done < most && Math.abs(z0 - c0) <= wide0 && Math.abs(z1 - c1) <= wide1) {
            double next0 = z0 + (r00 * z0 + r01 * z1 + r0);
            z1 += r10 * z0 + r11 * z1 + r1;
            z0 = next0;
            done++;
        }
        z[0] = z0;
        z[1] = z1;
        return done;
    }

    /** Goes on for one period; false, with the state as it was, if it is not certain what happens. */
    private boolean next(double[] z) {
        if (isNear(z) && go(z)) {
            finder.earn(stays.length);
            if (isDrifting) {
                moveInstants();
            }
            return true;
        }
        changes++;
        isLost = true;
        for (int tries = 0; tries < MOST_MOVES && finder.credit >= price; tries++) {
            // the box holds for the reach with which it was made
            Arrays.fill(radius, -1);
            reach = clearance.reach(z);
            // events far from their instants would soon be out of reach
            double[] end = pass(z);
            if (end != null && !isFar()) {
                isLost = false;
                if (!isTrusted(z, end)) {
                    return false;
                }
                if (go(z)) {
                    return true;
                }
            }
            if (!moveInstants()) {
                break;
            }
        }
        return false;
    }

    private boolean isTrusted(double[] z, double[] end) {
        long most = finder.credit;
        boolean trusted = clearance.trust(z, end, most);
        // where it would have taken more, there is to be twice as much the next time
        price = clearance.work() > most ? Math.min(MOST_CREDIT, 2 * most) : clearance.work();
        finder.credit -= clearance.work();
        return trusted;
    }

    private boolean isFar() {
        for (Hop hop : hops) {
            if (Math.abs(hop.shift) > NEAR * reach) {
                return true;
            }
        }
        return false;
    }

    /** Remembers a state, to see whether a later one is the same. */
    void mark(double[] z) {
        System.arraycopy(z, 0, marked, 0, n);
        markedChanges = changes;
        for (Hop hop : hops) {
            hop.markedShift = hop.lastShift;
        }
    }

    /** Whether the polynomials, and where they hold, are those of the mark. */
    boolean isAsMarked() {
        return changes == markedChanges;
    }

    /** Whether all that the next period depends on is what it was at the mark, to the bit: then all that follows is, too. */
    boolean isBackAt(double[] z) {
        boolean isBack = isAsMarked() && Arrays.equals(z, marked);
        for (Hop hop : hops) {
            isBack &= hop.markedShift == hop.lastShift;
        }
        return isBack;
    }

    /** Passes over periods that are like those before, with what they would have brought. */
    void leap(long periods) {
        finder.earn(periods * stays.length);
    }

    private boolean isNear(double[] z) {
        if (n == 2) {
            return Math.abs(z[0] - centre[0]) <= radius[0] && Math.abs(z[1] - centre[1]) <= radius[1];
        }
        boolean near = true;
        for (int j = 0; j < n; j++) {
            near &= Math.abs(z[j] - centre[j]) <= radius[j];
        }
        return near;
    }

    /** Goes through all hops; false, with the state as it was, if an instant is out of reach. */
    private boolean go(double[] z) {
        double[] end = pass(z);
        if (end != null) {
            System.arraycopy(end, 0, z, 0, n);
        }
        return end != null;
    }

    /** The state after all hops; null if an instant is out of reach. */
    private double @Nullable [] pass(double[] z) {
        isDrifting = false;
        double[] from = z;
        double[] to = now;
        double sum = 0;
        for (Hop hop : hops) {
            double d = -sum;
            int powers = 0;
            if (hop.event >= 0) {
                d = crossing(hop, from, sum);
                if (!(Math.abs(d) <= reach)) {
                    return null;
                }
                sum = hop.event == hop.last ? sum + d : 0;
                powers = hop.powers;
            } else {
                powers = sum == 0 ? 0 : hop.powersFor(Math.abs(d));
                sum = 0;
            }
            CycleRows.go(hop.state, from, d, powers, to, n);
            from = to;
            to = to == now ? then : now;
        }
        return from;
    }

    /** Where the guard of a hop crosses zero; out of reach or not a number if that is not found at once. */
    private double crossing(Hop hop, double[] z, double late) {
        double[] terms = hop.terms;
        CycleRows.values(hop.guard, 0, 1, z, n, terms);
        terms[0] += hop.slope * late;
        double c0 = terms[0];
        double c1 = terms[1];
        double d = -c0 / c1;
        double distance = Math.abs(d);
        hop.shift = d;
        if (!(distance <= reach)) {
            return Double.NaN;
        }
        isDrifting |= distance > FAR * reach && Math.abs(d - hop.lastShift) * WORTH <= distance;
        hop.lastShift = d;
        int powers = hop.powersFor(Math.min(reach, MARGIN * distance));
        hop.powers = powers;
        CycleRows.values(hop.guard, 2, powers, z, n, terms);
        double c2 = powers > 1 ? terms[2] : 0;
        for (int i = 0; i < MOST_STEPS; i++) {
            double value = terms[powers];
            double slope = 0;
            for (int k = powers - 1; k >= 0; k--) {
                slope = slope * d + value;
                value = value * d + terms[k];
            }
            double step = value / slope;
            d -= step;
            // Newton's method squares the error
            if (Math.abs(c2 * step * step) <= hop.within * Math.abs(slope) && Math.abs(d) <= MARGIN * distance) {
                hop.shift = d;
                return d;
            }
        }
        return Double.NaN;
    }

    /** Moves the instants to where the events were found last, or are near by the slopes of their guards. */
    private boolean moveInstants() {
        finder.credit -= priceOfAMove();
        double since = 0;
        for (Stay stay : stays) {
            double duration = movedDuration(stay);
            since = stay.endsByGuard() ? since + duration : stay.entry.next.endSinceTick;
            boolean possible = !stay.endsByGuard() || (duration > 0 && duration < period);
            if (!possible || since > stay.entry.next.endSinceTick) {
                return false;
            }
        }
        for (Stay stay : stays) {
            stay.duration = movedDuration(stay);
        }
        for (Hop hop : hops) {
            if (hop.event >= 0) {
                hop.shift = 0;
                hop.lastShift = Double.POSITIVE_INFINITY;
            }
        }
        workOut();
        return true;
    }

    private double movedDuration(Stay stay) {
        return stay.hop == null ? stay.duration : stay.duration + stay.hop.shift * period;
    }

    /** Works out where each phase of a period begins and ends, for who listens; the shifts are those found last. */
    void trace(double[] z) {
        double[] from = z;
        double since = 0;
        for (int i = 0; i < stays.length; i++) {
            Stay stay = stays[i];
            stay.since = since;
            Hop hop = stay.hop;
            double end = hop == null ? stay.entry.next.endSinceTick : since + (stay.duration + hop.shift * period);
            stay.length = end - since;
            System.arraycopy(from, 0, stay.from, 0, n);
            if (i > 0) {
                stay.entry.apply(stay.from, then);
            }
            Walk.stateAfter(stay.flow, stay.from, stay.length, stay.to, then);
            from = stay.to;
            since = end;
        }
    }

    /** Watches a run for clock periods that are alike. */
    static final class Finder {
        private static final int MOST_STAYS = 64;
        /** An event that moves by more than this from one period to the next, in clock periods, is soon out of reach; as measured. */
        private static final double STEADY = 8e-3;
        /** An interval of the usual kind costs as much as so many chords, and each base of a longer one so many more, as measured. */
        private static final int PRICE_OF_AN_INTERVAL = 4;

        private static final int PRICE_OF_A_BASE = 2;
        private static final int MOST_BASES = 1 << 7;
        /** One part in so many of what the run costs anyway is spent on cycles at most. */
        private static final int SHARE = 4;

        private final double period;
        private Seen seen = new Seen();
        private Seen before = new Seen();
        private long cost;
        /** How much more may be done to be certain, in chords. */
        private long credit;

        Finder(double period) {
            this.period = period;
        }

        /** The intervals of a clock period; without a count where not all of them are known, or no whole period. */
        private static final class Seen {
            Step[] entries = {};
            int[] ends = {};
            double[] durations = {};
            int count;

            void add(Step entry, int end, double duration) {
                if (count == entries.length) {
                    int more = Math.max(4, 2 * count);
                    entries = Arrays.copyOf(entries, more);
                    ends = Arrays.copyOf(ends, more);
                    durations = Arrays.copyOf(durations, more);
                }
                entries[count] = entry;
                ends[count] = end;
                durations[count] = duration;
                count++;
            }

            boolean isOf(Stay[] stays) {
                boolean same = stays.length == count;
                for (int i = 0; same && i < count; i++) {
                    same = stays[i].entry.isLike(entries[i]) && stays[i].guard == ends[i];
                }
                return same;
            }

            boolean isLike(Seen other, double period) {
                boolean alike = count == other.count;
                for (int i = 0; alike && i < count; i++) {
                    alike = entries[i].isLike(other.entries[i])
                            && ends[i] == other.ends[i]
                            && (ends[i] == EventSearch.NONE
                                    || Math.abs(durations[i] - other.durations[i]) <= STEADY * period);
                }
                return alike;
            }
        }

        /** Allows more to be done, from what has been done without it or saved by it. */
        private void earn(long more) {
            credit = Math.min(MOST_CREDIT, credit + more);
        }

        /** Begins anew on the next clock edge. */
        void forget() {
            seen.count = -1;
            before.count = 0;
        }

        void add(Step entry, int end, double duration) {
            double bases = Math.min(MOST_BASES, duration / entry.next.flow.base);
            cost += PRICE_OF_AN_INTERVAL + PRICE_OF_A_BASE * (long) bases;
            if (seen.count == MOST_STAYS) {
                seen.count = -1;
            }
            if (seen.count >= 0) {
                seen.add(entry, end, duration);
            }
        }

        /** On a clock edge, after the entry into the next period. */
        void edge(Step next) {
            boolean closed = seen.count > 0 && seen.entries[0].isLike(next);
            if (closed && seen.isLike(before, period)) {
                Cycle cycle = cycle(next.next.cycle);
                next.next.cycle = cycle;
                earn(cost / SHARE);
                cost = 0;
                cycle.comeBack(seen.durations);
            }
            Seen free = before;
            before = seen;
            before.count = closed ? seen.count : 0;
            seen = free;
            seen.count = 0;
        }

        /** A cycle of what has been seen: the one that was there before, if it is the same. */
        private Cycle cycle(@Nullable Cycle known) {
            if (known != null && seen.isOf(known.stays)) {
                return known;
            }
            Stay[] stays = new Stay[seen.count];
            for (int i = 0; i < seen.count; i++) {
                stays[i] = new Stay(seen.entries[i], seen.ends[i], seen.durations[i]);
            }
            return new Cycle(stays, this);
        }
    }
}
