package org.voltsecond.circuit;

import org.voltsecond.engine.AffineForm;
import org.voltsecond.numeric.RoundOff;

/**
 * The signs of the conditions of a regime in the first instant after entering it: the sign of the value, if that is zero
 * the sign of the derivative, and so on. Zero means: smaller than the round-off of its terms, all states counted by their
 * energy, or so small that it reaches zero within the resolution of time, since the instants of events are exact only to
 * round-off: a voltage that falls from 100 V through zero is not zero at the event but within the round-off of 100 V.
 * Immutable.
 */
final class FirstInstant {
    /** How many units in the last place of its terms a quantity may be away from zero and still count as zero. */
    static final double TOLERANCE = RoundOff.OF_A_SUM;

    /** How far from zero, relative to its terms, a quantity may be at the event of its falling through zero. */
    private static final double FIRED = 1e-8;

    private final int n;
    private final double timeResolution;
    private final double[] scale;
    private final double[][] rates;
    /**
     * Entry [condition][order], worked out when it is first asked for: where many rectifiers share a circuit, most are decided
     * by their value or its slope. Two threads may work out the same one, and get the same.
     */
    private final Derivative[][] derivatives;
    /** How far the constants alone move the scaled state within the resolution of time. */
    private final double drift;

    FirstInstant(Regime regime, double[] scale, double timeResolution) {
        n = scale.length;
        this.timeResolution = timeResolution;
        this.scale = scale;
        int count = regime.conditions().size();
        derivatives = new Derivative[count][n + 1];
        rates = new double[n][];
        double sum = 0;
        for (int i = 0; i < n; i++) {
            rates[i] = row(regime.rates().get(i));
            sum += scale[i] * Math.abs(rates[i][n]);
        }
        drift = sum * timeResolution;
        for (int c = 0; c < count; c++) {
            double[] condition = row(regime.conditions().get(c));
            double[] absolute = new double[n + 1];
            for (int j = 0; j <= n; j++) {
                absolute[j] = Math.abs(condition[j]);
            }
            derivatives[c][0] = derivative(condition, absolute);
        }
    }

    /**
     * A time derivative of a condition: factors of the states, then the constant.
     *
     * @param row the derivative
     * @param absolute the same with every term counted as positive
     * @param perState size of the terms per unit of the scaled state's norm
     */
    private record Derivative(double[] row, double[] absolute, double perState) {}

    private Derivative derivative(double[] row, double[] absolute) {
        return new Derivative(row, absolute, norm(absolute));
    }

    private Derivative derivative(int condition, int order) {
        Derivative known = derivatives[condition][order];
        if (known == null) {
            known = next(derivative(condition, order - 1));
            derivatives[condition][order] = known;
        }
        return known;
    }

    private Derivative next(Derivative last) {
        double[] row = new double[n + 1];
        double[] absolute = new double[n + 1];
        for (int i = 0; i < n; i++) {
            if (last.absolute[i] != 0) {
                for (int j = 0; j <= n; j++) {
                    row[j] += last.row[i] * rates[i][j];
                    absolute[j] += last.absolute[i] * Math.abs(rates[i][j]);
                }
            }
        }
        return derivative(row, absolute);
    }

    private double[] row(AffineForm form) {
        double[] row = new double[n + 1];
        for (int j = 0; j < n; j++) {
            row[j] = form.coefficient(j);
        }
        row[n] = form.constant();
        return row;
    }

    private double norm(double[] row) {
        double sum = 0;
        for (int j = 0; j < scale.length; j++) {
            double scaled = row[j] / scale[j];
            sum += scaled * scaled;
        }
        return Math.sqrt(sum);
    }

    /**
     * Whether all conditions hold in the first instant.
     *
     * @param state the state after entering
     * @param stateNorm norm of the scaled state
     * @param zero a condition whose guard has just fired: its value counts as zero unless it is far from it, as it may be
     *     where other rectifiers have changed; -1 for none
     * @param leniency multiplies the tolerance
     */
    boolean holds(double[] state, double stateNorm, int zero, double leniency) {
        for (int c = 0; c < derivatives.length; c++) {
            if (isNegative(c, state, stateNorm, zero, leniency)) {
                return false;
            }
        }
        return true;
    }

    /** Whether one condition does not hold in the first instant; the rest as above. */
    boolean isNegative(int condition, double[] state, double stateNorm, int zero, double leniency) {
        boolean isZero = condition == zero && isNearZero(condition, state, stateNorm);
        return sign(condition, state, leniency * TOLERANCE, stateNorm, isZero ? 1 : 0) < 0;
    }

    /**
     * Size of the state below which it is nothing but what the resolution of time leaves of it: where a source passes
     * through zero long after all else has died out, there is no other size to compare with.
     */
    double drift() {
        return drift;
    }

    /** How far a condition moves within the resolution of time. */
    double movement(int condition, double[] state) {
        return Math.abs(value(condition, 1, state)) * timeResolution;
    }

    /** The same, but no more than the constants alone move it. */
    double movementAtMost(int condition, double[] state) {
        return Math.min(movement(condition, state), Math.abs(derivative(condition, 1).row[n]) * timeResolution);
    }

    private boolean isNearZero(int condition, double[] state, double stateNorm) {
        double bound = FIRED * size(derivative(condition, 0), stateNorm);
        return Math.abs(value(condition, 0, state)) <= bound;
    }

    private int sign(int condition, double[] state, double tolerance, double stateNorm, int firstOrder) {
        double value = value(condition, firstOrder, state);
        for (int order = firstOrder; order <= n; order++) {
            double next = order < n ? value(condition, order + 1, state) : 0;
            double roundOff =
                    tolerance * size(derivative(condition, order), stateNorm) + Math.abs(next) * timeResolution;
            if (Math.abs(value) > roundOff) {
                return value > 0 ? 1 : -1;
            }
            value = next;
        }
        return 0;
    }

    /** Size of the terms of a condition. */
    private double size(Derivative derivative, double stateNorm) {
        return derivative.perState * stateNorm + derivative.absolute[n];
    }

    private double value(int condition, int order, double[] state) {
        double[] row = derivative(condition, order).row;
        double value = row[n];
        for (int j = 0; j < n; j++) {
            value += row[j] * state[j];
        }
        return value;
    }
}
