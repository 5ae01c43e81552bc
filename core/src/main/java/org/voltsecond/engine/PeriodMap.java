package org.voltsecond.engine;

import java.util.Arrays;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.PhaseRun.Step;
import org.voltsecond.numeric.Elimination;

/**
 * The map from the state on a clock edge to the state some clock periods later, with its exact derivative. The
 * derivative counts the shift of event times: at a guard's crossing a change of the state is multiplied by the saltation
 * matrix (M. di Bernardo, C. Budd, A. Champneys, P. Kowalczyk, Piecewise-smooth Dynamical Systems, Springer 2008,
 * sec. 2.5, from memory). Keeps scratch space: not for use by several threads.
 *
 * <pre>{@code
 * PeriodMap map = PeriodMap.withDerivative(rail.driven().law(), 1);
 * double[] after = map.apply(steady.periodic().state()); // the same state again
 * double forgets = map.derivative()[0][0]; // 0.982 A after a period for each ampere before
 * }</pre>
 */
public final class PeriodMap implements IntervalListener {
    /** A return that takes more clock periods than this is none. */
    private static final int MOST_PERIODS = 100_000;
    /**
     * A state that each interval brings back by itself, as it does a capacitor between interleaved phases, has next to no turnover:
     * then a change counts beside this share of the state, of which a billionth is some rounding of it.
     */
    private static final double SMALLEST_TURNOVER = 0x1p-16;

    /** A pivot below this share of its row's terms is their rounding: some thousand units in the last place. */
    private static final double UNCHANGED = 0x1p-42;

    /** A search goes through so few periods some ten times only. */
    private static final int FEW_CYCLES = 4;

    private final Run run;
    private final ClockTime end;
    /** What begins a cycle of a system that no clock drives; null for a count of clock periods. */
    private final @Nullable Predicate<Phase> opening;

    private final int cycles;
    private int begun;
    private boolean open;
    private final int n;
    private final boolean differentiate;
    private final double[] rateBefore;
    private final double[] rateEntered;
    private final double[] timeShift;
    /** Whether the end of the last interval moves with the state. */
    private boolean isShifted;

    /** The change over an interval as an affine map, and scratch space as large as that and as a derivative. */
    private final double[] ofFlow;

    private final double[] scratch;
    private double[] spare;
    /** The largest magnitude of each scaled state, as far as the ends of intervals tell. */
    private final double[] extent;
    /** The change of the scaled state, summed up on its own, and that in each interval, by magnitude; kept only on demand. */
    private double[] change = FirstCrossing.NO_ROOM;

    private double[] turnover = FirstCrossing.NO_ROOM;
    /** The derivative less the unit matrix, to all its digits, and how large each of its rows got. */
    private double[] departure;

    private final double[] rowExtent;
    private final double[] lastEnd;
    private boolean keepsChange;
    private boolean first;
    private boolean applied;

    private PeriodMap(SwitchingLaw law, int cycles, @Nullable Predicate<Phase> opening, boolean differentiate) {
        if (cycles < 1) {
            throw new IllegalArgumentException("a map must span at least 1 period but was to span " + cycles);
        }
        run = new Run(law, differentiate || opening != null ? this : null, true, differentiate && cycles <= FEW_CYCLES);
        end = new ClockTime(opening == null ? cycles : (long) cycles * MOST_PERIODS, 0);
        this.opening = opening;
        this.cycles = cycles;
        n = run.scaling().dimension();
        this.differentiate = differentiate;
        rateBefore = new double[n];
        rateEntered = new double[n];
        timeShift = new double[n];
        ofFlow = new double[n * (n + 1)];
        scratch = new double[n * (n + 1)];
        spare = new double[n * n];
        extent = new double[n];
        departure = new double[n * n];
        rowExtent = new double[n];
        lastEnd = new double[n];
    }

    /**
     * {@return the map with its derivative} The system must have no scheduled changes within the time.
     *
     * @param law the system
     * @param periods number of clock periods, at least 1
     */
    public static PeriodMap withDerivative(SwitchingLaw law, int periods) {
        return new PeriodMap(law, periods, null, true);
    }

    /**
     * {@return the map without its derivative, which is quicker}
     *
     * @param law the system
     * @param periods number of clock periods, at least 1
     */
    public static PeriodMap of(SwitchingLaw law, int periods) {
        return new PeriodMap(law, periods, null, false);
    }

    /**
     * {@return the map, with its derivative, from the start of a cycle to the start of a later one, for a system that no
     * clock drives} A cycle begins where a phase of a kind follows one that is not of that kind. A run starts in such a
     * phase. The derivative is that of the state at the return, whenever it comes; in the direction in which the system
     * moves along its orbit it is zero.
     *
     * @param law the system
     * @param cycles number of cycles, at least 1
     * @param opening the kind of phase that begins a cycle
     */
    public static PeriodMap returning(SwitchingLaw law, int cycles, Predicate<Phase> opening) {
        return new PeriodMap(law, cycles, opening, true);
    }

    /**
     * Applies the map.
     *
     * @param state the state on a clock edge or at the start of a cycle, SI units
     * @return the state at the end, SI units, just before anything that happens at that very instant; at a return, just
     *     after
     * @throws SwitchingException if the run cannot go on, or does not return within a hundred thousand clock periods for
     *     each cycle
     */
    public double[] apply(double[] state) {
        double[] result = new double[n];
        apply(state, result);
        return result;
    }

    /**
     * Applies the map as {@link #apply(double[])} does.
     * @param state the state on a clock edge or at the start of a cycle, SI units
     * @param into takes the state at the end; may be the same array
     */
    public void apply(double[] state, double[] into) {
        first = true;
        isShifted = false;
        begun = 0;
        open = true;
        Arrays.fill(departure, 0);
        Arrays.fill(rowExtent, 0);
        run.scaling().toScaled(state, lastEnd);
        for (int i = 0; i < n; i++) {
            extent[i] = Math.abs(lastEnd[i]);
        }
        run.start(state);
        run.until(end);
        if (opening != null && !run.halted()) {
            throw new SwitchingException(
                    "the switching has stopped: no new cycle has begun within " + end.tick() + " typical periods");
        }
        applied = true;
        run.copyStartState(into);
    }

    /**
     * Applies the map and returns by how much the state changes, summed up on its own, so that a change far below round-off
     * of the state keeps its digits. A slow state, such as the voltage of a large capacitor, needs that: what rounding adds
     * in a period goes on for as many periods as the state takes to settle.
     *
     * @param state the state on a clock edge or at the start of a cycle, SI units
     * @return state at the end less state at the start, SI units
     * @throws SwitchingException if the run cannot go on, or does not return
     * @throws IllegalStateException if the map was made without its derivative
     */
    public double[] changeFrom(double[] state) {
        requireDerivative(true);
        change = new double[n];
        turnover = new double[n];
        keepsChange = true;
        try {
            apply(state);
        } finally {
            keepsChange = false;
        }
        double[] result = new double[n];
        run.scaling().toState(change, result);
        return result;
    }

    /**
     * {@return the largest imbalance of the last {@link #changeFrom}, from 0 to 1}: the change of a state over the period beside the
     * changes in its intervals, by magnitude. Of a capacitor that is its mean current beside what flows in and out, of an inductor its
     * mean voltage beside the volt-seconds of its intervals.
     */
    public double imbalance() {
        double largest = 0;
        for (int i = 0; i < n; i++) {
            double least = Math.max(turnover[i], SMALLEST_TURNOVER * extent[i]);
            largest = least == 0 ? largest : Math.max(largest, Math.abs(change[i]) / least);
        }
        return largest;
    }

    /**
     * Applies the map by {@link #changeFrom} and returns the step of Newton's method to where the state comes back, from a
     * derivative that keeps the digits by which it differs from the unit matrix: a state that a period hardly changes is not
     * taken for one that nothing changes. A state that a period brings back by itself, wherever it is, and that moves no other is
     * left where it is.
     *
     * @param state the state on a clock edge or at the start of a cycle, SI units
     * @return the step, SI units; empty if there is a direction that nothing brings back
     * @throws SwitchingException if the run cannot go on, or does not return
     */
    public double[] stepFrom(double[] state) {
        changeFrom(state);
        double[] matrix = new double[n * n];
        double[] right = new double[n];
        for (int i = 0; i < n; i++) {
            double extent = rowExtent[i] == 0 ? 1 : rowExtent[i];
            for (int j = 0; j < n; j++) {
                matrix[i * n + j] = -departure[i * n + j] / extent;
            }
            right[i] = change[i] / extent;
        }
        for (int i = 0; i < n; i++) {
            if (isKept(i)) {
                matrix[i * n + i] = 1;
                right[i] = 0;
            }
        }
        Elimination elimination = new Elimination(n, UNCHANGED);
        if (!elimination.solve(matrix, right)) {
            return new double[0];
        }
        double[] result = new double[n];
        run.scaling().toState(elimination.solution(), result);
        return result;
    }

    /** Whether a state comes back as it was, whatever it and the others are, such as the flux of a core with halves alike. */
    private boolean isKept(int state) {
        boolean kept = Math.abs(change[state]) <= UNCHANGED * turnover[state];
        for (int j = 0; j < n && kept; j++) {
            kept = Math.abs(departure[state * n + j]) <= UNCHANGED * rowExtent[state]
                    && Math.abs(departure[j * n + state]) <= UNCHANGED * rowExtent[j];
        }
        return kept;
    }

    /**
     * {@return how large each state was at the ends of intervals of the last application, at most, SI units; a new array}
     * @throws IllegalStateException if the map was made without its derivative, or not applied yet
     */
    public double[] extent() {
        requireDerivative(applied);
        double[] result = new double[n];
        run.scaling().toState(extent, result);
        return result;
    }

    private void requireDerivative(boolean ready) {
        if (!differentiate || !ready) {
            throw new IllegalStateException("this is known after apply() on a map made by withDerivative()");
        }
    }

    /**
     * {@return the derivative where the map was last applied; entry (i, j): change of state i for a change of state j before, SI units}
     * @throws IllegalStateException if the map was made without its derivative, or not applied yet
     */
    public double[][] derivative() {
        requireDerivative(applied);
        double[][] result = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                double scaled = departure[i * n + j] + (i == j ? 1 : 0);
                result[i][j] = scaled / run.scaling().factor(i) * run.scaling().factor(j);
            }
        }
        return result;
    }

    /**
     * Writes the unit matrix less the derivative, to all its digits, with each state in its {@linkplain SwitchingLaw#scale() scale},
     * of which the power of two below it is taken.
     *
     * @param into takes the matrix, row after row
     * @throws IllegalStateException if the map was made without its derivative, or not applied yet
     */
    public void unitLessDerivative(double[] into) {
        requireDerivative(applied);
        for (int e = 0; e < n * n; e++) {
            into[e] = -departure[e];
        }
    }

    /** {@return the time that the last application spanned, s: that of the period or cycle} */
    public double span() {
        return run.elapsed();
    }

    /** Forgets all that was learned: what comes after is to the bit as that of a new map, whose arrays need not be made. */
    public void forget() {
        run.forget();
        applied = false;
    }

    @Override
    public void onInterval(IntervalView interval) {
        Step step = run.present();
        Flow flow = step.next.flow;
        measureEntry();
        if (step.jump != null) {
            carry(step.scaledChange);
        }
        boolean returns = !first && returned(interval.phase());
        if (isShifted) {
            shiftInto(step, flow, returns);
        }
        if (returns) {
            run.halt();
            return;
        }
        measureFlow(interval, flow);
        if (interval.duration() > 0) {
            carry(changeOver(flow, step.next.leg, interval.duration()));
        }
        findTimeShift(interval, step.next);
        first = false;
    }

    /** What the entry changes is exact where a state stays as it is, and is no slow state where it does not. */
    private void measureEntry() {
        double[] start = run.scaledState();
        for (int i = 0; keepsChange && i < n; i++) {
            change[i] += start[i] - lastEnd[i];
            turnover[i] += Math.abs(start[i] - lastEnd[i]);
        }
    }

    private double[] changeOver(Flow flow, @Nullable Leg leg, double duration) {
        if (leg != null && leg.duration == duration && duration <= flow.base) {
            return leg.change;
        }
        flow.changeOver(duration, ofFlow, scratch);
        return ofFlow;
    }

    /** Carries the derivative on, from 1 + D to (1 + G) (1 + D), with G the linear part of a change of the state. */
    private void carry(double[] by) {
        double[] before = departure;
        double[] after = spare;
        for (int i = 0; i < n; i++) {
            int row = i * (n + 1);
            for (int j = 0; j < n; j++) {
                double sum = 0;
                for (int k = 0; k < n; k++) {
                    sum += by[row + k] * before[k * n + j];
                }
                double entry = sum + before[i * n + j] + by[row + j];
                after[i * n + j] = entry;
                rowExtent[i] = Math.max(rowExtent[i], Math.abs(entry));
            }
        }
        departure = after;
        spare = before;
    }

    private void measureFlow(IntervalView interval, Flow flow) {
        double[] end = run.scaledEnd();
        for (int i = 0; i < n; i++) {
            extent[i] = Math.max(extent[i], Math.abs(end[i]));
        }
        if (keepsChange) {
            double[] moved = new double[n];
            Ladder.addChangeAfter(flow, run.scaledState(), interval.duration(), moved);
            for (int i = 0; i < n; i++) {
                change[i] += moved[i];
                turnover[i] += Math.abs(moved[i]);
            }
            System.arraycopy(end, 0, lastEnd, 0, n);
        }
    }

    /** Adds (R f- - f+) times the shift of the instant; R f- alone where the map ends at that very instant. */
    private void shiftInto(Step step, Flow flow, boolean ends) {
        step.applyLinear(rateBefore, rateEntered);
        flow.rate(run.scaledState(), rateBefore);
        for (int i = 0; i < n; i++) {
            double rate = rateEntered[i] - (ends ? 0 : rateBefore[i]);
            for (int j = 0; j < n; j++) {
                departure[i * n + j] += rate * timeShift[j];
            }
        }
    }

    private boolean returned(Phase phase) {
        if (opening == null) {
            return false;
        }
        boolean was = open;
        open = opening.test(phase);
        begun += open && !was ? 1 : 0;
        return begun == cycles;
    }

    /**
     * By how much the end of the interval moves when a state at the start of the map moves. A guard that is below zero from
     * the first ends the interval at once, whenever it starts. What a fixed duration ends shifts as its start did.
     */
    private void findTimeShift(IntervalView interval, PhaseRun phase) {
        Cause cause = interval.cause();
        boolean byGuard = cause != null && cause.kind() == Cause.Kind.GUARD;
        if (!byGuard && endsByClock(interval, phase)) {
            isShifted = false;
            return;
        }
        phase.flow.rate(run.scaledEnd(), rateBefore);
        if (cause == null || !byGuard) {
            return;
        }
        GuardRows guard = phase.flow.guards[cause.index()];
        double[] start = run.scaledState();
        double since = interval.sinceTick();
        if (interval.duration() == 0 && guard.valueAt(start, since) < -guard.tolerance(start, since)) {
            return;
        }
        isShifted = true;
        double slope = guard.slope;
        for (int i = 0; i < n; i++) {
            slope += guard.form[i] * rateBefore[i];
        }
        for (int j = 0; j < n; j++) {
            double change = guard.form[j];
            for (int i = 0; i < n; i++) {
                change += guard.form[i] * departure[i * n + j];
            }
            timeShift[j] = slope == 0 ? 0 : -change / slope;
        }
    }

    private static boolean endsByClock(IntervalView interval, PhaseRun phase) {
        double clockEnd = phase.endSinceTick - interval.sinceTick();
        return clockEnd >= 0 && phase.maximumDuration >= clockEnd;
    }
}
