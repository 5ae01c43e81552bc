package org.voltsecond.converter;

/**
 * Where a converter turns power into heat, as means over a period.
 *
 * <pre>{@code
 * StageLosses losses = steady.losses();
 * double diode = losses.rectifier(); // 486.8 mW
 * double all = losses.total(); // 754.8 mW
 * }</pre>
 *
 * @param transistor in the on-resistance of the transistor, and its body diode if it has one, W
 * @param rectifier in the forward drop and resistance of the rectifier, W
 * @param inductor in the series resistance of the inductor, W
 * @param outputCapacitor in the series resistance of the output capacitor, W
 * @param others in every part that has no role of its own, such as a snubber or the parts of an input filter, W
 */
public record StageLosses(double transistor, double rectifier, double inductor, double outputCapacitor, double others) {
    /**
     * Returns all losses together.
     *
     * @return the sum, W
     */
    public double total() {
        return transistor + rectifier + inductor + outputCapacitor + others;
    }
}
