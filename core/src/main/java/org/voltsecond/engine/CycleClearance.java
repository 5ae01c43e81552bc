package org.voltsecond.engine;

import java.util.Arrays;
import org.voltsecond.engine.Cycle.Stay;
import org.voltsecond.engine.CycleRows.Hop;
import org.voltsecond.numeric.Matrices;
import org.voltsecond.numeric.RoundOff;

/**
 * Certifies a {@link Cycle} for a box of states about one, and for all shifts of its instants within a reach: every guard stays
 * clear of zero throughout its phase, and the one that ends it falls steadily where it crosses. Each is an inequality
 * {@code margin > 0} at the centre; the most by which it can change over the box, {@code share * wide}, and by the shifts,
 * {@code late}, are sums of magnitudes, carried along with the state. So the box is as large as the least of
 * {@code (margin - late) / wide} allows. A named numeric kernel.
 *
 * <p>That a guard stays clear between two instants t apart: it is above zero at both by more than it can sag below its chord
 * ({@link CycleSpan}). Where that is not enough the time is halved, down to a small part of a base of the flow. A guard that is
 * zero where its phase begins, since what ended the phase before is the same, has a first derivative (or a second one, where that
 * one is zero likewise) that stays above zero, up to an instant from which the chords do.
 */
final class CycleClearance {
    /** The box at most. */
    private static final double LARGEST = 1;
    /** The box is as wide as states move in so many periods, and as so much of a state that rests. Chosen, as measured. */
    private static final double PERIODS = 256;

    private static final double AT_REST = 0.125;
    /** How much of the motion is remembered from one box to the next, since what swings stands still at times. Chosen. */
    private static final double REMEMBERED = 0.75;

    /** A smaller box would be left in four periods: rather are the chords halved, or the reach. Chosen. */
    static final double WANTED = 4 / PERIODS;
    /** Where the shifts take less than this of a margin, a smaller reach helps little. Chosen. */
    private static final double LATE = 0.25;
    /** The width of the box along a state that is zero, as a share of the largest one. Chosen. */
    private static final double LEAST_WIDTH = 1e-3;
    /** Reaches that are tried, each so often halved from the one before. */
    private static final int HALVINGS = 2;

    private static final int MOST_REACHES = 7;
    private final Cycle cycle;
    private final int n;
    private final Entrance[] entrances;
    private final Box[] at;
    private final Box end;
    private final Box more;
    private final CycleSpan[] spans;
    private final double[] motion;
    /** The box that all inequalities so far allow. */
    double share;

    private boolean isHopeless;
    /** Whether a smaller reach could do more. */
    private boolean isReachAtFault;
    /** Which of the reaches was certain the last time; the next larger one is tried again. */
    private int found;

    private long work;
    private long most;

    /** A state at the centre, by how much it changes over the box, and by the shifts at most. */
    static final class Box {
        final double[] z;
        final double[] wide;
        final double[] late;

        Box(int n) {
            z = new double[n];
            wide = new double[n];
            late = new double[n];
        }
    }

    CycleClearance(Cycle cycle) {
        this.cycle = cycle;
        n = cycle.n;
        int count = cycle.stays.length;
        entrances = new Entrance[count];
        at = new Box[count];
        spans = new CycleSpan[count];
        for (int i = 0; i < count; i++) {
            at[i] = new Box(n);
            spans[i] = new CycleSpan(this, at[i], cycle.stays[i].flow, cycle.stays[i].guard);
            entrances[i] = new Entrance(cycle.stays[(i + count - 1) % count], cycle.stays[i]);
        }
        motion = new double[n];
        end = new Box(n);
        more = new Box(n);
    }

    /** Whether what is entered at each instant is what its law allows there, for any state. */
    boolean isPossible() {
        for (Entrance entrance : entrances) {
            if (!entrance.possible) {
                return false;
            }
        }
        return true;
    }

    /** What the last box has cost: how many chords were looked at. */
    long work() {
        return work;
    }

    /** Counts a chord; false if there have been too many, or none helps. */
    boolean mayGoOn() {
        return ++work <= most && !isHopeless;
    }

    /** Whether a guard is so near zero at an instant that the box is small for whatever chord; takes note where it holds for none. */
    boolean isNearZero(double margin, double wide, double late) {
        isHopeless |= !(margin > late);
        return margin - late < WANTED * wide;
    }

    /**
     * Makes a state the centre of the box, within the reach there. The box is as wide along each state as that moves, so that all leave it
     * after about as many periods.
     *
     * @param next where a period leads to from there
     * @return false if nothing is certain there, or not for so much work
     */
    boolean trust(double[] z, double[] next, long most) {
        this.most = most;
        work = n;
        Arrays.fill(cycle.radius, -1);
        double size = Matrices.size(z);
        for (int j = 0; j < n; j++) {
            at[0].z[j] = z[j];
            motion[j] = Math.max(Math.abs(next[j] - z[j]), REMEMBERED * motion[j]);
            double least = Math.max(AT_REST * Math.abs(z[j]), LEAST_WIDTH * size);
            at[0].wide[j] = Math.max(PERIODS * motion[j], least);
            at[0].late[j] = 0;
        }
        double best = 0;
        int known = found;
        boolean isPossible = false;
        isReachAtFault = true;
        for (int i = Math.max(0, known - 1); i < MOST_REACHES && best < WANTED && isReachAtFault && work <= most; i++) {
            if (isClearWithin(i)) {
                if (share > best) {
                    best = share;
                    found = i;
                }
            } else {
                // mostly all else is in vain as well, which the smallest one tells
                isPossible |= i < known || isClearWithin(MOST_REACHES - 1);
                isReachAtFault = isPossible;
            }
        }
        if (!(best > 0)) {
            return false;
        }
        cycle.reach = reach(found);
        for (int j = 0; j < n; j++) {
            cycle.centre[j] = z[j];
            cycle.radius[j] = best * at[0].wide[j];
        }
        return true;
    }

    /**
     * The largest shift at which the polynomials are right about a state, in clock periods, or not a number; works out at which fewer
     * powers are enough.
     */
    double reach(double[] z) {
        double size = Matrices.size(z);
        if (!(size < Double.POSITIVE_INFINITY)) {
            return Double.NaN;
        }
        System.arraycopy(z, 0, at[0].z, 0, n);
        double reach = 1;
        for (int i = 0; i < cycle.stays.length; i++) {
            Stay stay = cycle.stays[i];
            CycleSpan.follow(stay.change, at[i].z, end.z, n);
            if (i + 1 < cycle.stays.length) {
                System.arraycopy(end.z, 0, at[i + 1].z, 0, n);
                cycle.stays[i + 1].entry.apply(at[i + 1].z, end.late);
            }
        }
        for (Hop hop : cycle.hops) {
            if (hop.isShifted) {
                reach = Math.min(
                        reach, hop.reachAt(2 * Matrices.size(at[hop.first].z)) / Math.max(1, hop.eventsBefore));
            }
        }
        return reach;
    }

    private double reach(int index) {
        return Math.scalb(cycle.reach, -HALVINGS * index);
    }

    private boolean isClearWithin(int index) {
        double shift = reach(index) * cycle.period;
        share = LARGEST;
        isHopeless = false;
        for (int i = 0; i < cycle.stays.length; i++) {
            Stay stay = cycle.stays[i];
            if (!isClear(i, shift)) {
                return false;
            }
            int next = (i + 1) % at.length;
            follow(stay, at[i], shift * stay.lengthShifts, end);
            Entrance entrance = entrances[next];
            if (!entrance.isClear(this, end, stay.start + stay.duration, shift * stay.lengthShifts)) {
                return false;
            }
            if (next > 0) {
                entrance.follow(end, at[next]);
            }
        }
        return true;
    }

    /** The state at the end of a stay: there it moves by its rate for as long as the end may shift. */
    private void follow(Stay stay, Box from, double shift, Box to) {
        CycleSpan.follow(stay.change, from, to);
        if (shift > 0) {
            double[] rate = more.z;
            double[] moreWide = more.wide;
            double[] moreLate = more.late;
            stay.flow.rate(to.z, rate);
            double[] d = stay.flow.dynamics;
            Arrays.fill(moreWide, 0);
            for (int i = 0; i < n; i++) {
                moreLate[i] = shift * Math.abs(rate[i]);
                // within the reach the flow at most doubles a rate
                for (int j = 0; j < n; j++) {
                    double factor = 2 * shift * Math.abs(d[i * (n + 1) + j]);
                    moreLate[i] += factor * (shift * Math.abs(rate[j]) + to.late[j]);
                    moreWide[i] += factor * to.wide[j];
                }
            }
            for (int i = 0; i < n; i++) {
                to.wide[i] += moreWide[i];
                to.late[i] += moreLate[i];
            }
        }
    }

    private boolean isClear(int index, double shift) {
        Stay stay = cycle.stays[index];
        CycleSpan span = spans[index];
        double start = stay.start;
        double uncertain = shift * stay.startShifts;
        double most = stay.duration + shift * stay.lengthShifts;
        if (!stay.mayLast(most, uncertain)) {
            return false;
        }
        if (!isNoLarger(at[index])) {
            return false;
        }
        span.begin(start, uncertain);
        for (int g = 0; g < stay.flow.guards.length; g++) {
            int vanishes = entrances[index].vanishes[g];
            boolean clear = g == stay.guard
                    ? vanishes == 0 && span.falls(g, most)
                    : vanishes == 0 ? span.isClear(g, most) : span.rises(g, vanishes, most);
            if (!clear) {
                return false;
            }
        }
        return true;
    }

    /** That all states together are at most twice as large as at the centre, as {@link #reach} takes it. */
    private boolean isNoLarger(Box box) {
        double wide = Matrices.size(box.wide);
        double late = Matrices.size(box.late);
        return wide + late == 0 || holds(Matrices.size(box.z), wide, late, true);
    }

    /** Takes one inequality into account; false if it fails, or holds for so small a box only that another way is better. */
    boolean holds(double margin, double wide, double late, boolean last) {
        double room = margin - late;
        boolean isClear = room > 0 && (last || room >= WANTED * wide);
        if (isClear && room < share * wide) {
            share = room / wide;
            isReachAtFault = late > LATE * margin;
        }
        return isClear;
    }

    /** The entry into a stay: which of its guards are zero there, for whatever state, and what must hold before the jump. */
    private static final class Entrance {
        private final Flow flow;
        private final int n;
        private final double[] jump;
        /** How many derivatives of each guard, from the value itself on, are zero where the stay begins. */
        final int[] vanishes;

        private final boolean[] clearBefore;
        boolean possible = true;

        Entrance(Stay before, Stay into) {
            flow = into.flow;
            n = flow.n;
            jump = into.entry.jump == null ? identity(n) : into.entry.scaledJump;
            Vanishing vanishing = new Vanishing(n);
            for (GuardRows constraint : before.flow.constraints) {
                vanishing.add(vanishing.vector(constraint));
            }
            if (before.endsByGuard()) {
                vanishing.add(vanishing.vector(before.flow.guards[before.guard]));
            }
            for (GuardRows constraint : flow.constraints) {
                possible &= vanishing.covers(vanishing.vector(constraint));
            }
            vanishes = new int[flow.guards.length];
            clearBefore = new boolean[flow.guards.length];
            for (int g = 0; g < vanishes.length; g++) {
                GuardRows guard = flow.guards[g];
                clearBefore[g] = !into.entry.plain && !vanishing.covers(vanishing.vector(guard));
                double[] value = vanishing.after(jump, vanishing.vector(guard));
                if (vanishing.covers(value)) {
                    double[] rate = vanishing.after(jump, rate(guard));
                    vanishes[g] = vanishing.covers(rate) ? 2 : 1;
                }
            }
        }

        private static double[] identity(int n) {
            double[] rows = new double[n * (n + 1)];
            for (int i = 0; i < n; i++) {
                rows[i * (n + 1) + i] = 1;
            }
            return rows;
        }

        private double[] rate(GuardRows guard) {
            double[] result = new double[n + 2];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j <= n; j++) {
                    result[j] += guard.form[i] * flow.dynamics[i * (n + 1) + j];
                }
            }
            result[n] += guard.slope;
            return result;
        }

        boolean isClear(CycleClearance clearance, Box box, double since, double shift) {
            for (int g = 0; g < clearBefore.length; g++) {
                if (clearBefore[g]) {
                    GuardRows guard = flow.guards[g];
                    double margin = guard.valueAt(box.z, since) - 2 * guard.tolerance(box.z, since);
                    double wide = CycleSpan.sum(guard.form, box.wide);
                    double late = CycleSpan.sum(guard.form, box.late) + shift * Math.abs(guard.slope);
                    if (!clearance.holds(margin, wide, late, true)) {
                        return false;
                    }
                }
            }
            return true;
        }

        void follow(Box from, Box into) {
            for (int i = 0; i < n; i++) {
                double z = jump[i * (n + 1) + n];
                double wide = 0;
                double late = 0;
                for (int j = 0; j < n; j++) {
                    double factor = jump[i * (n + 1) + j];
                    z += factor * from.z[j];
                    wide += Math.abs(factor) * from.wide[j];
                    late += Math.abs(factor) * from.late[j];
                }
                into.z[i] = z;
                into.wide[i] = wide;
                into.late[i] = late;
            }
        }
    }

    /**
     * The affine forms of state and time that are zero at an instant: constraints of the phase that ends and its guard that has
     * crossed, by Gram and Schmidt.
     */
    private static final class Vanishing {
        private final int n;
        private double[][] directions = {};

        Vanishing(int n) {
            this.n = n;
        }

        double[] vector(GuardRows form) {
            double[] result = Arrays.copyOf(form.form, n + 2);
            // time counts in clock periods
            result[n + 1] = form.slope * form.flow.base * form.flow.basesInPeriod;
            return result;
        }

        /** The same form read before a jump. */
        double[] after(double[] jump, double[] form) {
            double[] result = new double[n + 2];
            result[n] = form[n];
            result[n + 1] = form[n + 1];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j <= n; j++) {
                    result[j] += form[i] * jump[i * (n + 1) + j];
                }
            }
            return result;
        }

        void add(double[] vector) {
            double[] rest = rest(vector);
            double size = length(rest);
            if (size > RoundOff.OF_A_CONDITION * length(vector)) {
                for (int i = 0; i < rest.length; i++) {
                    rest[i] /= size;
                }
                directions = Arrays.copyOf(directions, directions.length + 1);
                directions[directions.length - 1] = rest;
            }
        }

        /** Whether a form is zero wherever those are. */
        boolean covers(double[] vector) {
            return length(rest(vector)) <= RoundOff.OF_A_CONDITION * length(vector);
        }

        private double[] rest(double[] vector) {
            double[] rest = vector.clone();
            for (double[] direction : directions) {
                double along = Matrices.dot(direction, 0, rest, 0, rest.length);
                for (int i = 0; i < rest.length; i++) {
                    rest[i] -= along * direction[i];
                }
            }
            return rest;
        }

        private static double length(double[] vector) {
            return Math.sqrt(Matrices.dot(vector, 0, vector, 0, vector.length));
        }
    }
}
