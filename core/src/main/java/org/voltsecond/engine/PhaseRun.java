package org.voltsecond.engine;

import java.util.Arrays;
import java.util.IdentityHashMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;

/** What one run keeps of a phase: the leg that it takes again and again, and what followed it the last time. */
final class PhaseRun {
    /** A duration that changes by no more than this from one time to the next is worth a leg of its own, relative to it. */
    private static final double STEADY = 2e-3;

    /** The room that a guard is first given, in its round-off; then it grows. */
    private static final double FIRST_ROOM = 4;

    private static final double ROOM_GROWTH = 8;
    private static final double[] NO_ROOM = {};
    private static final Leg.@Nullable Near[] NONE_NEAR = {};

    final Phase phase;
    final Flow flow;
    final double endSinceTick;
    final double maximumDuration;

    final @Nullable Step[] afterGuard;

    /** What followed the last time that the phase ended in time. */
    @Nullable
    Step afterEnd;

    @Nullable
    Leg leg;
    /** The time since the clock edge from which {@link #leg} goes to the end that the clock sets; else not a number. */
    double cruisesFrom = Double.NaN;

    /** The period that begins with this phase on a clock edge, once it has been seen to repeat. */
    @Nullable
    Cycle cycle;
    /** The guard that crossed the last time, if the phase did not end otherwise since. */
    int followed = EventSearch.NONE;

    /** The phase that was met before this one, while they are few. */
    private @Nullable PhaseRun older;

    private final double shortest;
    private final boolean brief;
    /** Of each guard; empty as long as none has any. */
    private double[] room = NO_ROOM;

    private final Leg.@Nullable Near[] nearCrossing;
    private final double[] lastCrossing;
    private Leg.@Nullable Near nearEnd;
    private @Nullable Walk walk;
    private double lastDuration = Double.NaN;
    private double lastEnd = Double.NaN;

    PhaseRun(Phase phase, double shortest, boolean brief) {
        this.phase = phase;
        this.brief = brief;
        this.shortest = shortest;
        flow = phase.configuration().flow();
        endSinceTick = phase.endSinceTick();
        maximumDuration = phase.maximumDuration();
        int guards = flow.guards.length;
        lastCrossing = new double[guards];
        nearCrossing = brief ? NONE_NEAR : new Leg.Near[guards];
        afterGuard = new Step[guards];
    }

    private void forget() {
        Arrays.fill(afterGuard, null);
        Arrays.fill(lastCrossing, 0);
        afterEnd = null;
        leg = null;
        cruisesFrom = Double.NaN;
        followed = EventSearch.NONE;
        lastDuration = Double.NaN;
        lastEnd = Double.NaN;
        room = NO_ROOM;
        walk = null;
    }

    /**
     * The leg of this duration if the phase has lasted as long before, else null. In a run of few periods, which comes again and
     * again, a phase between two instants that the clock knows lasts as long each time.
     */
    @Nullable
    Leg legOf(double duration, double sinceTick, boolean begunByClock) {
        Leg known = leg;
        if (known != null && known.duration == duration) {
            return known;
        }
        if (duration == lastDuration || (brief && begunByClock && duration == endSinceTick - sinceTick)) {
            leg = flow.leg(duration);
            boolean byClock = duration == endSinceTick - sinceTick && duration < maximumDuration;
            cruisesFrom = byClock && duration > shortest ? sinceTick : Double.NaN;
            return leg;
        }
        return null;
    }

    /** A leg from which a duration that is not repeated to the bit is near, or null. */
    Leg.@Nullable Near nearEnd(double duration) {
        double u = duration / flow.base;
        double change = Math.abs(duration - lastEnd) / flow.base;
        lastEnd = duration;
        Leg.Near known = nearEnd;
        if (known == null || !known.reaches(u)) {
            lastDuration = duration;
            nearEnd = !brief && change <= STEADY * u ? new Leg.Near(flow, u) : null;
        } else if (known.isWorthMoving(u, change)) {
            nearEnd = new Leg.Near(flow, u);
        }
        return nearEnd;
    }

    /** A leg near which a guard crossed the last time, or null. */
    Leg.@Nullable Near nearCrossing(int guard) {
        return guard < 0 || brief ? null : nearCrossing[guard];
    }

    double lastCrossing(int guard) {
        return lastCrossing[guard];
    }

    /** Remembers where a guard crossed, in bases of the flow. */
    void crossed(int guard, double u) {
        Leg.Near known = nearCrossing(guard);
        double change = Math.abs(u - lastCrossing[guard]);
        boolean pays = (known == null || !known.follows(u)) ? change <= STEADY * u : known.isWorthMoving(u, change);
        if (!brief && pays) {
            nearCrossing[guard] = new Leg.Near(flow, u);
        }
        lastCrossing[guard] = u;
        followed = guard;
    }

    /** How far below zero a guard must fall to end the phase. */
    double room(int guard) {
        return room.length == 0 ? 0 : room[guard];
    }

    /**
     * Lets a guard fall further below zero. Its event has come to nothing, since the law sees it at zero: it may stay there, or
     * fall so slowly that only later tells what is to follow.
     */
    void giveRoom(int guard, double most, double[] z, double sinceTick) {
        GuardRows rows = flow.guards[guard];
        double unit = rows.tolerance(z, sinceTick);
        double more = Math.max(FIRST_ROOM * unit, ROOM_GROWTH * room(guard));
        room = room.length == 0 ? new double[flow.guards.length] : room;
        room[guard] = Math.min(more, most * unit);
    }

    void takeRoom() {
        Arrays.fill(room, 0);
    }

    Walk walk() {
        Walk known = walk;
        if (known == null) {
            known = new Walk(flow);
            walk = known;
        }
        return known;
    }

    /** Whether the phase is certainly right at this state: constraints met, guards clear of zero. */
    boolean admits(double[] z, double sinceTick) {
        for (GuardRows constraint : flow.constraints) {
            if (!(Math.abs(constraint.valueAt(z, sinceTick)) <= constraint.tolerance(z, sinceTick))) {
                return false;
            }
        }
        return guardsClear(z, sinceTick);
    }

    boolean guardsClear(double[] z, double sinceTick) {
        for (GuardRows guard : flow.guards) {
            if (!guard.isClear(z, sinceTick)) {
                return false;
            }
        }
        return true;
    }

    /** The phases that a run has met: a few are looked through, many found by a table. */
    static final class Met {
        private static final int FEW = 8;

        private @Nullable PhaseRun newest;
        private int count;
        private @Nullable IdentityHashMap<Phase, PhaseRun> table;

        @Nullable
        PhaseRun find(Phase phase) {
            if (table != null) {
                return table.get(phase);
            }
            PhaseRun each = newest;
            while (each != null && each.phase != phase) {
                each = each.older;
            }
            return each;
        }

        PhaseRun add(PhaseRun met) {
            if (table == null && ++count > FEW) {
                IdentityHashMap<Phase, PhaseRun> all = new IdentityHashMap<>(2 * count);
                for (PhaseRun each = newest; each != null; each = each.older) {
                    all.put(each.phase, each);
                }
                table = all;
            }
            if (table != null) {
                table.put(met.phase, met);
            } else {
                met.older = newest;
                newest = met;
            }
            return met;
        }

        /** The phases stay, and nothing of what became of them; as brief runs have it. */
        void forget() {
            if (table != null) {
                clear();
            }
            for (PhaseRun each = newest; each != null; each = each.older) {
                each.forget();
            }
        }

        void clear() {
            newest = null;
            count = 0;
            table = null;
        }
    }

    /** The step into a phase, with its jump in scaled coordinates. */
    static final class Step {
        private static final double[] NO_JUMP = {};

        final PhaseRun next;
        final @Nullable AffineMap jump;
        /** Whether the step may be taken on trust until its first leg has looked at the guards. */
        final boolean plain;

        final boolean repeatable;
        /** The jump in scaled coordinates, rows of n + 1; empty without one. */
        final double[] scaledJump;

        /** By how much it changes the state; as above. */
        final double[] scaledChange;

        Step(PhaseRun next, Entry entry) {
            this.next = next;
            jump = entry.jump();
            repeatable = entry.repeatable();
            plain = jump == null && next.flow.constraints.length == 0;
            scaledJump = jump == null ? NO_JUMP : scaled(jump, next.flow.scaling);
            scaledChange = jump == null ? NO_JUMP : scaledJump.clone();
            int n = next.flow.n;
            for (int i = 0; jump != null && i < n; i++) {
                scaledChange[i * (n + 1) + i] -= 1;
            }
        }

        /** Whether it is the same step, though it may have been asked for anew. */
        boolean isLike(Step other) {
            return next == other.next && jump == other.jump && repeatable == other.repeatable;
        }

        private static double[] scaled(AffineMap jump, Flow.Scaling scaling) {
            int n = jump.dimension();
            double[] rows = new double[n * (n + 1)];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    rows[i * (n + 1) + j] = scaling.factor(i) * jump.entry(i, j) / scaling.factor(j);
                }
                rows[i * (n + 1) + n] = scaling.factor(i) * jump.offset(i);
            }
            return rows;
        }

        void apply(double[] z, double[] scratch) {
            if (jump == null) {
                return;
            }
            int n = z.length;
            if (n == 2) {
                double z0 = z[0];
                double z1 = z[1];
                z[0] = scaledJump[0] * z0 + scaledJump[1] * z1 + scaledJump[2];
                z[1] = scaledJump[3] * z0 + scaledJump[4] * z1 + scaledJump[5];
                return;
            }
            System.arraycopy(z, 0, scratch, 0, n);
            for (int i = 0; i < n; i++) {
                double sum = scaledJump[i * (n + 1) + n];
                for (int j = 0; j < n; j++) {
                    sum += scaledJump[i * (n + 1) + j] * scratch[j];
                }
                z[i] = sum;
            }
        }

        /** The linear part of the jump, applied to a change of the state. */
        void applyLinear(double[] change, double[] into) {
            int n = change.length;
            for (int i = 0; i < n; i++) {
                into[i] = jump == null ? change[i] : Matrices.dot(scaledJump, i * (n + 1), change, 0, n);
            }
        }
    }
}
