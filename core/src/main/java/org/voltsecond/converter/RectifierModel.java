package org.voltsecond.converter;

import org.jspecify.annotations.Nullable;

/**
 * The part that carries the inductor current in the off interval.
 *
 * @param synchronous true for a second transistor that is closed while the first is open, false for a diode
 * @param forwardDrop forward drop of a diode, V
 * @param resistance slope resistance of a diode or on-resistance of a transistor, Ω
 * @param bodyDiode the diode across a transistor; null for none
 */
record RectifierModel(
        boolean synchronous,
        double forwardDrop,
        double resistance,
        @Nullable RectifierModel bodyDiode) {
    static RectifierModel diode(double forwardDrop, double resistance) {
        return new RectifierModel(false, forwardDrop, resistance, null);
    }

    static RectifierModel transistor(double onResistance, @Nullable RectifierModel bodyDiode) {
        return new RectifierModel(true, 0, onResistance, bodyDiode);
    }
}
