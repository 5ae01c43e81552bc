package org.voltsecond.design;

import org.jspecify.annotations.Nullable;

/**
 * The part that carries the inductor current in the off interval.
 *
 * @param synchronous true for a second transistor, driven in turn with the first; false for a diode
 * @param forwardDrop forward drop, V; 0 or more; 0 of a synchronous one
 * @param resistance slope resistance of a diode, on-resistance of a synchronous one, Ω; 0 or more
 * @param bodyDiode the diode across a synchronous one; null for none
 */
public record RectifierPart(
        boolean synchronous,
        double forwardDrop,
        double resistance,
        @Nullable RectifierPart bodyDiode) {
    /**
     * Returns a diode.
     *
     * @param forwardDrop forward drop, V; 0 or more
     * @param resistance slope resistance, Ω; 0 or more
     * @return the diode
     */
    public static RectifierPart diode(double forwardDrop, double resistance) {
        return new RectifierPart(false, forwardDrop, resistance, null);
    }
}
