package org.voltsecond.study;

import java.util.List;

/**
 * The lowest and the highest value of a figure while every part lies within its tolerance, and where each is taken. Each
 * is the figure of an exact steady state: the corners of the tolerances are run, and from the worst of them, and from the
 * worst designs that were drawn, a search looks along every value, and along pairs, for something worse in between. That is
 * no proof, which only a formula of the figure could give, but what holds where figures rise and fall throughout, and where
 * they have one top. Immutable.
 *
 * <pre>{@code
 * StageFigure output = Figures.OUTPUT_VOLTAGE;
 * List<Tolerance> tolerances = List.of(Tolerance.relative(rail, StageValue.INPUT_VOLTAGE, 0.05));
 * ToleranceTable table = ToleranceStudy.of(rail, tolerances, List.of(output)).run(1000, 1, Execution.standard());
 * WorstCase worst = table.rows().get(0).worstCase();
 * double lowest = worst.lowest(); // 4.763 V
 * double input = worst.lowestAt().get(0); // 11.40 V
 * }</pre>
 *
 * @param lowest the lowest value, in the unit of the figure; not a number where no design has the figure
 * @param lowestAt the values of the parts there, in the order of the tolerances
 * @param highest the highest value
 * @param highestAt the values of the parts there
 * @param unreached how many of the corners that were run have no steady state
 */
public record WorstCase(double lowest, List<Double> lowestAt, double highest, List<Double> highestAt, int unreached) {
    /**
     * Makes the lists unmodifiable.
     *
     * @param lowest the lowest value
     * @param lowestAt the values of the parts there
     * @param highest the highest value
     * @param highestAt the values of the parts there
     * @param unreached how many of the corners that were run have no steady state
     */
    public WorstCase {
        lowestAt = List.copyOf(lowestAt);
        highestAt = List.copyOf(highestAt);
    }

    /**
     * Returns how far the figure can lie from a value.
     *
     * @param nominal the value, in the unit of the figure
     * @return the larger of the two distances, 0 or more
     */
    public double farthestFrom(double nominal) {
        return Math.max(highest - nominal, nominal - lowest);
    }
}
