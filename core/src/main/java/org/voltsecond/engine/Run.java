package org.voltsecond.engine;

import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.PhaseRun.Step;

/**
 * One walk through a piecewise-affine system: interval after interval, each with its exact flow and its certified first
 * event. Allocates nothing per interval once every phase has been seen. Not for use by several threads.
 */
final class Run implements IntervalView {
    /** So many events in a row without progress are chattering. */
    private static final int MOST_SHORT_INTERVALS = 500;
    /** An interval this short, in clock periods, is no progress. */
    private static final double NO_PROGRESS = 1e-9;

    private static final int NO_GUARD = -1;

    private final SwitchingLaw law;
    private final int n;
    private final double clockPeriod;
    private final Scaling scaling;
    private final List<ClockTime> changes;
    private final Map<Phase, PhaseRun> phases = new IdentityHashMap<>();
    private final EventSearch events = new EventSearch();
    private final @Nullable IntervalListener listener;
    private final boolean reportEmpty;

    private final double[] z;
    private final double[] end;
    private final double[] scratch;
    private final double[] state;

    private long tick;
    private double sinceTick;
    private int nextChange;
    private int shortIntervals;
    private double duration;
    private @Nullable Cause cause;
    private @Nullable Step begun;
    private @Nullable Step lastStart;

    Run(SwitchingLaw law, @Nullable IntervalListener listener, boolean reportEmpty) {
        this.law = law;
        this.listener = listener;
        this.reportEmpty = reportEmpty;
        scaling = Scaling.of(law.scale());
        n = scaling.dimension();
        clockPeriod = law.clockPeriod();
        changes = law.changes();
        z = new double[n];
        end = new double[n];
        scratch = new double[n];
        state = new double[n];
    }

    /** Starts at a clock edge. */
    void start(double[] from) {
        tick = 0;
        sinceTick = 0;
        nextChange = 0;
        shortIntervals = 0;
        scaling.toScaled(from, z);
        Step last = lastStart;
        if (last == null || !last.next.admits(z, 0)) {
            try {
                last = step(law.first(from.clone()));
            } catch (SwitchingException e) {
                throw e.at(0);
            }
            lastStart = last;
        }
        last.apply(z, scratch);
        begun = last;
    }

    /** Goes on until an instant; what happens at that very instant has not yet happened. */
    void until(ClockTime stop) {
        Step present = begun;
        if (present == null) {
            throw new IllegalStateException("a run must be started first");
        }
        boolean more = true;
        while (more) {
            PhaseRun phase = present.next;
            begun = present;
            double endAt = Math.min(phase.endSinceTick, sinceTick + phase.maximumDuration);
            Cause why = Cause.END;
            if (nextChange < changes.size()) {
                double change = sinceThisTick(changes.get(nextChange));
                if (change <= endAt) {
                    endAt = change;
                    why = Cause.change(nextChange);
                }
            }
            double stopAt = sinceThisTick(stop);
            if (stopAt <= endAt) {
                endAt = stopAt;
                more = false;
            }
            int guard = advance(phase, Math.max(0, endAt - sinceTick));
            if (guard != NO_GUARD) {
                cause = Cause.guard(guard);
                more = true;
            } else {
                cause = more ? why : null;
            }
            tell();
            moveOn(guard == NO_GUARD ? endAt : sinceTick + duration);
            if (more) {
                present = leave(phase, guard, why);
            }
        }
        begun = present;
    }

    private double sinceThisTick(ClockTime time) {
        return (time.tick() - tick) * clockPeriod + time.sinceTick();
    }

    /** Goes over at most the given time; returns the guard that ended the interval before, or {@link #NO_GUARD}. */
    private int advance(PhaseRun phase, double atMost) {
        duration = atMost;
        if (!(atMost > 0)) {
            System.arraycopy(z, 0, end, 0, n);
            return NO_GUARD;
        }
        if (atMost <= phase.flow.base) {
            Leg leg = phase.legOf(atMost);
            if (leg != null && leg.advance(z, sinceTick, end)) {
                return NO_GUARD;
            }
        }
        int guard = events.first(phase, z, sinceTick, atMost, end);
        duration = events.elapsed();
        checkFinite(phase);
        return guard;
    }

    private void checkFinite(PhaseRun phase) {
        double sum = 0;
        for (double value : end) {
            sum += Math.abs(value);
        }
        if (!(sum < Double.POSITIVE_INFINITY)) {
            throw new SwitchingException("the state grows beyond all numbers in configuration "
                            + phase.phase.configuration().name()
                            + "; look for a source or a controlled source that feeds energy without limit")
                    .at(tick * clockPeriod + sinceTick);
        }
    }

    private void tell() {
        if (listener != null && (duration > 0 || reportEmpty)) {
            listener.onInterval(this);
        }
    }

    private void moveOn(double to) {
        System.arraycopy(end, 0, z, 0, n);
        sinceTick = to;
        if (sinceTick >= clockPeriod) {
            double whole = Math.floor(sinceTick / clockPeriod);
            tick += (long) whole;
            sinceTick = Math.max(0, sinceTick - whole * clockPeriod);
        }
    }

    private Step leave(PhaseRun phase, int guard, Cause why) {
        if (guard == NO_GUARD && why.kind() == Cause.Kind.CHANGE) {
            nextChange++;
            return ask(phase, why);
        }
        if (guard == NO_GUARD) {
            shortIntervals = 0;
        } else {
            countShortIntervals(phase, guard);
        }
        Step known = guard == NO_GUARD ? phase.afterEnd : phase.afterGuard[guard];
        if (known == null || !known.next.admits(z, sinceTick)) {
            known = ask(phase, guard == NO_GUARD ? Cause.END : Cause.guard(guard));
            if (guard == NO_GUARD) {
                phase.afterEnd = known;
            } else {
                phase.afterGuard[guard] = known;
            }
        }
        known.apply(z, scratch);
        return known;
    }

    private void countShortIntervals(PhaseRun phase, int guard) {
        shortIntervals = duration <= NO_PROGRESS * clockPeriod ? shortIntervals + 1 : 0;
        if (shortIntervals > MOST_SHORT_INTERVALS) {
            Guard culprit = phase.phase.configuration().guards().get(guard);
            throw new SwitchingException("chattering: " + MOST_SHORT_INTERVALS
                            + " events without progress, the last one of '" + culprit.name() + "' in configuration "
                            + phase.phase.configuration().name()
                            + "; give the part that switches there a hysteresis, a delay or a latch")
                    .at(tick * clockPeriod + sinceTick);
        }
    }

    private Step ask(PhaseRun phase, Cause why) {
        scaling.toState(z, state);
        try {
            Step step = step(law.next(phase.phase, why, state, sinceTick));
            if (why.kind() == Cause.Kind.CHANGE) {
                step.apply(z, scratch);
            }
            return step;
        } catch (SwitchingException e) {
            throw e.at(tick * clockPeriod + sinceTick);
        }
    }

    private Step step(Entry entry) {
        return new Step(phases.computeIfAbsent(entry.phase(), PhaseRun::new), entry.jump());
    }

    /** The present state, which nobody but this run may write. */
    double[] scaledState() {
        return z;
    }

    double[] scaledEnd() {
        return end;
    }

    PhaseRun phaseRun() {
        return present().next;
    }

    Step present() {
        Step step = begun;
        if (step == null) {
            throw new IllegalStateException("a run must be started first");
        }
        return step;
    }

    Scaling scaling() {
        return scaling;
    }

    ClockTime now() {
        return new ClockTime(tick, sinceTick);
    }

    @Override
    public Phase phase() {
        return present().next.phase;
    }

    @Override
    public long tick() {
        return tick;
    }

    @Override
    public double sinceTick() {
        return sinceTick;
    }

    @Override
    public double duration() {
        return duration;
    }

    @Override
    public @Nullable AffineMap jump() {
        return present().jump;
    }

    @Override
    public @Nullable Cause cause() {
        return cause;
    }

    @Override
    public void copyStartState(double[] into) {
        scaling.toState(z, into);
    }

    @Override
    public void copyEndState(double[] into) {
        scaling.toState(end, into);
    }
}
