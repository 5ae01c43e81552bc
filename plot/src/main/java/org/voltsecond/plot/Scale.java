package org.voltsecond.plot;

import org.voltsecond.units.Prefix;
import org.voltsecond.units.Unit;

/**
 * The unit with prefix in which an axis is drawn, so that its numbers stay short.
 *
 * @param unit the unit without prefix
 * @param prefix its prefix
 */
record Scale(Unit unit, Prefix prefix) {
    static Scale of(Unit unit, double largest) {
        return new Scale(unit, unit.takesPrefix() ? Prefix.of(largest) : Prefix.NONE);
    }

    double in(double value) {
        return prefix.in(value);
    }

    /** For example "µs"; empty for a plain number. */
    String symbol() {
        return prefix.symbol() + unit.symbol();
    }
}
