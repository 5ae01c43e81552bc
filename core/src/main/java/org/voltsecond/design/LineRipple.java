package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A sine on top of the input voltage.
 *
 * @param amplitude from the middle to the crest, V; 0 or more, 0 for none
 * @param frequency Hz; more than 0
 */
public record LineRipple(double amplitude, double frequency) {
    /** No ripple. */
    static final LineRipple NONE = new LineRipple(0, 1);

    /** Reads the key ripple of an input; null if it is not there, or after a fault. */
    static @Nullable LineRipple read(Section input) {
        Section table = input.table("ripple");
        if (table == null) {
            return null;
        }
        double amplitude = table.quantity("amplitude", Kind.RIPPLE_AMPLITUDE);
        double frequency = table.quantity("frequency", Kind.RIPPLE_FREQUENCY);
        table.finish();
        boolean valid = Kind.RIPPLE_AMPLITUDE.range().contains(amplitude)
                && Kind.RIPPLE_FREQUENCY.range().contains(frequency);
        return valid ? new LineRipple(amplitude, frequency) : null;
    }

    /** Tells of a ripple that would take the input to 0 V or below. */
    void check(Section input, double voltage) {
        if (amplitude >= voltage) {
            input.fault(
                    "ripple",
                    "its amplitude of " + Quantity.brief(amplitude, Unit.VOLT) + " takes the input of "
                            + Quantity.brief(voltage, Unit.VOLT) + " to 0 V or below; valid: less than the voltage");
        }
    }
}
