package org.voltsecond.converter;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;

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
 * @param further in parts that the stage tells beside these, such as a clamp or an input filter, W, by what they are called
 * @param others in every part that has no role of its own, such as a snubber or the parts of an input filter, W
 */
public record StageLosses(
        double transistor,
        double rectifier,
        double inductor,
        double outputCapacitor,
        Map<String, Double> further,
        double others) {
    /**
     * Copies the losses of further parts.
     *
     * @param transistor in the on-resistance of the transistor, and its body diode if it has one, W
     * @param rectifier in the forward drop and resistance of the rectifier, W
     * @param inductor in the series resistance of the inductor, W
     * @param outputCapacitor in the series resistance of the output capacitor, W
     * @param further in parts that the stage tells beside these, W, by what they are called
     * @param others in every part that has no role of its own, W
     */
    public StageLosses {
        further = Collections.unmodifiableMap(new LinkedHashMap<>(further));
    }

    /**
     * Returns all losses together.
     *
     * @return the sum, W
     */
    public double total() {
        double sum = transistor + rectifier + inductor + outputCapacitor + others;
        for (double loss : further.values()) {
            sum += loss;
        }
        return sum;
    }
}
