package org.voltsecond.design;

import java.util.List;
import org.voltsecond.study.Tolerance;

/**
 * The tolerances that a design file states.
 *
 * @param tolerances one for each value that may lie off its nominal one
 * @param designs how many designs to draw at random
 * @param seed chooses them
 */
public record TolerancePlan(List<Tolerance> tolerances, int designs, long seed) {
    /**
     * Copies the list.
     *
     * @param tolerances one for each value
     * @param designs how many designs to draw
     * @param seed chooses them
     */
    public TolerancePlan {
        tolerances = List.copyOf(tolerances);
    }
}
