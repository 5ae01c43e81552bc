package org.voltsecond.converter;

/**
 * The part that carries the inductor current in the off interval.
 *
 * @param synchronous true for a second transistor that is closed while the first is open, false for a diode
 * @param forwardDrop forward drop of a diode, V
 * @param resistance slope resistance of a diode or on-resistance of a transistor, Ω
 */
record RectifierModel(boolean synchronous, double forwardDrop, double resistance) {}
