package org.voltsecond.analysis;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.voltsecond.control.HeldPulse;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.numeric.Elimination;

/**
 * The steady state of a circuit with its pulse held, at the duty cycle with which nothing that the regulator aims at is
 * missed. Newton's method on state and duty cycle together; the state by itself as long as it is far from its orbit, the duty
 * cycle within the bracket of what was too short and too long. Of several duty cycles the lowest is meant, since with
 * resistances the output of a stage that steps up falls again beyond a certain one. A named numeric kernel.
 */
final class HeldOrbit {
    /** What came out. */
    enum Outcome {
        FOUND,
        /** The longest pulse is not long enough. */
        TOO_LITTLE,
        /** The shortest pulse is too long. */
        TOO_MUCH,
        /** The circuit cannot be run, or has no orbit, at a duty cycle on the way. */
        NONE
    }

    private static final int MOST_STEPS = 80;
    /** A state whose next step is below this share of it is near enough to its orbit to tell what is missed. */
    private static final double NEAR = 0.02;
    /** Steps in a row that do not get nearer: Newton's method goes round in a circle at a kink of the map. */
    private static final int MOST_STEPS_IN_VAIN = 5;
    /** Duty cycle and state are right to this, of which the full map makes the rest. */
    private static final double EXACT = 1e-11;
    /** How far a step may go: to this share of what is left to either end. */
    private static final double LEFT = 0.25;
    /** A duty cycle nearer to its end than this is at the end. */
    private static final double END = 1e-6;

    private final HeldPulse pulse;
    private final PeriodMap map;
    private final double[] scale;
    private final int[] free;
    private final int[] duties;
    private final int[] missed;
    private final int n;
    private final Elimination elimination;
    private final Elimination[] together;
    private double[] state;
    /** The duty cycle that moves those of all legs; see {@link HeldPulse#dutyCycle(int, double)}. */
    private double common;

    HeldOrbit(HeldPulse pulse, double[] start) {
        this.pulse = pulse;
        map = PeriodMap.withDerivative(pulse.circuit().law(), 1);
        scale = pulse.circuit().law().scale();
        free = pulse.returning();
        duties = pulse.dutyCycles();
        missed = pulse.missed();
        n = free.length;
        elimination = new Elimination(n, 1e-14);
        together = new Elimination[duties.length + 1];
        state = start.clone();
        common = state[duties[0]] + (pulse.whole() > 1 ? state[duties[duties.length - 1]] : 0);
    }

    /** The state as it has come out: of the full circuit. */
    double[] inFull() {
        return pulse.inFull(state);
    }

    double[] state() {
        return state.clone();
    }

    /** Finds the duty cycle from one near it, all states together. */
    Outcome polish() {
        double last = Double.POSITIVE_INFINITY;
        for (int i = 0; i < MOST_STEPS; i++) {
            Step step = new Step();
            if (!step.jointly()) {
                return Outcome.NONE;
            }
            double share = step.within();
            step.take(share);
            double size = step.size();
            if (share == 1 && (size <= EXACT || (size < 1e-6 && size > last / 2))) {
                return Outcome.FOUND;
            }
            last = size;
        }
        return Outcome.NONE;
    }

    /** Finds the duty cycle from any. */
    Outcome find() {
        double low = Math.max(pulse.shortest(), END / 100);
        double whole = pulse.whole();
        double high = Math.min(pulse.longest(), whole - END);
        if (!(low < high)) {
            return Outcome.NONE;
        }
        double lowest = low;
        double highest = high;
        setCommon(Math.min(Math.max(common, low), high));
        double before = Double.POSITIVE_INFINITY;
        int vain = 0;
        int ahead = 1;
        for (int i = 0; i < MOST_STEPS; i++) {
            Step step = new Step();
            if (!step.separately()) {
                return Outcome.NONE;
            }
            double away = step.away();
            if (!(away <= NEAR)) {
                vain = away < before / 2 ? 0 : vain + 1;
                before = Math.min(before, away);
                if (vain > MOST_STEPS_IN_VAIN || !(away < 1e6)) {
                    step.runAhead(ahead);
                    ahead = Math.min(2 * ahead, 256);
                    vain = 0;
                    before = Double.POSITIVE_INFINITY;
                } else {
                    step.take(0, 1);
                }
                continue;
            }
            vain = 0;
            before = Double.POSITIVE_INFINITY;
            double d = common;
            boolean falls = step.slope < 0;
            if (!falls || step.lack < 0) {
                high = d;
            } else {
                low = d;
            }
            double next = falls ? d - step.lack / step.slope : low;
            double change = Math.abs(next - d);
            if (falls && change <= EXACT * d && away <= EXACT) {
                return Outcome.FOUND;
            }
            if (low == high || high - low <= END * Math.min(low, whole - high)) {
                // nothing is left of the bracket: the duty cycle is there but for rounding, or jumps over what is aimed
                // at
                return falls && change <= END * d ? Outcome.FOUND : atEnd(step, lowest, highest, d, falls);
            }
            next = Math.min(Math.max(next, LEFT * d), whole - LEFT * (whole - d));
            boolean inside = next > low && next < high;
            if (!inside && next >= high && high == highest) {
                next = d == high ? d : high;
            } else if (!inside && next <= low && low == lowest) {
                next = d == low ? d : low;
            } else if (!inside) {
                next = 0.5 * (low + high);
            }
            if (next == d) {
                return atEnd(step, lowest, highest, d, falls);
            }
            step.take(next - d, 1);
        }
        return Outcome.NONE;
    }

    private void setCommon(double dutyCycle) {
        common = dutyCycle;
        for (int leg = 0; leg < duties.length; leg++) {
            state[duties[leg]] = pulse.dutyCycle(leg, dutyCycle);
        }
    }

    private static Outcome atEnd(Step step, double lowest, double highest, double d, boolean falls) {
        boolean tooLittle = step.lack > 0;
        if (tooLittle && (d == highest || !falls || d > lowest)) {
            return Outcome.TOO_LITTLE;
        }
        return tooLittle ? Outcome.NONE : Outcome.TOO_MUCH;
    }

    /** One application of the map, and where it leads. */
    private final class Step {
        private final double[] image;
        private final double[][] derivative;
        private final boolean runs;
        /** The step of the state at this duty cycle, and its change with the duty cycle, both scaled. */
        private double[] own = {};

        private double[] byDuty = {};
        /** Legs whose duty cycle moves, and by how much. */
        private final int[] moving;

        private double[] dutySteps = {};
        /** What is missed on the orbit at this duty cycle, and how that changes with the duty cycle. */
        double lack;

        double slope;

        Step() {
            for (int miss : missed) {
                state[miss] = 0;
            }
            moving = IntStream.range(0, duties.length)
                    .filter(leg -> pulse.moves(leg, state[duties[leg]]))
                    .toArray();
            double[] out = {};
            boolean ran = true;
            try {
                out = map.apply(state);
            } catch (SwitchingException e) {
                ran = false;
            }
            image = out;
            runs = ran;
            derivative = ran ? map.derivative() : new double[0][];
        }

        private double[] matrix() {
            double[] matrix = new double[n * n];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    matrix[i * n + j] =
                            (i == j ? 1 : 0) - scale[free[i]] * derivative[free[i]][free[j]] / scale[free[j]];
                }
            }
            return matrix;
        }

        boolean separately() {
            if (!runs) {
                return false;
            }
            double[] matrix = matrix();
            double[] right = new double[n];
            double[] change = new double[n];
            for (int i = 0; i < n; i++) {
                right[i] = scale[free[i]] * (image[free[i]] - state[free[i]]);
                change[i] = scale[free[i]] * byCommon(free[i]);
            }
            if (!elimination.solve(matrix, right)) {
                return false;
            }
            own = elimination.solution();
            if (!elimination.solve(matrix, change)) {
                return false;
            }
            byDuty = elimination.solution();
            lack = 0;
            slope = 0;
            for (int miss : missed) {
                lack += image[miss];
                slope += byCommon(miss);
                for (int j = 0; j < n; j++) {
                    lack += derivative[miss][free[j]] * own[j] / scale[free[j]];
                    slope += derivative[miss][free[j]] * byDuty[j] / scale[free[j]];
                }
            }
            return true;
        }

        /** What a change of all duty cycles together makes of a state. */
        private double byCommon(int of) {
            double sum = 0;
            for (int leg : moving) {
                sum += derivative[of][duties[leg]];
            }
            return sum;
        }

        boolean jointly() {
            if (!runs) {
                return false;
            }
            int more = missed.length == duties.length ? moving.length : 1;
            int all = n + more;
            double[] matrix = new double[all * all];
            double[] right = new double[all];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    matrix[i * all + j] =
                            (i == j ? 1 : 0) - scale[free[i]] * derivative[free[i]][free[j]] / scale[free[j]];
                }
                for (int k = 0; k < more; k++) {
                    matrix[i * all + n + k] = -scale[free[i]] * derivative[free[i]][duties[moving[k]]];
                }
                right[i] = scale[free[i]] * (image[free[i]] - state[free[i]]);
            }
            for (int k = 0; k < more; k++) {
                int miss = missed[moving[k]];
                for (int j = 0; j < n; j++) {
                    matrix[(n + k) * all + j] = -derivative[miss][free[j]] / scale[free[j]];
                }
                for (int j = 0; j < more; j++) {
                    matrix[(n + k) * all + n + j] = -derivative[miss][duties[moving[j]]];
                }
                right[n + k] = image[miss];
            }
            if (together[more] == null) {
                together[more] = new Elimination(all, 1e-300);
            }
            if (!together[more].solve(matrix, right)) {
                return false;
            }
            double[] solution = together[more].solution();
            own = Arrays.copyOf(solution, n);
            dutySteps = Arrays.copyOfRange(solution, n, all);
            return Arrays.stream(dutySteps).allMatch(Double::isFinite);
        }

        /** The part of the step that keeps the duty cycles within their ranges. */
        double within() {
            double share = 1;
            for (int k = 0; k < dutySteps.length; k++) {
                double d = state[duties[moving[k]]];
                double[] range = pulse.range(moving[k]);
                double room = dutySteps[k] > 0 ? range[1] - d : d - range[0];
                share = Math.abs(dutySteps[k]) < room ? share : Math.min(share, 0.5 * room / Math.abs(dutySteps[k]));
            }
            return share;
        }

        void take(double share) {
            for (int i = 0; i < n; i++) {
                state[free[i]] += share * own[i] / scale[free[i]];
            }
            for (int k = 0; k < dutySteps.length; k++) {
                state[duties[moving[k]]] += share * dutySteps[k];
            }
        }

        void take(double change, double share) {
            for (int i = 0; i < n; i++) {
                state[free[i]] += share * (own[i] + change * byDuty[i]) / scale[free[i]];
            }
            setCommon(common + change);
        }

        void runAhead(int periods) {
            try {
                double[] now = image;
                for (int i = 0; i < periods; i++) {
                    now = map.apply(now);
                }
                state = now;
                setCommon(common);
            } catch (SwitchingException e) {
                // the next step says so
                state = image.clone();
            }
        }

        /** How large the step is beside the state. */
        double away() {
            double step = 0;
            double size = 0;
            for (int i = 0; i < n; i++) {
                step += Math.abs(own[i]);
                size += Math.abs(scale[free[i]] * state[free[i]]) + Math.abs(scale[free[i]] * image[free[i]]);
            }
            return step == 0 ? 0 : 2 * step / size;
        }

        double size() {
            return away() + Arrays.stream(dutySteps).map(Math::abs).sum();
        }
    }
}
