package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CancellationException;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figure;
import org.voltsecond.stage.Topology;
import org.voltsecond.study.MapLine.Spot;
import org.voltsecond.units.CsvText;
import org.voltsecond.units.JsonText;
import org.voltsecond.units.Result;

/**
 * The steady states of a converter over two of its quantities, such as input voltage and load: mode of conduction and
 * figures on a grid, and the boundary of conduction, which is not read off the grid: each of its corners is an exact steady
 * state in which the rectifier current just reaches zero. A point without a steady state keeps the reason. Immutable.
 *
 * <pre>{@code
 * Axis load = Axis.loadCurrent(milli(5), 2, 20); // A
 * Axis line = Axis.inputVoltage(9, 15, 13); // V
 * OperatingMap map = OperatingMap.of(rail, load, line, Figures.usual(), Execution.standard());
 * Conduction light = map.conduction(0, 0).orElseThrow(); // DISCONTINUOUS
 * List<MapLine> boundary = map.boundary();
 * }</pre>
 */
public final class OperatingMap {
    private final MapRequest plan;
    private final List<List<Result<OperatingPoint>>> rows;
    private final List<MapLine> boundary;

    OperatingMap(MapRequest plan, List<List<Result<OperatingPoint>>> rows, List<MapLine> boundary) {
        this.plan = plan;
        this.rows = rows.stream().map(List::copyOf).toList();
        this.boundary = boundary;
    }

    /**
     * Works out a map. One of the simplest stages (see {@link org.voltsecond.converter.StageSampler#isQuickFor}) on axes of the
     * usual kinds, with usual figures, is solved without compiling anything for a point, which takes microseconds. Elsewhere each row starts anew, and within a row each
     * point is sought from the one before it, in tens of microseconds where the devices act in the same order. Either way the map has the same bits on any number of threads.
     *
     * @param converter the converter; the two quantities are changed
     * @param across the quantity from left to right, along a row
     * @param up the quantity from bottom to top, one row for each value
     * @param figures what to find at each point
     * @param execution on how many threads, who is told of it (in rows and in corners of the boundary), and what can cancel
     *     it
     * @return the map
     * @throws CancellationException if it was cancelled
     */
    public static OperatingMap of(
            Converter converter,
            Axis across,
            Axis up,
            List<? extends Figure<ConverterSteadyState>> figures,
            Execution execution) {
        return new MapStudy(new MapRequest(converter, across, up, List.copyOf(figures), Double.NaN)).run(execution);
    }

    /**
     * Works out a map of a stage whose output is held: at each point its duty cycle is the lowest one that gives the wanted
     * mean output voltage, as a slow regulator would set it. A resistor as load is reckoned from the output that is held.
     *
     * @param converter the converter, of fixed duty cycle; the two quantities and the duty cycle are changed
     * @param outputVoltage magnitude of the mean output voltage, V; more than 0
     * @param across the quantity from left to right, along a row
     * @param up the quantity from bottom to top, one row for each value
     * @param figures what to find at each point
     * @param execution on how many threads, who is told of it (in rows and in corners of the boundary), and what can cancel
     *     it
     * @return the map
     * @throws IllegalArgumentException if a regulator drives the converter, or the voltage is not more than 0 V
     * @throws CancellationException if it was cancelled
     */
    public static OperatingMap holding(
            Converter converter,
            double outputVoltage,
            Axis across,
            Axis up,
            List<? extends Figure<ConverterSteadyState>> figures,
            Execution execution) {
        if (!(outputVoltage > 0 && outputVoltage < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "map: the output voltage to hold must be more than 0 V and finite but was " + outputVoltage
                            + " V; give its magnitude for an inverting stage");
        }
        return new MapStudy(new MapRequest(converter, across, up, List.copyOf(figures), outputVoltage)).run(execution);
    }

    /**
     * Returns the quantity from left to right.
     *
     * @return the axis
     */
    public Axis across() {
        return plan.across();
    }

    /**
     * Returns the quantity from bottom to top.
     *
     * @return the axis
     */
    public Axis up() {
        return plan.up();
    }

    /**
     * Returns what was found at each point.
     *
     * @return the figures
     */
    public List<Figure<ConverterSteadyState>> figures() {
        return plan.figures();
    }

    /**
     * Returns how the parts of the converter are arranged.
     *
     * @return the topology
     */
    public Topology topology() {
        return plan.converter().topology();
    }

    /**
     * Returns the output voltage that is held over the whole map.
     *
     * @return its magnitude, V; empty if the drive stays as it is
     */
    public OptionalDouble heldOutput() {
        return plan.holdsOutput() ? OptionalDouble.of(plan.heldOutput()) : OptionalDouble.empty();
    }

    /**
     * Returns what was found at a point.
     *
     * @param i index of its value across
     * @param j index of its value up
     * @return what was found, or why nothing was
     */
    public Result<OperatingPoint> result(int i, int j) {
        return rows.get(j).get(i);
    }

    /**
     * Returns the mode of conduction at a point.
     *
     * @param i index of its value across
     * @param j index of its value up
     * @return the mode; empty if there is no steady state
     */
    public Optional<Conduction> conduction(int i, int j) {
        Result<OperatingPoint> point = result(i, j);
        return point.exists() ? Optional.of(point.get().conduction()) : Optional.empty();
    }

    /**
     * Returns a figure at a point.
     *
     * @param figure one of {@link #figures()}, by its place there
     * @param i index of the value across
     * @param j index of the value up
     * @return the value; not a number if there is no steady state or no such figure of it
     */
    public double value(int figure, int i, int j) {
        return result(i, j).map(point -> point.values().get(figure)).orElse(Double.NaN);
    }

    /**
     * Returns the smallest value of a figure over the map.
     *
     * @param figure one of {@link #figures()}, by its place there
     * @return the value; not a number if no point has one
     */
    public double least(int figure) {
        return values(figure).min().orElse(Double.NaN);
    }

    /**
     * Returns the largest value of a figure over the map.
     *
     * @param figure one of {@link #figures()}, by its place there
     * @return the value; not a number if no point has one
     */
    public double most(int figure) {
        return values(figure).max().orElse(Double.NaN);
    }

    private DoubleStream values(int figure) {
        return rows.stream()
                .flatMap(List::stream)
                .filter(Result::exists)
                .map(Result::get)
                .mapToDouble(point -> point.values().get(figure))
                .filter(value -> !Double.isNaN(value));
    }

    /**
     * Returns how many points have no steady state.
     *
     * @return the number
     */
    public int failures() {
        return (int) rows.stream()
                .flatMap(List::stream)
                .filter(point -> !point.exists())
                .count();
    }

    /**
     * Returns the boundary between continuous and discontinuous conduction.
     *
     * @return lines whose corners, on the lines of the grid, are exact; mostly one
     */
    public List<MapLine> boundary() {
        return boundary;
    }

    /**
     * Returns where a figure has a value, interpolated between the points of the grid.
     *
     * @param figure one of {@link #figures()}, by its place there
     * @param level the value
     * @return the lines
     */
    public List<MapLine> contours(int figure, double level) {
        Axis across = across();
        Axis up = up();
        double[][] values = new double[across.size()][up.size()];
        for (int i = 0; i < across.size(); i++) {
            for (int j = 0; j < up.size(); j++) {
                values[i][j] = value(figure, i, j);
            }
        }
        return new MarchingSquares(values, level).lines(edge -> {
            double from = values[edge.i()][edge.j()];
            double part = (level - from) / (values[edge.endI()][edge.endJ()] - from);
            double x = across.values().get(edge.i());
            double y = up.values().get(edge.j());
            return new Spot(
                    edge.upright() ? x : across.between(x, across.values().get(edge.endI()), part),
                    edge.upright() ? up.between(y, up.values().get(edge.endJ()), part) : y);
        });
    }

    /**
     * Returns the map as a table of comma-separated values, one line for each point, row by row.
     *
     * @return the text; a point without a steady state has empty cells and the reason in its last one
     */
    public String toCsv() {
        Axis across = across();
        Axis up = up();
        List<Figure<ConverterSteadyState>> figures = figures();
        List<String> headings = new ArrayList<>(List.of(across.heading(), up.heading()));
        headings.addAll(OperatingPoint.headings(figures));
        StringBuilder table = new StringBuilder(CsvText.line(headings));
        for (int j = 0; j < up.size(); j++) {
            for (int i = 0; i < across.size(); i++) {
                List<String> cells = new ArrayList<>();
                cells.add(CsvText.number(across.values().get(i)));
                cells.add(CsvText.number(up.values().get(j)));
                cells.addAll(OperatingPoint.cells(result(i, j), figures));
                table.append(CsvText.line(cells));
            }
        }
        return table.toString();
    }

    /**
     * Returns the boundary of conduction as a table of comma-separated values, one line for each corner.
     *
     * @return the text; the first column numbers the lines
     */
    public String boundaryCsv() {
        StringBuilder table = new StringBuilder(CsvText.line(List.of("line", across().heading(), up().heading())));
        for (int k = 0; k < boundary.size(); k++) {
            for (Spot spot : boundary.get(k).spots()) {
                table.append(CsvText.line(
                        List.of(Integer.toString(k + 1), CsvText.number(spot.across()), CsvText.number(spot.up()))));
            }
        }
        return table.toString();
    }

    /**
     * Returns the map as JSON: both axes; mode of conduction, reasons and figures as arrays, row by row from the bottom; and
     * the boundary of conduction as lines of pairs. What does not exist is null, or an empty text.
     *
     * @return the text
     */
    public String toJson() {
        StringBuilder json = new StringBuilder("{\n\"across\": ")
                .append(across().toJson())
                .append(",\n\"up\": ")
                .append(up().toJson())
                .append(",\n\"held_output\": ")
                .append(JsonText.number(plan.heldOutput()))
                .append(",\n")
                .append(PointsJson.of(
                        figures(), rows.stream().flatMap(List::stream).toList()))
                .append(",\n\"boundary\": [");
        for (int k = 0; k < boundary.size(); k++) {
            json.append(k == 0 ? "" : ", ")
                    .append(boundary.get(k).spots().stream()
                            .map(spot -> JsonText.numbers(List.of(spot.across(), spot.up())))
                            .collect(Collectors.joining(", ", "[", "]")));
        }
        return json.append("]\n}\n").toString();
    }

    @Override
    public String toString() {
        return "map over " + across().heading() + " and " + up().heading() + ": "
                + figures().stream().map(Figure::words).collect(Collectors.joining(", "));
    }
}
