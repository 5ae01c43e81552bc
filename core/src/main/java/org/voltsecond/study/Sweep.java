package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CancellationException;
import java.util.stream.Collectors;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figure;
import org.voltsecond.units.CsvText;
import org.voltsecond.units.Result;

/**
 * The steady states of a converter over one of its quantities, such as the efficiency over the load. Each is found by
 * itself, so that the bits are the same on any number of threads. Immutable.
 *
 * <pre>{@code
 * Sweep sweep = Sweep.of(
 *         rail, Axis.loadResistance(1, 100, 21), Figures.usual(), Execution.standard()); // ohm
 * double[] ohms = sweep.xs();
 * double[] firstFigure = sweep.ys(0);
 * String table = sweep.toCsv();
 * }</pre>
 */
public final class Sweep {
    private final Axis over;
    private final List<Figure<ConverterSteadyState>> figures;
    private final List<Result<OperatingPoint>> results;

    private Sweep(Axis over, List<Figure<ConverterSteadyState>> figures, List<Result<OperatingPoint>> results) {
        this.over = over;
        this.figures = figures;
        this.results = results;
    }

    /**
     * Works out a sweep.
     *
     * @param converter the converter; the quantity is changed
     * @param over the quantity
     * @param figures what to find at each value
     * @param execution on how many threads, who is told of it, and what can cancel it
     * @return the sweep
     * @throws CancellationException if it was cancelled
     */
    public static Sweep of(
            Converter converter, Axis over, List<? extends Figure<ConverterSteadyState>> figures, Execution execution) {
        List<Figure<ConverterSteadyState>> wanted = List.copyOf(figures);
        Axis held = over.heldAt(converter, Double.NaN);
        StudyResults<Double, OperatingPoint> results = Study.of(
                        over.values(),
                        (Double value) ->
                                OperatingPoint.of(held.set(converter, value).steadyState(), wanted))
                .run(execution)
                .complete();
        return new Sweep(over, wanted, results.results());
    }

    /**
     * Returns the quantity.
     *
     * @return the axis
     */
    public Axis over() {
        return over;
    }

    /**
     * Returns what was found at each value.
     *
     * @return the figures
     */
    public List<Figure<ConverterSteadyState>> figures() {
        return figures;
    }

    /**
     * Returns what was found at each value.
     *
     * @return what was found, or why nothing was, in the order of the axis
     */
    public List<Result<OperatingPoint>> results() {
        return results;
    }

    /**
     * Returns the values of the quantity, ready for a chart.
     *
     * @return the values, a new array
     */
    public double[] xs() {
        return over.values().stream().mapToDouble(Double::doubleValue).toArray();
    }

    /**
     * Returns the values of a figure, ready for a chart.
     *
     * @param figure one of {@link #figures()}, by its place there
     * @return the values, a new array; not a number where nothing was found
     */
    public double[] ys(int figure) {
        return results.stream()
                .mapToDouble(
                        each -> each.map(point -> point.values().get(figure)).orElse(Double.NaN))
                .toArray();
    }

    /**
     * Returns the sweep as a table of comma-separated values, one line for each value of the quantity.
     *
     * @return the text; a value without a steady state has empty cells and the reason in its last one
     */
    public String toCsv() {
        List<String> headings = new ArrayList<>(List.of(over.heading()));
        headings.addAll(OperatingPoint.headings(figures));
        StringBuilder table = new StringBuilder(CsvText.line(headings));
        for (int i = 0; i < over.size(); i++) {
            List<String> cells =
                    new ArrayList<>(List.of(CsvText.number(over.values().get(i))));
            cells.addAll(OperatingPoint.cells(results.get(i), figures));
            table.append(CsvText.line(cells));
        }
        return table.toString();
    }

    /**
     * Returns the sweep as JSON: the quantity; mode of conduction, reasons and figures as arrays in its order. What does not
     * exist is null, or an empty text.
     *
     * @return the text
     */
    public String toJson() {
        return "{\n\"over\": " + over.toJson() + ",\n" + PointsJson.of(figures, results) + "\n}\n";
    }

    @Override
    public String toString() {
        return "sweep over " + over.heading() + ": "
                + figures.stream().map(Figure::words).collect(Collectors.joining(", "));
    }
}
