package org.voltsecond.analysis;

import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.SingularValueDecomposition;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.SwitchingLaw;
import org.voltsecond.numeric.Curvature;
import org.voltsecond.numeric.Elimination;

/**
 * Finds a state that comes back to itself after a number of clock periods, or of cycles where there is no clock: Newton's method on the period map with its
 * exact derivative (T. J. Aprille, T. N. Trick, Steady-state analysis of nonlinear circuits with periodic inputs, Proc.
 * IEEE 60(1):108-114, 1972, from memory). Where a step leads nowhere, the system itself is run for some periods, twice as
 * many each time, and Newton's method starts again from there.
 *
 * <p><b>Accuracy</b>: the step that would come next, worked out at the very state that is given back and with the derivative
 * there, is below 1e-13 of each state's largest value in the period; and so is what rounding can hide. Where a slow
 * state, such as the voltage of a large capacitor, makes more of the rounding of a period than that, the last steps come from
 * the change over the period, summed up on its own ({@link PeriodMap#changeFrom}).
 */
final class OrbitSearch {
    private static final int MOST_STEPS = 400;
    /** So many steps in a row that do not halve the smallest one before them are going round in a circle. */
    private static final int MOST_STEPS_IN_VAIN = 8;

    private static final int MOST_PERIODS_AT_ONCE = 1 << 14;
    private static final double CLOSE = 1e-11;
    private static final double ROUND_OFF = 1e-13;
    /** The step that is left, and what rounding hides, in the size of each state. */
    private static final double EXACT = 1e-13;

    /** Steps that are this small and do not shrink may be rounding. */
    private static final double NEAR = 1e-3;

    /** Steps that no longer shrink are rounding if they are this small, in the size of each state. */
    private static final double SETTLED = 1e-8;

    /** What rounding may hide of a state at most, in its size, lest figures lose the digits that are asked for. */
    private static final double HIDDEN = 1e-5;

    private static final int MOST_LAST_STEPS = 12;
    /** Mean current of a capacitor, mean voltage of an inductor, beside the largest of their terms: what rounding leaves. */
    private static final double BALANCED = 1e-9;

    private static final double UNIT_ROUND_OFF = 0x1p-53;
    /** A state is not measured by less than this share of all states together. */
    private static final double SMALLEST_SHARE = 0x1p-30;
    /** A state that stays below this share of the terms that make it is what rounding leaves of them. */
    private static final double CANCELLED = 0x1p-24;

    /** Relative size of a singular value below which a direction counts as free. */
    private static final double FREE = 1e-13;
    /** Of each state the power of two below its scale, as the map has it. */
    private final double[] scale;

    final DrivenCircuit circuit;
    final int periods;
    private final SwitchingLaw law;
    private final PeriodMap map;
    /** The map without its derivative, made when it is needed first, which is seldom. */
    private @Nullable PeriodMap ahead;

    private final Elimination elimination;
    /** The unit matrix less the derivative, in scaled states, where the map was applied last. */
    private final double[] matrix;

    private final double[] inverse;
    /** What the last step of Newton's method has seen come out where it began, and the step. */
    private final double[] reached;

    private final double[] step;
    private final double[] missed;
    private final Curvature curvature;
    private final int n;
    private int periodsAtOnce = 1;
    /** The last state from which a run was possible. */
    private double[] sound;

    OrbitSearch(DrivenCircuit circuit, int periods) {
        this.periods = periods;
        this.circuit = circuit;
        law = circuit.law();
        scale = law.scale();
        n = scale.length;
        for (int i = 0; i < n; i++) {
            scale[i] = Math.scalb(1.0, Math.getExponent(scale[i]));
        }
        matrix = new double[n * n];
        inverse = new double[n * n];
        reached = new double[n];
        step = new double[n];
        missed = new double[n];
        curvature = new Curvature(n);
        sound = new double[n];
        elimination = new Elimination(n, FREE);
        if (circuit.isClocked()) {
            map = PeriodMap.withDerivative(law, periods);
        } else {
            map = PeriodMap.returning(law, periods, circuit::opensCycle);
            ahead = map;
        }
    }

    /** Makes it as new, but for its arrays. */
    void forget() {
        map.forget();
        ahead = circuit.isClocked() ? null : map;
        periodsAtOnce = 1;
    }

    private PeriodMap ahead() {
        PeriodMap known = ahead;
        if (known == null) {
            known = PeriodMap.of(law, periods);
            ahead = known;
        }
        return known;
    }

    /** A state that comes back to itself, the derivative of the map there, and how long it takes, s. */
    record Orbit(double[] state, double[][] derivative, double period) {}

    double[] sound() {
        return sound;
    }

    /** Runs on from a state, and takes its end for the last from which a run was possible. */
    double[] run(double[] state, int returns) {
        periodsAtOnce = returns;
        sound = runAhead(state);
        return sound;
    }

    /**
     * The orbit that Newton's method finds from a state.
     *
     * @param start the state
     * @param mostRunsAhead how often the system may be run where a step leads nowhere; 0 to stay near
     * @return the orbit; null if none is found
     */
    @Nullable
    Orbit newton(double[] start, int mostRunsAhead) {
        double[] state = start.clone();
        double[] next = new double[n];
        sound = start.clone();
        curvature.forget();
        if (n == 0) {
            // nothing is stored: every period is like the first
            return orbit(map.apply(start), map.derivative());
        }
        double lastSize = Double.POSITIVE_INFINITY;
        double smallest = Double.POSITIVE_INFINITY;
        int stepsInVain = 0;
        int runsAhead = 0;
        for (int i = 0; i < MOST_STEPS && runsAhead <= mostRunsAhead; i++) {
            boolean steps = findStep(state);
            double size = steps ? size(step) : Double.NaN;
            for (int j = 0; j < n; j++) {
                next[j] = steps ? state[j] + step[j] : state[j];
            }
            if (size <= CLOSE * size(state) || size == 0 || mayBeRoundOff(state, size, lastSize)) {
                boolean isThere = steps && isSame(reached, state) && isExact();
                Orbit found = isThere ? orbit(reached.clone(), map.derivative()) : finish(next, state);
                if (found != null) {
                    return found;
                }
            }
            stepsInVain = size < 0.5 * smallest ? 0 : stepsInVain + 1;
            if (size < 2 * lastSize && stepsInVain < MOST_STEPS_IN_VAIN) {
                lastSize = size;
                smallest = Math.min(smallest, size);
                double[] before = state;
                state = next;
                next = before;
            } else {
                lastSize = Double.POSITIVE_INFINITY;
                smallest = Double.POSITIVE_INFINITY;
                stepsInVain = 0;
                runsAhead++;
                curvature.forget();
                state = runsAhead > mostRunsAhead ? state : runAhead(sound);
            }
        }
        return null;
    }

    /** Finds the step of Newton's method; false if the map cannot be applied or the step does not exist. */
    private boolean findStep(double[] state) {
        try {
            map.apply(state, reached);
            System.arraycopy(state, 0, sound, 0, n);
        } catch (SwitchingException e) {
            return false;
        }
        for (int i = 0; i < n; i++) {
            step[i] = scale[i] * (reached[i] - state[i]);
        }
        map.unitLessDerivative(matrix);
        System.arraycopy(step, 0, missed, 0, n);
        boolean solved = solve(size(state) + size(reached));
        curvature.improve(missed, matrix, step, elimination);
        for (int i = 0; i < n; i++) {
            step[i] /= scale[i];
        }
        return solved;
    }

    /** Replaces the step by which the state is missed by the one that takes it there. */
    private boolean solve(double stateSize) {
        if (elimination.solve(matrix, step)) {
            elimination.solution(step);
            return true;
        }
        // directions in which nothing brings the state back (a charge that nothing drains) are left as they are
        SingularValueDecomposition decomposition = new SingularValueDecomposition(rows());
        double[] image = decomposition.getU().transpose().operate(step);
        double[] values = decomposition.getSingularValues();
        for (int i = 0; i < n; i++) {
            if (values[i] > FREE * Math.max(1, values[0])) {
                image[i] /= values[i];
            } else if (Math.abs(image[i]) <= ROUND_OFF * stateSize) {
                image[i] = 0;
            } else {
                // in every period the state moves on by the same amount
                return false;
            }
        }
        System.arraycopy(decomposition.getV().operate(image), 0, step, 0, n);
        return true;
    }

    private Array2DRowRealMatrix rows() {
        Array2DRowRealMatrix rows = new Array2DRowRealMatrix(n, n);
        for (int i = 0; i < n * n; i++) {
            rows.setEntry(i / n, i % n, matrix[i]);
        }
        return rows;
    }

    private double[] runAhead(double[] state) {
        double[] result = state;
        try {
            for (int i = 0; i < periodsAtOnce; i++) {
                result = ahead().apply(result);
            }
        } catch (SwitchingException e) {
            throw new NoSteadyStateException(
                    "no periodic steady state was found because a run on the way to it failed: " + e.getMessage(), e);
        }
        periodsAtOnce = Math.min(2 * periodsAtOnce, MOST_PERIODS_AT_ONCE);
        return result;
    }

    private boolean mayBeRoundOff(double[] state, double size, double lastSize) {
        return size >= lastSize / 2 && size <= NEAR * size(state);
    }

    /**
     * Goes once around, so that what the circuit holds at zero is zero to the bit, and looks whether the state comes back;
     * null if it does not.
     */
    private @Nullable Orbit finish(double[] solution, double[] previous) {
        try {
            double[] from = solution;
            double[] image = map.apply(from);
            boolean comesBack = size(minus(image, from)) <= 1e-9 * Math.max(size(from), Double.MIN_NORMAL);
            if (comesBack && !isSame(image, from)) {
                from = image;
                image = map.apply(from);
            }
            return verified(from, image, comesBack ? image : from);
        } catch (SwitchingException e) {
            double[] image = map.apply(previous);
            return verified(previous, image, previous);
        }
    }

    /**
     * The orbit, if the next step from where the map was applied last would be next to nothing.
     *
     * @param from the state to which the map was applied
     * @param image what came out
     * @param result which of the two is given back
     */
    private @Nullable Orbit verified(double[] from, double[] image, double[] result) {
        map.unitLessDerivative(matrix);
        if (!elimination.invert(matrix, inverse)) {
            // a direction that nothing brings back, or one that a period hardly changes
            return size(minus(image, from)) <= CLOSE * size(from) ? slow(from, result, map.derivative()) : null;
        }
        double[] extent = extent();
        double hidden = hidden(extent);
        boolean exact = measure(times(inverse, minus(image, from)), extent) <= EXACT && hidden <= EXACT;
        return exact ? orbit(result, map.derivative()) : polished(from, hidden);
    }

    /** Whether the step from where the map was applied last is next to nothing, and rounding hides nothing of it. */
    private boolean isExact() {
        double[] size = extent();
        return measure(step, size) <= EXACT && elimination.invert(matrix, inverse) && hidden(size) <= EXACT;
    }

    private Orbit orbit(double[] state, double[][] derivative) {
        return new Orbit(state, derivative, map.span());
    }

    /** An orbit with a direction in which rounding hides whether the state comes back; null if the balances say that it does not. */
    private @Nullable Orbit slow(double[] from, double[] result, double[][] derivative) {
        double[] step = map.stepFrom(from);
        if (step.length == 0) {
            return map.imbalance() <= BALANCED ? orbit(result, derivative) : null;
        }
        return polished(from, 0);
    }

    /**
     * The last steps, from the change over the period itself; null if they do not settle. A direction that hardly anything brings
     * back, such as a difference between interleaved phases without losses, is left where rounding hides it and the balances hold.
     */
    private @Nullable Orbit polished(double[] start, double hidden) {
        double[] state = start;
        double last = Double.POSITIVE_INFINITY;
        for (int i = 0; i < MOST_LAST_STEPS; i++) {
            double[] step = map.stepFrom(state);
            if (step.length == 0) {
                return null;
            }
            double size = measure(step, extent());
            double seen = Math.max(SETTLED, Math.min(hidden, HIDDEN));
            boolean settled = size <= seen && !(size < last / 2) && (size <= SETTLED || map.imbalance() <= BALANCED);
            if (!(size <= EXACT || settled || size < last)) {
                return null;
            }
            state = plus(state, step);
            if (size <= EXACT || settled) {
                double[] image = map.apply(state);
                return orbit(keepingZeros(state, image), map.derivative());
            }
            last = size;
        }
        return null;
    }

    /** A state that comes back, with zero where the circuit holds it at zero. */
    private double[] keepingZeros(double[] state, double[] image) {
        double[] result = state.clone();
        for (int i = 0; i < n; i++) {
            result[i] = image[i] == 0 ? 0 : result[i];
        }
        return result;
    }

    /** The largest entry of a step in the size of each state. */
    private double measure(double[] step, double[] extent) {
        double largest = 0;
        for (int i = 0; i < n; i++) {
            double share = Math.abs(step[i]) / extent[i];
            largest = step[i] == 0 || share <= largest ? largest : share;
        }
        return largest;
    }

    /** By how much a state may be off, in its size, when each comes back but for one rounding. */
    private double hidden(double[] extent) {
        double largest = 0;
        for (int i = 0; i < n; i++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += Math.abs(inverse[i * n + j]) * scale[j] * extent[j];
            }
            largest = Math.max(largest, sum / (scale[i] * extent[i]));
        }
        return UNIT_ROUND_OFF * largest;
    }

    /** How large each state gets in the period, but at least a tiny part of all together. */
    private double[] extent() {
        double[] extent = map.extent();
        double floor = SMALLEST_SHARE * size(extent);
        for (int i = 0; i < n; i++) {
            extent[i] = Math.max(extent[i], floor / scale[i]);
        }
        sizeOfTerms(extent);
        return extent;
    }

    /** A state that is zero but for rounding, such as a sampled error, is measured by the terms that cancel in it. */
    private void sizeOfTerms(double[] extent) {
        map.unitLessDerivative(matrix);
        for (int pass = 0; pass < n; pass++) {
            for (int i = 0; i < n; i++) {
                double terms = 0;
                for (int j = 0; j < n; j++) {
                    double derivative = (i == j ? 1 : 0) - matrix[i * n + j];
                    terms = Math.max(terms, Math.abs(derivative) * extent[j] * scale[j] / scale[i]);
                }
                extent[i] = extent[i] < CANCELLED * terms ? terms : extent[i];
            }
        }
    }

    /** An inverse in scaled states, applied to a state. */
    private double[] times(double[] inverse, double[] x) {
        double[] result = new double[n];
        for (int i = 0; i < n; i++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += inverse[i * n + j] * scale[j] * x[j];
            }
            result[i] = sum / scale[i];
        }
        return result;
    }

    /** Whether two states differ by rounding alone, and hold the same entries at zero: the map then has one derivative. */
    private boolean isSame(double[] a, double[] b) {
        boolean same = true;
        for (int i = 0; i < n; i++) {
            same &= (a[i] == 0) == (b[i] == 0);
        }
        return same && size(minus(a, b)) <= ROUND_OFF * size(b);
    }

    private double size(double[] state) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
            sum += Math.abs(scale[i] * state[i]);
        }
        return sum;
    }

    private static double[] plus(double[] a, double[] b) {
        double[] sum = a.clone();
        for (int i = 0; i < sum.length; i++) {
            sum[i] += b[i];
        }
        return sum;
    }

    private static double[] minus(double[] a, double[] b) {
        double[] difference = a.clone();
        for (int i = 0; i < difference.length; i++) {
            difference[i] -= b[i];
        }
        return difference;
    }
}
