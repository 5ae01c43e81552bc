package org.voltsecond.circuit;

import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;

/**
 * Moves a state onto the zero of a condition that is known to be zero, where round-off has left it beside. The move is the
 * shortest one, all states counted by their energy, within the constraints of the regime; a source moves only where the condition depends on nothing else. Without it
 * the engine, which looks at the state alone, sees the condition below zero and reports at the same instant for ever what
 * has been decided already.
 */
final class ZeroPoint {
    /**
     * A condition as near to zero as this is zero for the engine as well: half its own tolerance, since it rounds the scale
     * of a state to a power of two.
     */
    private static final double NEAR = 0.5 * FirstInstant.TOLERANCE;

    /** Conditions share states, so that moving onto one may move off another. */
    private static final int MOST_SWEEPS = 8;

    private final Regime regime;
    private final FirstInstant instant;
    private final double[] scale;
    private final int stored;

    /**
     * Prepares the moves in one regime.
     *
     * @param regime the regime
     * @param instant its conditions
     * @param scale square root of inductance or capacitance of each state
     * @param stored how many states store energy; those of sources follow
     */
    ZeroPoint(Regime regime, FirstInstant instant, double[] scale, int stored) {
        this.regime = regime;
        this.instant = instant;
        this.scale = scale;
        this.stored = stored;
    }

    /** The state at which a condition that has just fallen through zero is zero; the state itself if it is near enough. */
    double[] ofFired(int condition, double[] state) {
        AffineForm form = regime.conditions().get(condition);
        return Math.abs(form.valueAt(state, 0)) > near(condition, state) + instant.movement(condition, state)
                ? moved(form, state)
                : state;
    }

    /** The state at which no condition is below zero; the state itself if none is. All of them hold but for round-off. */
    double[] ofAll(double[] state) {
        double[] result = state;
        for (int sweep = 0; sweep < MOST_SWEEPS; sweep++) {
            double[] before = result;
            for (int c = 0; c < regime.conditions().size(); c++) {
                AffineForm form = regime.conditions().get(c);
                if (form.valueAt(result, 0) < -near(c, result) - instant.movementAtMost(c, result)) {
                    result = moved(form, result);
                }
            }
            if (result == before) {
                break;
            }
        }
        return result;
    }

    private double near(int condition, double[] state) {
        AffineForm form = regime.conditions().get(condition);
        double largest = 0;
        double sum = 0;
        for (int j = 0; j < scale.length; j++) {
            largest = Math.max(largest, Math.abs(form.coefficient(j)) / scale[j]);
            sum += Math.abs(state[j]) * scale[j];
        }
        return NEAR * (largest * sum + Math.abs(form.constant()));
    }

    private double[] moved(AffineForm form, double[] state) {
        double[] direction = withinConstraints(steepest(form, 0, stored));
        double gain = along(form, direction);
        if (!(gain > 0)) {
            direction = steepest(form, stored, scale.length);
            gain = along(form, direction);
        }
        double amount = form.valueAt(state, 0) / gain;
        if (!Double.isFinite(amount)) {
            return state;
        }
        double[] result = state.clone();
        for (int j = 0; j < scale.length; j++) {
            result[j] -= amount * direction[j];
        }
        return result;
    }

    private double[] steepest(AffineForm form, int from, int to) {
        double[] direction = new double[scale.length];
        for (int j = from; j < to; j++) {
            direction[j] = form.coefficient(j) / (scale[j] * scale[j]);
        }
        return direction;
    }

    private static double along(AffineForm form, double[] direction) {
        double sum = 0;
        for (int j = 0; j < direction.length; j++) {
            sum += form.coefficient(j) * direction[j];
        }
        return sum;
    }

    private double[] withinConstraints(double[] direction) {
        AffineMap entry = regime.entry();
        if (entry == null) {
            return direction;
        }
        double[] result = new double[direction.length];
        for (int i = 0; i < stored; i++) {
            for (int j = 0; j < stored; j++) {
                result[i] += entry.entry(i, j) * direction[j];
            }
        }
        return result;
    }
}
