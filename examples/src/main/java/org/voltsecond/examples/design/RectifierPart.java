package org.voltsecond.examples.design;

/**
 * The part that carries the inductor current in the off interval.
 *
 * @param synchronous true for a second transistor, driven in turn with the first; false for a diode
 * @param forwardDrop forward drop, V; 0 or more; 0 of a synchronous one
 * @param resistance slope resistance of a diode, on-resistance of a synchronous one, Ω; 0 or more
 */
public record RectifierPart(boolean synchronous, double forwardDrop, double resistance) {}
