package org.voltsecond.sizing;

import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * An operating point at which a proposal is checked.
 *
 * <pre>{@code
 * Corner worst = new Corner(15, 2); // V, A
 * Converter converter = proposal.converter(worst);
 * double ripple = converter.steadyState().of(converter.inductorCurrent()).peakToPeak(); // 0.506 A
 * }</pre>
 *
 * @param inputVoltage V
 * @param loadCurrent mean, A
 */
public record Corner(double inputVoltage, double loadCurrent) {
    @Override
    public String toString() {
        return Quantity.format(inputVoltage, Unit.VOLT, 4) + " in, " + Quantity.format(loadCurrent, Unit.AMPERE, 4)
                + " out";
    }
}
