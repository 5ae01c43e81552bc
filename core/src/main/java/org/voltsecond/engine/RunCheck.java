package org.voltsecond.engine;

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

    static void phase(Phase phase, Scaling scaling, double clockPeriod) {
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
}
