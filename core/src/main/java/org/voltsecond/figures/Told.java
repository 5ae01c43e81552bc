package org.voltsecond.figures;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * How numbers are told: what is round-off is 0.
 *
 * <pre>{@code
 * double lowest = Told.number(-8.9e-16, steady.of(rail.inductorCurrent())); // 0 A, beside a peak of 2.24 A
 * String text = Told.quantity(2.3e-15, Unit.VOLT, 4); // "0 V"
 * }</pre>
 */
public final class Told {
    /** A number below this part of the largest figure of its signal is round-off: some units in the last place of that. */
    private static final double SHARE = 1e-15;

    /** Below this no voltage, current, power or time of a converter is more than round-off. A choice. */
    private static final double LEAST = 1e-14;

    private Told() {}

    /**
     * Returns a number, or 0 where it is round-off.
     *
     * @param value the number
     * @param largest the largest of its kind, in the same unit
     * @return the number or 0
     */
    public static double number(double value, double largest) {
        return Math.abs(value) < SHARE * Math.abs(largest) ? 0 : value;
    }

    /**
     * Returns a figure of a waveform, or 0 where it is round-off.
     *
     * @param value the figure
     * @param waveform what it is a figure of
     * @return the figure or 0
     */
    public static double number(double value, Waveform waveform) {
        return number(value, Math.max(Math.abs(waveform.minimum()), Math.abs(waveform.maximum())));
    }

    /**
     * Writes a number with its unit for a table.
     *
     * @param value the number
     * @param unit its unit
     * @param digits how many
     * @return for example "4.403 mV"
     */
    public static String quantity(double value, Unit unit, int digits) {
        return Quantity.format(Math.abs(value) < LEAST ? 0 : value, unit, digits);
    }
}
