package org.voltsecond.engine;

import java.util.IdentityHashMap;
import java.util.List;
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

    private static final int NO_GUARD = EventSearch.NONE;
    private static final int RETRACT = -2;

    private final SwitchingLaw law;
    private final int n;
    private final double clockPeriod;
    private final Scaling scaling;
    private final List<ClockTime> changes;
    private final IdentityHashMap<Phase, PhaseRun> phases = new IdentityHashMap<>();
    private final EventSearch events = new EventSearch();
    private final @Nullable IntervalListener listener;
    private final boolean reportEmpty;

    private double[] z;
    private double[] end;
    private final double[] scratch;
    private final double[] state;

    private long tick;
    private double sinceTick;
    private int nextChange;
    private long changeTick;
    private @Nullable Cause why;
    /** Whether the present phase was taken on trust: its guards have yet to be looked at. */
    private boolean trusted;

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
        findChangeTick();
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
        Step step = present();
        PhaseRun left = step.next;
        int leftBy = NO_GUARD;
        trusted = false;
        while (true) {
            PhaseRun phase = step.next;
            begun = step;
            double endAt = timeToEnd(phase, stop);
            int guard = advance(phase, Math.max(0, endAt - sinceTick));
            if (guard == RETRACT) {
                step = remember(left, leftBy, ask(left, leftBy == NO_GUARD ? Cause.END : left.cause(leftBy)));
                step.apply(z, scratch);
                trusted = false;
                continue;
            }
            cause = guard == NO_GUARD ? why : phase.cause(guard);
            if (listener != null && (duration > 0 || reportEmpty)) {
                listener.onInterval(this);
            }
            moveOn(guard == NO_GUARD ? endAt : sinceTick + duration);
            if (cause == null) {
                break;
            }
            left = phase;
            leftBy = guard;
            step = leave(phase, guard);
        }
        begun = step;
    }

    /** When the interval ends if no guard ends it, as time since this clock edge; sets why. */
    private double timeToEnd(PhaseRun phase, ClockTime stop) {
        double endAt = Math.min(phase.endSinceTick, sinceTick + phase.maximumDuration);
        why = Cause.END;
        if (tick + 1 < changeTick && tick + 1 < stop.tick() && endAt <= clockPeriod) {
            return endAt;
        }
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
            why = null;
        }
        return endAt;
    }

    private double sinceThisTick(ClockTime time) {
        return (time.tick() - tick) * clockPeriod + time.sinceTick();
    }

    /**
     * Goes over at most the given time.
     *
     * @return the guard that ended the interval before, {@link #NO_GUARD}, or {@link #RETRACT} if the phase was taken on
     *     trust and is not the right one
     */
    private int advance(PhaseRun phase, double atMost) {
        duration = atMost;
        if (atMost > 0 && atMost <= phase.flow.base) {
            Leg leg = phase.legOf(atMost);
            if (leg != null) {
                if (leg.advance(z, sinceTick, end)) {
                    return NO_GUARD;
                }
                if (trusted && !phase.guardsClear(z, sinceTick)) {
                    return RETRACT;
                }
                return located(phase, events.firstBefore(phase, z, sinceTick, atMost, end));
            }
        }
        if (trusted && !phase.guardsClear(z, sinceTick)) {
            return RETRACT;
        }
        if (!(atMost > 0)) {
            System.arraycopy(z, 0, end, 0, n);
            return NO_GUARD;
        }
        return located(phase, events.first(phase, z, sinceTick, atMost, end));
    }

    private int located(PhaseRun phase, int guard) {
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

    private void moveOn(double to) {
        double[] before = z;
        z = end;
        end = before;
        sinceTick = to;
        // an instant on the edge belongs to the period before it until the phase that ends there has ended
        if (to > clockPeriod || (to == clockPeriod && cause == Cause.END)) {
            double whole = to == clockPeriod ? 1 : Math.floor(to / clockPeriod);
            tick += (long) whole;
            sinceTick = Math.max(0, to - whole * clockPeriod);
        }
    }

    private Step leave(PhaseRun phase, int guard) {
        if (guard == NO_GUARD && why != null && why.kind() == Cause.Kind.CHANGE) {
            nextChange++;
            findChangeTick();
            trusted = false;
            Step step = ask(phase, why);
            step.apply(z, scratch);
            return step;
        }
        if (guard == NO_GUARD) {
            shortIntervals = 0;
        } else {
            countShortIntervals(phase, guard);
        }
        Step known = guard == NO_GUARD ? phase.afterEnd : phase.afterGuard[guard];
        trusted = known != null && known.plain();
        if (known == null || !(trusted || known.next.admits(z, sinceTick))) {
            known = remember(phase, guard, ask(phase, guard == NO_GUARD ? Cause.END : phase.cause(guard)));
        }
        known.apply(z, scratch);
        return known;
    }

    private static Step remember(PhaseRun left, int guard, Step step) {
        if (guard == NO_GUARD) {
            left.afterEnd = step;
        } else {
            left.afterGuard[guard] = step;
        }
        return step;
    }

    private void findChangeTick() {
        changeTick = nextChange < changes.size() ? changes.get(nextChange).tick() : Long.MAX_VALUE;
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

    private Step ask(PhaseRun phase, Cause ended) {
        scaling.toState(z, state);
        try {
            return step(law.next(phase.phase, ended, state, sinceTick));
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
