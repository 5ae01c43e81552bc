package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.units.CsvText;
import org.voltsecond.units.Result;

/**
 * What was found at one operating point. Immutable.
 *
 * <pre>{@code
 * OperatingMap map = OperatingMap.of(
 *         rail, Axis.dutyCycle(0.3, 0.6, 4), Axis.inputVoltage(9, 15, 3), Figures.usual(), Execution.standard());
 * OperatingPoint point = map.result(3, 0).get(); // a duty cycle of 0.6 from 9 V
 * double first = point.values().get(0); // 5.066 V
 * }</pre>
 *
 * @param conduction the mode of conduction
 * @param margin how far from the boundary of conduction, see {@link ConverterSteadyState#conductionMargin()}
 * @param dutyCycle the duty cycle there, from 0 to 1: the one that holds the output where a map or a regulator does
 * @param values the figures, in the order in which they were asked for
 */
public record OperatingPoint(Conduction conduction, double margin, double dutyCycle, List<Double> values) {
    /**
     * Copies the values.
     *
     * @param conduction the mode of conduction
     * @param margin how far from the boundary of conduction
     * @param dutyCycle the duty cycle there
     * @param values the figures
     */
    public OperatingPoint {
        values = List.copyOf(values);
    }

    static OperatingPoint of(ConverterSteadyState steady, List<? extends Figure<ConverterSteadyState>> figures) {
        return new OperatingPoint(
                steady.conduction(),
                steady.conductionMargin(),
                steady.dutyCycle(),
                figures.stream().map(figure -> figure.in(steady)).toList());
    }

    /** Headings of {@link #cells}. */
    static List<String> headings(List<? extends Figure<ConverterSteadyState>> figures) {
        List<String> headings = new ArrayList<>(List.of("conduction"));
        figures.forEach(figure -> headings.add(CsvText.heading(figure.words(), figure.unit())));
        if (!figures.contains(Figures.DUTY_CYCLE)) {
            headings.add(Figures.DUTY_CYCLE.words());
        }
        headings.add("reason");
        return headings;
    }

    /** Cells of a table: mode of conduction, figures, the duty cycle and, last, the reason why there are none. */
    static List<String> cells(Result<OperatingPoint> result, List<? extends Figure<ConverterSteadyState>> figures) {
        List<String> cells = new ArrayList<>();
        OperatingPoint point = result.exists() ? result.get() : null;
        cells.add(point == null ? "" : point.conduction().name().toLowerCase(Locale.ROOT));
        for (int k = 0; k < figures.size(); k++) {
            cells.add(point == null ? "" : CsvText.number(point.values().get(k)));
        }
        if (!figures.contains(Figures.DUTY_CYCLE)) {
            cells.add(point == null ? "" : CsvText.number(point.dutyCycle()));
        }
        cells.add(CsvText.text(result.reason()));
        return cells;
    }
}
