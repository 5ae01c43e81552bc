package org.voltsecond.examples.design;

import org.voltsecond.units.Unit;

/**
 * What a key that takes a quantity wants.
 *
 * @param unit the unit
 * @param range which values are valid
 * @param example a valid value as it would be written
 */
record Kind(Unit unit, Range range, String example) {
    static final Kind VOLTAGE = new Kind(Unit.VOLT, Range.POSITIVE, "\"12 V\"");
    static final Kind FORWARD_DROP = new Kind(Unit.VOLT, Range.NOT_NEGATIVE, "\"0.4 V\"");
    static final Kind BODY_DIODE_DROP = new Kind(Unit.VOLT, Range.POSITIVE, "\"0.8 V\"");
    static final Kind CURRENT = new Kind(Unit.AMPERE, Range.NOT_NEGATIVE, "\"2 A\"");
    static final Kind LOAD_RESISTANCE = new Kind(Unit.OHM, Range.POSITIVE, "\"2.5 Ω\"");
    static final Kind SERIES_RESISTANCE = new Kind(Unit.OHM, Range.NOT_NEGATIVE, "\"30 mΩ\"");
    static final Kind INDUCTANCE = new Kind(Unit.HENRY, Range.POSITIVE, "\"22 µH\"");
    static final Kind CAPACITANCE = new Kind(Unit.FARAD, Range.POSITIVE, "\"47 µF\"");
    static final Kind FREQUENCY = new Kind(Unit.HERTZ, Range.POSITIVE, "\"300 kHz\"");
    static final Kind DURATION = new Kind(Unit.SECOND, Range.POSITIVE, "\"15 ms\"");
    static final Kind INSTANT = new Kind(Unit.SECOND, Range.NOT_NEGATIVE, "\"5 ms\"");
    static final Kind DUTY_CYCLE = new Kind(Unit.ONE, Range.FRACTION, "0.45");

    /** What is valid, in words that follow "valid: ". */
    String valid() {
        String symbol = unit.symbol();
        return range.words() + (symbol.isEmpty() ? "" : " " + symbol) + ", for example " + example;
    }
}
