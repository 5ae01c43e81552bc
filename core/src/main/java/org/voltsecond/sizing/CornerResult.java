package org.voltsecond.sizing;

import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.figures.Figure;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
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
 * @param efficiency with conduction losses only, from 0 to 1
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
    private static final List<Figure<CornerResult>> FIGURES = List.of(
            figure("input voltage", Unit.VOLT, result -> result.corner().inputVoltage()),
            figure("load current", Unit.AMPERE, result -> result.corner().loadCurrent()),
            figure("duty cycle", Unit.ONE, CornerResult::dutyCycle),
            figure("inductor ripple", Unit.AMPERE, CornerResult::inductorRipple),
            figure("inductor peak", Unit.AMPERE, CornerResult::inductorPeak),
            figure("output ripple", Unit.VOLT, CornerResult::outputRipple),
            figure("efficiency", Unit.ONE, CornerResult::efficiency));

    private static Figure<CornerResult> figure(String words, Unit unit, ToDoubleFunction<CornerResult> value) {
        return Figure.of(
                words.replace(' ', '_'),
                words,
                unit,
                result -> Result.finite(value.applyAsDouble(result), "the source delivers no power"));
    }

    /** {@return what is told of a corner beside its mode of conduction: first the corner itself, then the duty cycle} */
    public static List<Figure<CornerResult>> figures() {
        return FIGURES;
    }

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
