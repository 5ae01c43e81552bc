package org.voltsecond.engine;

import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.PhaseRun.Step;
import org.voltsecond.numeric.Matrices;

/**
 * One walk through a piecewise-affine system: interval after interval, each with its exact flow and its certified first
 * event. Allocates nothing per interval once every phase has been seen. Not for use by several threads.
 */
final class Run implements IntervalView {
    /** An interval this short, in clock periods, is no progress. */
    private static final double NO_PROGRESS = 1e-9;

    /**
     * So many intervals, of some 10 ns to 1 µs each, pass without a look at whether the run is to be ended; the least number that
     * all up to 10 divide, so that a settled state which goes round in its last digits is back after as many periods.
     */
    private static final int UNWATCHED = 5040;

    /**
     * After so many intervals a run forgets all that makes it quicker, so that what follows can be run again from there to the bit:
     * some 5 MB of a record, and so much that what is learned anew is a small part of it.
     */
    static final int STRETCH = 1 << 16;

    /** Periods that repeat may go on for so many times as long, since most come back to the bit within some ten thousand. */
    private static final int STRETCHES_OF_A_CYCLE = 4;

    /** Longer orbits than so many times that are not looked for: some 5e8 periods. */
    private static final int MOST_CHUNKS = 1 << 17;

    /** Why an interval ended: the index of a guard, or one of these. */
    private static final int END = EventSearch.NONE;

    private static final int CHANGE = -2;
    private static final int STOP = -3;
    /** It did not end: the phase was taken on trust and is not the right one. */
    private static final int RETRACT = -4;

    private final SwitchingLaw law;
    private final int n;
    private final double clockPeriod;
    private final double shortest;
    private final Flow.Scaling scaling;
    private final List<ClockTime> changes;
    private final PhaseRun.Met phases = new PhaseRun.Met();
    private final EventSearch events = new EventSearch();
    private final RunCheck.Chatter progress = new RunCheck.Chatter();
    private final @Nullable IntervalListener listener;
    private final boolean reportEmpty;
    /** Whether it ends after so few periods that what makes later ones quicker costs more than it saves. */
    private final boolean brief;
    /** As {@link #STRETCH}. */
    private final int stretch;

    private double[] z;
    private double[] end;
    private final double[] scratch;
    private final double[] rate;
    private final double[] state;

    private long tick;
    private double sinceTick;
    private int nextChange;
    private long changeTick;
    /** Whether the present phase was taken on trust: its guards have yet to be looked at. */
    private boolean trusted;

    /** Null where the run is brief. */
    private Cycle.@Nullable Finder finder;
    /** Intervals since it last forgot, without those of a state that has come back. */
    private int walked;

    private boolean halted;
    private double duration;
    private int reason;
    private @Nullable Step begun;
    /** The phase that ended last, and why. */
    private @Nullable PhaseRun left;

    private int leftBy;
    private @Nullable Step lastStart;
    /** The jump of intervals of no length that nobody was told of, since the last one that was. */
    private @Nullable AffineMap passed;

    Run(SwitchingLaw law, @Nullable IntervalListener listener, boolean reportEmpty, boolean brief) {
        this(law, listener, reportEmpty, brief, STRETCH);
    }

    Run(SwitchingLaw law, @Nullable IntervalListener listener, boolean reportEmpty, boolean brief, int stretch) {
        this.stretch = stretch;
        this.law = law;
        this.listener = listener;
        this.reportEmpty = reportEmpty;
        this.brief = brief;
        scaling = Flow.Scaling.of(law.scale());
        n = scaling.dimension();
        clockPeriod = law.clockPeriod();
        shortest = NO_PROGRESS * clockPeriod;
        finder = brief ? null : new Cycle.Finder(clockPeriod);
        changes = List.copyOf(law.changes());
        RunCheck.clock(clockPeriod, changes);
        z = new double[n];
        end = new double[n];
        scratch = new double[n];
        rate = new double[n];
        state = new double[n];
    }

    /** Starts at a clock edge. */
    void start(double[] from) {
        RunCheck.state(from, n);
        tick = 0;
        sinceTick = 0;
        nextChange = 0;
        findChangeTick();
        progress.restart();
        halted = false;
        walked = 0;
        passed = null;
        scaling.toScaled(from, z);
        Step last = lastStart;
        if (last == null || !last.repeatable || !last.next.admits(z, 0)) {
            try {
                System.arraycopy(from, 0, state, 0, n);
                last = step(law.first(state));
            } catch (SwitchingException e) {
                throw e.at(0);
            }
            lastStart = last;
        }
        last.apply(z, scratch);
        begun = last;
        if (finder != null) {
            finder.forget();
            finder.edge(last);
        }
    }

    /** What was learned is forgotten, between two starts: all is as in a new run. */
    void forget() {
        lastStart = null;
        if (brief) {
            phases.forget();
        } else {
            phases.clear();
            finder = new Cycle.Finder(clockPeriod);
        }
    }

    /** Stops at the start of the interval that is being told of, if the phase's end is not known in advance. */
    void halt() {
        halted = true;
    }

    boolean halted() {
        return halted;
    }

    /** Goes on until an instant; what happens at that very instant has not yet happened. */
    void until(ClockTime stop) {
        try {
            go(stop);
        } catch (SwitchingException e) {
            throw e.at(tick * clockPeriod + sinceTick);
        }
    }

    private void go(ClockTime stop) {
        Step step = present();
        left = step.next;
        leftBy = END;
        trusted = false;
        int unwatched = 1;
        do {
            if (++unwatched == UNWATCHED) {
                Watch.step(unwatched);
                unwatched = 0;
            }
            step = cruise(step, Math.min(changeTick, stop.tick()));
            begun = step;
            PhaseRun phase = step.next;
            double endAt = timeToEnd(phase, stop);
            reason = advance(phase, endAt);
            if (reason == RETRACT) {
                step = remember(left, leftBy, ask(left, leftBy));
                step.apply(z, scratch);
                trusted = false;
                continue;
            }
            if (listener != null) {
                tell(listener);
            }
            if (halted) {
                break;
            }
            moveOn(endAt, stop);
            if (reason != STOP) {
                Step entry = step;
                step = leave(phase);
                watchFor(entry, step);
                walked++;
                if (walked >= stretch && !progress.isDoubtful()) {
                    step = forget(step);
                }
            }
        } while (reason != STOP && !halted);
        Watch.step(unwatched);
        begun = step;
    }

    /** All that comes after depends on what is told here, and on nothing that was before. */
    private Step forget(Step entered) {
        Step step = entered;
        if (trusted && !step.next.guardsClear(z, sinceTick)) {
            step = ask(Objects.requireNonNull(left), leftBy);
            step.apply(z, scratch);
        }
        Entry entry = new Entry(step.next.phase, step.jump, step.repeatable);
        Resumption here = new Resumption(tick, sinceTick, nextChange, z.clone(), entry, passed);
        if (listener instanceof Trajectory.Recorder recorder) {
            halted = recorder.endsStretch(here);
        }
        return resume(here);
    }

    /** Where a run can go on: what it was there, but for what it had learned. */
    record Resumption(
            long tick,
            double sinceTick,
            int nextChange,
            double[] state,
            Entry entry,
            @Nullable AffineMap passed) {}

    /** Goes on from where another run was; {@link #until} runs on. */
    Step resume(Resumption from) {
        tick = from.tick;
        sinceTick = from.sinceTick;
        nextChange = from.nextChange;
        findChangeTick();
        System.arraycopy(from.state, 0, z, 0, n);
        passed = from.passed;
        progress.restart();
        phases.clear();
        lastStart = null;
        walked = 0;
        trusted = false;
        Step step = step(from.entry);
        Cycle.Finder anew = brief ? null : new Cycle.Finder(clockPeriod);
        finder = anew;
        if (anew != null) {
            anew.forget();
            if (sinceTick == 0) {
                anew.edge(step);
            }
        }
        begun = step;
        return step;
    }

    /** Looks for periods that repeat, among those of which all is known. */
    private void watchFor(Step entry, Step next) {
        if (finder == null) {
            return;
        }
        if (reason == CHANGE || !next.repeatable || progress.isDoubtful() || duration <= shortest) {
            finder.forget();
        } else {
            finder.add(entry, reason, duration);
        }
        if (reason == END && sinceTick == 0) {
            finder.edge(next);
        }
    }

    /**
     * Goes on for as long as the clock alone ends the intervals and all that can happen is known and certain, which is
     * most of the time in most runs.
     *
     * @param limit the clock edge before which nothing else is planned
     * @return the step into the first phase for which this does not hold
     */
    private Step cruise(Step step, long limit) {
        Step now = step;
        int unwatched = 0;
        PhaseRun last = null;
        double[] from = z;
        double[] to = end;
        while (tick + 1 < limit) {
            PhaseRun phase = now.next;
            Cycle cycle = phase.cycle;
            if (cycle != null && sinceTick == 0 && !cycle.isSpent()) {
                z = from;
                end = to;
                last = repeat(now, cycle, limit) ? null : last;
                if (halted) {
                    return now;
                }
                if (walked >= stretch) {
                    break;
                }
            }
            if (phase.cruisesFrom != sinceTick || tick + 1 >= limit) {
                break;
            }
            Step next = phase.afterEnd;
            Leg leg = phase.leg;
            boolean onEdge = phase.endSinceTick == clockPeriod;
            double until = onEdge ? 0 : phase.endSinceTick;
            if (next == null
                    || leg == null
                    || !next.plain
                    || next.next.endSinceTick <= until
                    || !leg.advance(from, sinceTick, to, scratch, rate)) {
                break;
            }
            if (listener != null) {
                report(now, leg, from, to, listener);
            }
            double[] before = from;
            from = to;
            to = before;
            tick += onEdge ? 1 : 0;
            sinceTick = until;
            last = phase;
            watch(now, leg.duration, onEdge ? next : null);
            now = next;
            if (++unwatched == UNWATCHED) {
                Watch.step(unwatched);
                walked += unwatched;
                unwatched = 0;
                if (walked >= stretch) {
                    break;
                }
            }
        }
        walked += unwatched;
        z = from;
        end = to;
        if (last != null) {
            left = last;
            leftBy = END;
            trusted = true;
            progress.made();
        }
        return now;
    }

    private void watch(Step entry, double length, @Nullable Step ofNextPeriod) {
        if (finder != null) {
            finder.add(entry, END, length);
            if (ofNextPeriod != null) {
                finder.edge(ofNextPeriod);
            }
        }
    }

    /** Goes on for as many whole periods as are certain to be like those before; whether there were any. */
    private boolean repeat(Step now, Cycle cycle, long limit) {
        long before = tick;
        int gone;
        int chunks = 0;
        int mostChunks = 0;
        boolean isBack = false;
        // as many periods of a cycle of many intervals
        long longest = (long) stretch * STRETCHES_OF_A_CYCLE * Math.max(1, cycle.stays.length * UNWATCHED / STRETCH);
        do {
            int most = (int) Math.min(limit - 1 - tick, UNWATCHED);
            gone = listener == null ? cycle.run(z, most) : tellAll(now, cycle, most, listener);
            tick += gone;
            chunks++;
            int intervals = Math.multiplyExact(gone, cycle.stays.length);
            Watch.step(intervals);
            // whoever listens to what comes again forgets no sooner than who leaps over it
            walked += isBack ? 0 : intervals;
            if (gone == UNWATCHED && mostChunks > 0 && cycle.isBackAt(z)) {
                isBack = true;
                leap(cycle, chunks * UNWATCHED, limit - 1 - tick);
            }
            // Brent's way to find the length of an orbit: the mark is moved after twice as many each time
            if (gone == UNWATCHED && (chunks >= mostChunks || !cycle.isAsMarked())) {
                cycle.mark(z);
                mostChunks = Math.min(MOST_CHUNKS, 2 * chunks);
                chunks = 0;
            }
        } while (gone == UNWATCHED && !halted && walked < longest);
        if (tick == before) {
            return false;
        }
        if (finder != null) {
            finder.forget();
            finder.edge(now);
        }
        left = cycle.stays[cycle.stays.length - 1].entry.next;
        leftBy = END;
        trusted = now.plain;
        progress.made();
        return true;
    }

    /** The state has come back to the bit, and so do all that follow: they are not gone through again. */
    private void leap(Cycle cycle, int periods, long left) {
        long times = left / periods;
        if (times > 0 && !halted && (listener == null || listener.onRepeat(periods, times))) {
            cycle.leap(times * periods);
            tick += times * periods;
        }
    }

    /** The same with word of every interval. */
    private int tellAll(Step now, Cycle cycle, int most, IntervalListener to) {
        double[] own = z;
        double[] ownEnd = end;
        int gone = 0;
        while (gone < most && !halted) {
            System.arraycopy(own, 0, ownEnd, 0, n);
            if (cycle.run(ownEnd, 1) == 0) {
                break;
            }
            cycle.trace(own);
            for (int i = 0; i < cycle.stays.length && !halted; i++) {
                Cycle.Stay stay = cycle.stays[i];
                begun = i == 0 ? now : stay.entry;
                sinceTick = stay.since;
                duration = stay.length;
                reason = stay.guard;
                z = stay.from;
                end = stay.to;
                tell(to);
            }
            if (halted) {
                System.arraycopy(z, 0, own, 0, n);
                System.arraycopy(end, 0, ownEnd, 0, n);
                break;
            }
            System.arraycopy(ownEnd, 0, own, 0, n);
            sinceTick = 0;
            tick++;
            gone++;
        }
        z = own;
        end = ownEnd;
        tick -= gone;
        return gone;
    }

    private void tell(IntervalListener to) {
        if (duration > 0 || reportEmpty) {
            to.onInterval(this);
            passed = null;
        } else {
            passed = jump();
        }
    }

    private void report(Step step, Leg leg, double[] from, double[] to, IntervalListener who) {
        begun = step;
        duration = leg.duration;
        reason = END;
        z = from;
        end = to;
        tell(who);
    }

    /** When the interval ends if no guard ends it, as time since this clock edge; sets the reason. */
    private double timeToEnd(PhaseRun phase, ClockTime stop) {
        double endAt = Math.min(phase.endSinceTick, sinceTick + phase.maximumDuration);
        reason = END;
        if (tick + 1 < changeTick && tick + 1 < stop.tick() && endAt <= clockPeriod) {
            return endAt;
        }
        if (nextChange < changes.size()) {
            double change = sinceThisTick(changes.get(nextChange));
            if (change <= endAt) {
                endAt = change;
                reason = CHANGE;
            }
        }
        double stopAt = sinceThisTick(stop);
        if (stopAt <= endAt) {
            endAt = stopAt;
            reason = STOP;
        }
        return endAt;
    }

    private double sinceThisTick(ClockTime time) {
        return (time.tick() - tick) * clockPeriod + time.sinceTick();
    }

    /**
     * Goes on to the end of the interval, at most up to a time since this clock edge.
     *
     * @return the guard that ended the interval before, else the planned reason, or {@link #RETRACT}
     */
    private int advance(PhaseRun phase, double endAt) {
        double atMost = Math.max(0, endAt - sinceTick);
        duration = atMost;
        if (atMost > 0 && phase.followed != EventSearch.NONE) {
            int guard = events.follow(phase, z, sinceTick, atMost, end);
            if (guard != EventSearch.NONE) {
                return located(phase, endAt, guard);
            }
        }
        if (atMost > 0 && atMost <= phase.flow.farthest) {
            Leg leg = phase.legOf(atMost, sinceTick, leftBy == END);
            if (leg != null) {
                if (leg.advance(z, sinceTick, end, scratch, rate)) {
                    return reason;
                }
                if (trusted && !phase.guardsClear(z, sinceTick)) {
                    return RETRACT;
                }
                return located(phase, endAt, events.firstBefore(phase, z, sinceTick, atMost, end));
            }
        }
        if (trusted && !phase.guardsClear(z, sinceTick)) {
            return RETRACT;
        }
        if (!(atMost > 0)) {
            System.arraycopy(z, 0, end, 0, n);
            return reason;
        }
        return located(phase, endAt, events.first(phase, z, sinceTick, atMost, end));
    }

    /** Takes over what the search found; a crossing at the very end comes after that end. */
    private int located(PhaseRun phase, double endAt, int guard) {
        checkFinite(phase);
        if (guard == EventSearch.NONE || sinceTick + events.elapsed() >= endAt) {
            return reason;
        }
        duration = events.elapsed();
        return guard;
    }

    private void checkFinite(PhaseRun phase) {
        if (!(Matrices.size(end) < Double.POSITIVE_INFINITY)) {
            throw new SwitchingException("the state grows without bound in configuration "
                    + phase.phase.configuration().name()
                    + "; look for a source or a controlled source that feeds energy without limit");
        }
    }

    private void moveOn(double endAt, ClockTime stop) {
        double[] before = z;
        z = end;
        end = before;
        if (reason < END) {
            moveTo(reason == STOP ? stop : changes.get(nextChange));
            return;
        }
        double to = reason == END ? Math.max(endAt, sinceTick) : sinceTick + duration;
        sinceTick = to;
        // an instant on the edge belongs to the period before it until the phase that ends there has ended
        if (to > clockPeriod || (to == clockPeriod && reason == END)) {
            double whole = to == clockPeriod ? 1 : Math.floor(to / clockPeriod);
            tick += (long) whole;
            sinceTick = Math.max(0, to - whole * clockPeriod);
        }
    }

    /** Moves the clock to an instant known in advance; one on a clock edge comes before the clock moves on. */
    private void moveTo(ClockTime instant) {
        boolean onEdge = instant.sinceTick() == 0 && instant.tick() > tick;
        tick = onEdge ? instant.tick() - 1 : instant.tick();
        sinceTick = onEdge ? clockPeriod : instant.sinceTick();
    }

    private Step leave(PhaseRun phase) {
        left = phase;
        leftBy = reason;
        if (reason == CHANGE) {
            return change(phase);
        }
        if (reason == END) {
            phase.followed = EventSearch.NONE;
        }
        if (duration > shortest) {
            progress.made();
        } else {
            progress.missed(phase, reason);
        }
        Step known = reason == END ? phase.afterEnd : phase.afterGuard[reason];
        trusted = known != null && known.plain;
        if (known == null || known.next.endSinceTick <= sinceTick || !(trusted || known.next.admits(z, sinceTick))) {
            trusted = false;
            known = remember(phase, reason, ask(phase, reason));
        }
        if (reason != END && (known.jump == null || !known.repeatable)) {
            progress.nothingMoved(phase, reason, known.next, z, tick, sinceTick);
        }
        known.apply(z, scratch);
        return known;
    }

    private Step change(PhaseRun phase) {
        Step step = ask(phase, reason);
        progress.made();
        nextChange++;
        findChangeTick();
        trusted = false;
        if (sinceTick == clockPeriod && step.next.endSinceTick > clockPeriod) {
            tick++;
            sinceTick = 0;
        }
        step.apply(z, scratch);
        return step;
    }

    private Step remember(PhaseRun left, int reason, Step step) {
        if (!step.repeatable || progress.isDoubtful()) {
            return step;
        }
        if (reason == END) {
            left.afterEnd = step;
        } else {
            left.afterGuard[reason] = step;
        }
        return step;
    }

    private void findChangeTick() {
        changeTick = nextChange < changes.size() ? changes.get(nextChange).tick() : Long.MAX_VALUE;
    }

    private Step ask(PhaseRun phase, int why) {
        scaling.toState(z, state);
        return step(law.next(phase.phase, causeOf(why), state, sinceTick));
    }

    private Step step(Entry entry) {
        RunCheck.jump(entry, n);
        PhaseRun known = phases.find(entry.phase());
        return new Step(known == null ? phaseRun(entry.phase()) : known, entry);
    }

    private PhaseRun phaseRun(Phase phase) {
        RunCheck.phase(phase, scaling, clockPeriod);
        return phases.add(new PhaseRun(phase, shortest, brief));
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

    /** The time since the start, s. */
    double elapsed() {
        return tick * clockPeriod + sinceTick;
    }

    Flow.Scaling scaling() {
        return scaling;
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
        AffineMap own = present().jump;
        AffineMap before = passed;
        if (own == null || before == null) {
            return own == null ? before : own;
        }
        return own.after(before);
    }

    @Override
    public @Nullable Cause cause() {
        return reason == STOP ? null : causeOf(reason);
    }

    private Cause causeOf(int why) {
        return switch (why) {
            case END -> Cause.END;
            case CHANGE -> Cause.change(nextChange);
            default -> Cause.guard(why);
        };
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
