package org.voltsecond.design;

import java.util.List;
import org.voltsecond.converter.Change;

/**
 * The transient that a design file asks for.
 *
 * @param duration how long, s; more than 0
 * @param fromSteadyState true to start from the periodic steady state, false to start from rest
 * @param changes steps on the way, in order of time
 */
public record TransientPlan(double duration, boolean fromSteadyState, List<Change> changes) {
    /**
     * Copies the list.
     *
     * @param duration how long, s; more than 0
     * @param fromSteadyState true to start from the periodic steady state, false to start from rest
     * @param changes steps on the way, in order of time
     */
    public TransientPlan {
        changes = List.copyOf(changes);
    }
}
