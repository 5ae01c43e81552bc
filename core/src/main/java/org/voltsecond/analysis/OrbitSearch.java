package org.voltsecond.analysis;

import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.SingularValueDecomposition;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.engine.SwitchingLaw;

/**
 * Finds a state that comes back to itself after a number of clock periods, or of cycles where there is no clock: Newton's method on the period map with its
 * exact derivative (T. J. Aprille, T. N. Trick, Steady-state analysis of nonlinear circuits with periodic inputs, Proc.
 * IEEE 60(1):108-114, 1972, from memory). Where a step leads nowhere, the system itself is run for some periods, twice as
 * many each time, and Newton's method starts again from there.
 *
 * <p><b>Accuracy</b>: the last step is below 1e-11 of the state, and Newton's method squares the error of a step.
 */
final class OrbitSearch {
    private static final int MOST_STEPS = 400;
    /** So many steps in a row that do not halve the smallest one before them are going round in a circle. */
    private static final int MOST_STEPS_IN_VAIN = 8;

    private static final int MOST_RUNS_AHEAD = 40;
    /** Stands for a step that does not exist. */
    private static final double[] NONE = {};

    private static final int MOST_PERIODS_AT_ONCE = 1 << 14;
    private static final double CLOSE = 1e-11;
    private static final double ROUND_OFF = 1e-13;
    /** Relative size of a singular value below which a direction counts as free. */
    private static final double FREE = 1e-13;

    private final double[] scale;
    private final String what;
    private final SwitchingLaw law;
    private final int periods;
    private final PeriodMap map;
    /** The map without its derivative, made when it is needed first, which is seldom. */
    private @Nullable PeriodMap ahead;

    private final Elimination elimination;
    private final int n;
    private int periodsAtOnce = 1;
    /** The last state from which a run was possible. */
    private double[] sound = new double[0];

    private String trouble = "";

    OrbitSearch(DrivenCircuit circuit, int periods) {
        this.periods = periods;
        law = circuit.law();
        scale = law.scale();
        n = scale.length;
        elimination = new Elimination(n, FREE);
        if (circuit.isClocked()) {
            what = periods * law.clockPeriod() + " s";
            map = PeriodMap.withDerivative(law, periods);
        } else {
            what = periods + (periods == 1 ? " cycle" : " cycles");
            map = PeriodMap.returning(law, periods, circuit::opensCycle);
            ahead = map;
        }
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

    Orbit from(double[] start) {
        double[] state = start;
        sound = start;
        double lastSize = Double.POSITIVE_INFINITY;
        double smallest = Double.POSITIVE_INFINITY;
        int stepsInVain = 0;
        int runsAhead = 0;
        for (int i = 0; i < MOST_STEPS && runsAhead <= MOST_RUNS_AHEAD; i++) {
            double[] step = newtonStep(state);
            double size = step.length == 0 ? Double.NaN : size(step);
            if (size <= CLOSE * size(state) || size == 0) {
                return finish(plus(state, step), state);
            }
            stepsInVain = size < 0.5 * smallest ? 0 : stepsInVain + 1;
            if (size < 2 * lastSize && stepsInVain < MOST_STEPS_IN_VAIN) {
                if (isRoundOff(state, size, lastSize)) {
                    return finish(state, state);
                }
                lastSize = size;
                smallest = Math.min(smallest, size);
                state = plus(state, step);
            } else {
                lastSize = Double.POSITIVE_INFINITY;
                smallest = Double.POSITIVE_INFINITY;
                stepsInVain = 0;
                runsAhead++;
                state = runAhead(sound);
            }
        }
        throw new NoSteadyStateException("no periodic steady state of " + what + " was found: " + trouble
                + "look for an orbit of more periods, or run a transient to see what the circuit does");
    }

    /** The step of Newton's method; {@link #NONE} if the map cannot be applied or the step does not exist. */
    private double[] newtonStep(double[] state) {
        double[] image;
        try {
            image = map.apply(state);
            sound = state;
        } catch (SwitchingException e) {
            trouble = "a run from a trial state could not go on (" + e.getMessage() + "); ";
            return NONE;
        }
        double[] difference = new double[n * n];
        double[][] derivative = map.derivative();
        double[] residual = new double[n];
        for (int i = 0; i < n; i++) {
            residual[i] = scale[i] * (image[i] - state[i]);
            for (int j = 0; j < n; j++) {
                difference[i * n + j] = (i == j ? 1 : 0) - scale[i] * derivative[i][j] / scale[j];
            }
        }
        double[] step = solve(difference, residual, size(state) + size(image));
        for (int i = 0; i < step.length; i++) {
            step[i] /= scale[i];
        }
        return step;
    }

    private double[] solve(double[] matrix, double[] right, double stateSize) {
        if (elimination.solve(matrix, right)) {
            return elimination.solution();
        }
        // directions in which nothing brings the state back (a charge that nothing drains) are left as they are
        SingularValueDecomposition decomposition = new SingularValueDecomposition(rows(matrix));
        double[] image = decomposition.getU().transpose().operate(right);
        double[] values = decomposition.getSingularValues();
        for (int i = 0; i < n; i++) {
            if (values[i] > FREE * Math.max(1, values[0])) {
                image[i] /= values[i];
            } else if (Math.abs(image[i]) <= ROUND_OFF * stateSize) {
                image[i] = 0;
            } else {
                trouble = "in every " + what + " the state drifts by the same amount (the switch or the load "
                        + "never lets it come back: change the duty cycle, or add the resistance or the load that limits "
                        + "it); ";
                return NONE;
            }
        }
        return decomposition.getV().operate(image);
    }

    private Array2DRowRealMatrix rows(double[] matrix) {
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
                    "no periodic steady state was found since a run on the way to it could not go on: "
                            + e.getMessage(),
                    e);
        }
        periodsAtOnce = Math.min(2 * periodsAtOnce, MOST_PERIODS_AT_ONCE);
        return result;
    }

    private boolean isRoundOff(double[] state, double size, double lastSize) {
        return size >= lastSize / 2 && size <= 1e-6 * size(state) && residual(state) <= ROUND_OFF * size(state);
    }

    private double residual(double[] state) {
        double[] image = ahead().apply(state);
        double[] difference = new double[n];
        for (int i = 0; i < n; i++) {
            difference[i] = image[i] - state[i];
        }
        return size(difference);
    }

    /** Goes once around, so that what the circuit holds at zero is zero to the bit. */
    private Orbit finish(double[] solution, double[] previous) {
        try {
            double[] state = map.apply(solution);
            if (!(size(minus(state, solution)) <= 1e-9 * Math.max(size(solution), Double.MIN_NORMAL))) {
                state = solution;
            }
            if (!isSame(state, solution)) {
                map.apply(state);
            }
            return new Orbit(state, map.derivative(), map.span());
        } catch (SwitchingException e) {
            map.apply(previous);
            return new Orbit(previous, map.derivative(), map.span());
        }
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
