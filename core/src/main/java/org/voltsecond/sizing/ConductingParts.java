package org.voltsecond.sizing;

/**
 * What the parts of a stage drop while they conduct.
 *
 * <pre>{@code
 * ConductingParts synchronous = new ConductingParts(milli(20), milli(30), true, 0, milli(20)); // ohm, and no drop of a diode
 * }</pre>
 *
 * @param onResistance of the transistor, Ω; 0 or more
 * @param inductorResistance series resistance of the inductor, Ω; 0 or more
 * @param synchronous true for a second transistor as rectifier, false for a diode
 * @param forwardDrop of the diode, V; 0 or more, and 0 for a synchronous rectifier
 * @param rectifierResistance slope resistance of the diode or on-resistance of the second transistor, Ω; 0 or more
 * @param transistorDrop forward drop of the transistor, V; 0 or more
 */
public record ConductingParts(
        double onResistance,
        double inductorResistance,
        boolean synchronous,
        double forwardDrop,
        double rectifierResistance,
        double transistorDrop) {
    /** Parts that drop nothing, with a diode. */
    public static final ConductingParts IDEAL = new ConductingParts(0, 0, false, 0, 0);

    /**
     * Parts with a transistor that has no forward drop.
     *
     * @param onResistance of the transistor, Ω; 0 or more
     * @param inductorResistance series resistance of the inductor, Ω; 0 or more
     * @param synchronous true for a second transistor as rectifier, false for a diode
     * @param forwardDrop of the diode, V; 0 or more, and 0 for a synchronous rectifier
     * @param rectifierResistance slope resistance of the diode or on-resistance of the second transistor, Ω; 0 or more
     */
    public ConductingParts(
            double onResistance,
            double inductorResistance,
            boolean synchronous,
            double forwardDrop,
            double rectifierResistance) {
        this(onResistance, inductorResistance, synchronous, forwardDrop, rectifierResistance, 0);
    }

    /** In the on interval, with the inductor's own resistance, V. */
    double onDrop(double inductorCurrent) {
        return transistorDrop + (onResistance + inductorResistance) * inductorCurrent;
    }

    /** In the off interval, with the inductor's own resistance, V. */
    double offDrop(double inductorCurrent) {
        return forwardDrop + (rectifierResistance + inductorResistance) * inductorCurrent;
    }
}
