package org.voltsecond.circuit;

import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineMap;

/**
 * The step into a regime.
 *
 * <pre>{@code
 * Network network = Network.of(rail.circuit());
 * Transition opened = network.resolve(0, 0, -1, new double[] {2, 5}); // all switches open at 2 A and 5 V
 * String regime = opened.regime().name(); // "Q1 open, D1 conducting"
 * }</pre>
 *
 * @param regime the regime that holds from now on
 * @param jump how the state jumps into it; null if it cannot
 * @param repeatable whether the same jump follows from other states as well; false where it takes away round-off of just
 *     this state
 */
public record Transition(Regime regime, @Nullable AffineMap jump, boolean repeatable) {
    /**
     * A transition whose jump follows from the regime alone.
     *
     * @param regime the regime that holds from now on
     * @param jump how the state jumps into it; null if it cannot
     */
    public Transition(Regime regime, @Nullable AffineMap jump) {
        this(regime, jump, true);
    }

    /** The same transition with an offset that takes one state to another one, which is the same but for round-off. */
    Transition movedTo(double[] after, double[] before) {
        int n = before.length;
        double[][] matrix = new double[n][n];
        double[] offset = after.clone();
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                double unmoved = i == j ? 1 : 0;
                matrix[i][j] = jump == null ? unmoved : jump.entry(i, j);
                offset[i] -= matrix[i][j] * before[j];
            }
        }
        return new Transition(regime, AffineMap.of(matrix, offset), false);
    }
}
