package org.voltsecond.sizing;

import java.util.Locale;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The exact steady state at a corner, with the duty cycle that gives the wanted output.
 *
 * <pre>{@code
 * for (CornerResult result : proposal.check().results()) {
 *     System.out.println(result.corner() + ": " + result.dutyCycle() + ", " + result.conduction());
 * }
 * }</pre>
 *
 * @param corner the operating point
 * @param dutyCycle the duty cycle found
 * @param onTime s
 * @param conduction mode of conduction
 * @param inductorCurrent mean, A
 * @param inductorRipple peak to peak, A
 * @param inductorPeak highest inductor current, A
 * @param outputRipple peak to peak, V
 * @param efficiency with conduction losses alone, from 0 to 1
 */
public record CornerResult(
        Corner corner,
        double dutyCycle,
        double onTime,
        Conduction conduction,
        double inductorCurrent,
        double inductorRipple,
        double inductorPeak,
        double outputRipple,
        double efficiency) {
    @Override
    public String toString() {
        return corner + ": duty cycle " + percent(dutyCycle) + ", "
                + conduction.toString().toLowerCase(Locale.ROOT)
                + ", inductor ripple " + Quantity.format(inductorRipple, Unit.AMPERE, 4) + " and peak "
                + Quantity.format(inductorPeak, Unit.AMPERE, 4) + ", output ripple "
                + Quantity.format(outputRipple, Unit.VOLT, 4) + ", efficiency " + percent(efficiency);
    }

    private static String percent(double share) {
        return Quantity.format(100 * share, Unit.ONE, 4) + " %";
    }
}
