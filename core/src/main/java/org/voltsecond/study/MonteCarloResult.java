package org.voltsecond.study;

import java.util.Arrays;
import java.util.List;
import org.voltsecond.figures.StageFigure;

/**
 * The figures of many designs drawn at random, those that failed beside them. Immutable.
 *
 * <pre>{@code
 * StageFigure ripple = StageFigure.of(StageMeasurement.Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE);
 * Tolerance resistance = Tolerance.relative(rail, StageValue.CAPACITOR_RESISTANCE, 0.3);
 * MonteCarloResult result = MonteCarlo.of(rail, List.of(resistance), List.of(ripple), 7).run(500);
 * double[] each = result.of(ripple); // V, one for each design
 * double mean = result.spread(ripple).mean(); // 4.420 mV
 * }</pre>
 */
public final class MonteCarloResult {
    private final List<StageFigure> figures;
    private final double[] values;
    private final List<Failure> failures;

    /**
     * A design without a steady state, or with a value that no part can have.
     *
     * @param design its number, from 0
     * @param reason why it failed
     */
    public record Failure(int design, String reason) {}

    MonteCarloResult(List<StageFigure> figures, double[] values, List<Failure> failures) {
        this.figures = figures;
        this.values = values;
        this.failures = List.copyOf(failures);
    }

    /**
     * Returns what was measured.
     *
     * @return the figures
     */
    public List<StageFigure> figures() {
        return figures;
    }

    /**
     * Returns how many designs were drawn.
     *
     * @return the number, failures included
     */
    public int designs() {
        return values.length / figures.size();
    }

    /**
     * Returns the designs that failed.
     *
     * @return in the order of their numbers
     */
    public List<Failure> failures() {
        return failures;
    }

    /**
     * Returns a figure of every design.
     *
     * @param figure one of {@link #figures()}
     * @return one for each design, not a number where it failed; a new array
     * @throws IllegalArgumentException if the figure was not measured
     */
    public double[] of(StageFigure figure) {
        int at = figures.indexOf(figure);
        if (at < 0) {
            throw new IllegalArgumentException("the figure " + figure + " was not measured; measured were " + figures);
        }
        double[] column = new double[designs()];
        for (int k = 0; k < column.length; k++) {
            column[k] = values[k * figures.size() + at];
        }
        return column;
    }

    /**
     * Returns how a figure is spread over the designs that did not fail.
     *
     * @param figure one of {@link #figures()}
     * @return its spread
     * @throws IllegalArgumentException if the figure was not measured
     */
    public Spread spread(StageFigure figure) {
        double[] sound =
                Arrays.stream(of(figure)).filter(value -> !Double.isNaN(value)).toArray();
        if (sound.length == 0) {
            return new Spread(Double.NaN, Double.NaN, Double.NaN, Double.NaN);
        }
        double mean = sum(sound, 0, 1) / sound.length;
        double deviation = sound.length < 2 ? 0 : Math.sqrt(sum(sound, mean, 2) / (sound.length - 1));
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (double value : sound) {
            least = Math.min(least, value);
            most = Math.max(most, value);
        }
        return new Spread(mean, deviation, least, most);
    }

    private static double sum(double[] values, double centre, int power) {
        double sum = 0;
        for (double value : values) {
            double distance = value - centre;
            sum += power == 1 ? distance : distance * distance;
        }
        return sum;
    }

    /**
     * How a figure is spread.
     *
     * @param mean mean of the designs
     * @param standardDeviation of the designs, with one degree of freedom taken by the mean
     * @param minimum smallest that occurred
     * @param maximum largest that occurred
     */
    public record Spread(double mean, double standardDeviation, double minimum, double maximum) {}
}
