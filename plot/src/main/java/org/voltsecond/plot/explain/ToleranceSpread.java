package org.voltsecond.plot.explain;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageSensitivities;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.plot.BarBuilder;
import org.voltsecond.plot.LineBuilder;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MonteCarlo;
import org.voltsecond.study.Tolerance;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * How a figure is spread over random designs, against limits, and which tolerance contributes most: the derivative of the figure by each
 * value times the half width of its tolerance. Immutable.
 *
 * <pre>{@code
 * List<Tolerance> tolerances = List.of(
 *         Tolerance.relative(rail, StageValue.INPUT_VOLTAGE, 0.05), Tolerance.relative(rail, StageValue.DUTY_CYCLE, 0.01));
 * ToleranceSpread spread = ToleranceSpread.of(rail, tolerances, Figures.OUTPUT_VOLTAGE, 4.8, 5.25, 2000, 1);
 * String most = spread.contributions().get(0).value(); // "input voltage"
 * double outside = spread.outside(); // 14.4 %
 * spread.histogram("Output of 2000 logic rails").writePng(folder.resolve("output-histogram.png"));
 * spread.bars("What moves the output of the logic rail").writePng(folder.resolve("output-contributions.png"));
 * }</pre>
 *
 * @param figure the figure
 * @param nominal its value where all values are nominal
 * @param lowest the limit below, in the unit of the figure; not a number for none
 * @param highest the limit above, in the unit of the figure; not a number for none
 * @param bins equally wide, from the smallest value that occurred to the largest
 * @param outside share of the designs beyond a limit, from 0 to 1
 * @param contributions from the largest to the smallest
 */
public record ToleranceSpread(
        StageFigure figure,
        double nominal,
        double lowest,
        double highest,
        List<Bin> bins,
        double outside,
        List<Contribution> contributions) {
    private static final int DIGITS = 4;

    /** Of so many bins the shape is seen, and each of a thousand designs still holds some. */
    private static final int BINS = 30;

    /**
     * Some designs.
     *
     * @param from lowest value, in the unit of the figure
     * @param to highest value
     * @param designs how many lie there
     */
    public record Bin(double from, double to, int designs) {}

    /**
     * What one tolerance does, to first order.
     *
     * @param value the value that has it
     * @param halfWidth by how much it may differ, in its own unit
     * @param change by how much the figure differs then, with its sign, in the unit of the figure
     */
    public record Contribution(String value, double halfWidth, double change) {}

    /**
     * Makes the lists unmodifiable.
     *
     * @param figure the figure
     * @param nominal its nominal value
     * @param lowest the limit below
     * @param highest the limit above
     * @param bins equally wide
     * @param outside share of the designs beyond a limit
     * @param contributions from the largest to the smallest
     */
    public ToleranceSpread {
        bins = List.copyOf(bins);
        contributions = List.copyOf(contributions);
    }

    /**
     * Draws designs.
     *
     * @param converter the nominal design
     * @param tolerances the tolerances of its values
     * @param figure what is looked at
     * @param lowest its limit below, in its unit; not a number for none
     * @param highest its limit above; not a number for none
     * @param designs how many designs, at least 2
     * @param seed chooses them
     * @return the spread
     * @throws IllegalArgumentException if there are less than two designs with a steady state, or all of them are alike
     */
    public static ToleranceSpread of(
            Converter converter,
            List<Tolerance> tolerances,
            StageFigure figure,
            double lowest,
            double highest,
            int designs,
            long seed) {
        double[] values = Arrays.stream(MonteCarlo.of(converter, tolerances, List.of(figure), seed)
                        .run(designs, Execution.standard())
                        .of(figure))
                .filter(Double::isFinite)
                .sorted()
                .toArray();
        if (values.length < 2 || !(values[0] < values[values.length - 1])) {
            throw new IllegalArgumentException("a histogram needs at least two designs that differ in the " + figure
                    + " but " + values.length + " of " + designs + " have a value");
        }
        long beyond = Arrays.stream(values)
                .filter(value -> value < lowest || value > highest)
                .count();
        var steady = converter.steadyState();
        StageSensitivities.OfFigure slopes = steady.sensitivities().of(figure.measurement());
        List<Contribution> contributions = tolerances.stream()
                .map(tolerance -> new Contribution(
                        tolerance.value().toString(),
                        tolerance.halfWidth(),
                        slopes.withRespectTo(tolerance.value()) * tolerance.halfWidth()))
                .sorted(Comparator.comparingDouble((Contribution each) -> -Math.abs(each.change)))
                .toList();
        return new ToleranceSpread(
                figure,
                figure.in(steady),
                lowest,
                highest,
                bins(values),
                (double) beyond / values.length,
                contributions);
    }

    private static List<Bin> bins(double[] sorted) {
        double from = sorted[0];
        double width = (sorted[sorted.length - 1] - from) / BINS;
        int[] counts = new int[BINS];
        for (double value : sorted) {
            counts[Math.min(BINS - 1, (int) ((value - from) / width))]++;
        }
        List<Bin> bins = new ArrayList<>();
        for (int k = 0; k < BINS; k++) {
            bins.add(new Bin(from + k * width, from + (k + 1) * width, counts[k]));
        }
        return bins;
    }

    /**
     * Draws how many designs lie where, with the limits and the nominal value.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture histogram(String title) {
        int tallest = bins.stream().mapToInt(Bin::designs).max().orElse(1);
        int designs = bins.stream().mapToInt(Bin::designs).sum();
        double[][] steps = steps();
        LineBuilder lines = Pictures.lines(title)
                .subtitle(designs + " random designs"
                        + (Double.isNaN(lowest) && Double.isNaN(highest)
                                ? ""
                                : ", " + Quantity.format(100 * outside, Unit.ONE, 3) + " % beyond a limit"))
                .x(capital(figure.words()), figure.unit())
                .y("Designs", Unit.ONE)
                .yRange(0, 1.2 * tallest)
                .line("designs", steps[0], steps[1]);
        upright(lines, "nominal", nominal, tallest);
        upright(lines, "limit below", lowest, tallest);
        upright(lines, "limit above", highest, tallest);
        return lines.build();
    }

    private void upright(LineBuilder lines, String what, double at, double height) {
        if (!Double.isNaN(at)) {
            lines.line(
                    what + ", " + Quantity.format(at, figure.unit(), DIGITS),
                    new double[] {at, Math.nextUp(at)},
                    new double[] {0, 1.1 * height});
        }
    }

    /** The corners of the outline. */
    private double[][] steps() {
        double[] xs = new double[2 * bins.size() + 2];
        double[] ys = new double[xs.length];
        xs[0] = bins.get(0).from;
        for (int k = 0; k < bins.size(); k++) {
            // a step is two places of which the second comes next
            xs[2 * k + 1] = Math.nextUp(bins.get(k).from);
            xs[2 * k + 2] = bins.get(k).to;
            ys[2 * k + 1] = bins.get(k).designs;
            ys[2 * k + 2] = bins.get(k).designs;
        }
        xs[xs.length - 1] = Math.nextUp(xs[xs.length - 2]);
        return new double[][] {xs, ys};
    }

    private static String capital(String words) {
        return Character.toUpperCase(words.charAt(0)) + words.substring(1);
    }

    /**
     * Draws what each tolerance contributes, whatever its sign.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture bars(String title) {
        BarBuilder bars = Pictures.bars(title, "change of the " + figure.words(), figure.unit())
                .subtitle(
                        "derivative times half width of each tolerance, first order; in brackets where a higher value lowers the figure");
        for (Contribution each : contributions) {
            bars.bar(each.change < 0 ? "(" + each.value + ")" : each.value, Math.abs(each.change));
        }
        return bars.build();
    }
}
