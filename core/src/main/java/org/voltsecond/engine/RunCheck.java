package org.voltsecond.engine;

import java.util.ArrayList;
import java.util.List;

/** Refuses what a run cannot work with: a law, a state or a phase that does not fit. */
final class RunCheck {
    private RunCheck() {}

    static void clock(double clockPeriod, List<ClockTime> changes) {
        if (!(clockPeriod > 0) || Double.isInfinite(clockPeriod)) {
            throw new IllegalArgumentException(
                    "the clock period must be positive and finite but was " + clockPeriod + " s");
        }
        ClockTime last = ClockTime.ZERO;
        for (ClockTime change : changes) {
            if (!(change.sinceTick() >= 0 && change.sinceTick() < clockPeriod) || change.compareTo(last) < 0) {
                throw new IllegalArgumentException(
                        "scheduled changes must be in ascending order, each less than one clock"
                                + " period after its clock edge, but there was " + change + " after " + last);
            }
            last = change;
        }
    }

    static void state(double[] state, int dimension) {
        if (state.length != dimension) {
            throw new IllegalArgumentException(
                    "the start state must have " + dimension + " entries but has " + state.length);
        }
        for (int i = 0; i < dimension; i++) {
            if (!Double.isFinite(state[i])) {
                throw new IllegalArgumentException(
                        "entry " + i + " of the start state must be finite but was " + state[i]);
            }
        }
    }

    static void jump(Entry entry, int dimension) {
        AffineMap jump = entry.jump();
        if (jump != null && jump.dimension() != dimension) {
            throw new IllegalArgumentException("a jump into configuration "
                    + entry.phase().configuration().name() + " must be of dimension " + dimension + " but was of "
                    + jump.dimension());
        }
    }

    static void phase(Phase phase, Flow.Scaling scaling, double clockPeriod) {
        Configuration configuration = phase.configuration();
        if (!configuration.flow().scaling.equals(scaling)) {
            throw new IllegalArgumentException(
                    "configuration " + configuration.name() + " must be built with the scale of its switching law");
        }
        if (phase.endSinceTick() > clockPeriod && phase.endSinceTick() < Double.POSITIVE_INFINITY) {
            throw new IllegalArgumentException(
                    "phase " + configuration.name() + " must end at most one clock period of "
                            + clockPeriod + " s after the clock edge, or never by the clock, but ends after "
                            + phase.endSinceTick() + " s");
        }
    }

    /**
     * Watches that a run goes on, and tells round-off from chattering: an event that moves nothing and comes to nothing at once
     * is put off until its guard is clearly below zero; a run that still does not go on chatters.
     */
    static final class Chatter {
        /** So many events in a row without progress are chattering. */
        private static final int MOST_SHORT_INTERVALS = 500;
        /** So many events in a row without progress may be round-off that sends the run to and fro. */
        private static final int PATIENCE = 16;
        /** How far below zero a guard may fall if the phase goes on after its event, in its round-off. */
        private static final double MOST_ROOM = 0x1p10;
        /** The same if another phase follows: far too little for real chattering to look like progress. */
        private static final double MOST_ROOM_TO_AND_FRO = 0x1p6;

        private int shortIntervals;
        /** Phases in which a guard has room; usually none. */
        private List<PhaseRun> roomy = List.of();

        /** How often room has been given in the present clock period: a run that lives on it chatters as well. */
        private int timesGiven;

        private long lastGiven;

        void restart() {
            made();
            timesGiven = 0;
        }

        void made() {
            shortIntervals = 0;
            if (!roomy.isEmpty()) {
                roomy.forEach(PhaseRun::takeRoom);
                roomy = List.of();
            }
        }

        /** Whether a guard has room: what follows its event then may not be what follows it usually. */
        boolean isDoubtful() {
            return !roomy.isEmpty();
        }

        /** Counts an interval that is next to nothing. */
        void missed(PhaseRun phase, int reason) {
            shortIntervals++;
            if (shortIntervals > MOST_SHORT_INTERVALS) {
                throw chattering(phase, reason);
            }
        }

        /** After a guard's event that moves the state by round-off at most. */
        void nothingMoved(PhaseRun phase, int guard, PhaseRun next, double[] z, long tick, double sinceTick) {
            boolean goesOn = next == phase;
            if (shortIntervals == 0 || !(goesOn || shortIntervals >= PATIENCE)) {
                return;
            }
            timesGiven = tick == lastGiven ? timesGiven + 1 : 1;
            lastGiven = tick;
            if (timesGiven > MOST_SHORT_INTERVALS) {
                throw chattering(phase, guard);
            }
            phase.giveRoom(guard, goesOn ? MOST_ROOM : MOST_ROOM_TO_AND_FRO, z, sinceTick);
            roomy = roomy.isEmpty() ? new ArrayList<>() : roomy;
            roomy.add(phase);
        }

        private static SwitchingException chattering(PhaseRun phase, int reason) {
            Configuration where = phase.phase.configuration();
            String culprit = reason == EventSearch.NONE
                    ? "the timed end"
                    : "'" + where.guards().get(reason).name() + "'";
            return new SwitchingException("chattering: " + MOST_SHORT_INTERVALS
                    + " events without progress, the last one of " + culprit + " in configuration " + where.name()
                    + "; give the part that switches there a hysteresis, a delay or a latch");
        }
    }
}
