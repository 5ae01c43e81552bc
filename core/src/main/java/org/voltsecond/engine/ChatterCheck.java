package org.voltsecond.engine;

import java.util.ArrayList;
import java.util.List;

/**
 * Watches that a run goes on, and tells round-off from chattering: an event that moves nothing and comes to nothing at once
 * is put off until its guard is clearly below zero; a run that still does not go on chatters.
 */
final class ChatterCheck {
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
    private final List<PhaseRun> roomy = new ArrayList<>();

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
            roomy.clear();
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
