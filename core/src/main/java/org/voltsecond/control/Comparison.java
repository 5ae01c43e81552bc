package org.voltsecond.control;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What a regulator compares to make its pulses, in words: the trade calls one and the same input of the comparator a ramp in
 * voltage mode and the sensed current in current mode. Immutable.
 *
 * <pre>{@code
 * Comparison comparison = VoltageMode.of(kilo(300), 1, 0.2, Compensator.proportional(8)).comparison();
 * System.out.println(comparison.control() + " against " + comparison.compared()); // control voltage against ramp
 * }</pre>
 *
 * @param control what the control path makes
 * @param controlUnit its unit
 * @param compared what it is compared with; empty where it is compared with zero
 * @param comparedUnit the unit of that; where it is not that of the control, a sample of the control made it
 * @param band distance of the two thresholds between which it may move freely, in the unit of the control; 0 for one threshold
 */
public record Comparison(String control, Unit controlUnit, String compared, Unit comparedUnit, double band) {
    private static final int DIGITS = 3;

    static final Comparison WITH_RAMP = new Comparison("control voltage", Unit.VOLT, "ramp", Unit.VOLT, 0);

    /** The inductor current, as a voltage by the sense factor, or as it is where a current is commanded. */
    static Comparison ofCurrent(String compared, double sense, boolean commanded, double band) {
        return commanded
                ? new Comparison("current command", Unit.AMPERE, compared, Unit.AMPERE, band)
                : new Comparison(
                        "control voltage",
                        Unit.VOLT,
                        compared + ", at " + Quantity.format(sense, Unit.VOLT_PER_AMPERE, DIGITS),
                        Unit.VOLT,
                        sense * band);
    }

    /** The error against zero, or against both edges of a band around it. */
    static Comparison ofError(double band) {
        return new Comparison("reference less sensed voltage", Unit.VOLT, "", Unit.VOLT, band);
    }
}
