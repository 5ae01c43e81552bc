package org.voltsecond.bench;

import java.util.OptionalDouble;

/**
 * What a comparison of a capture with a run compares, of either side, over the time that both have.
 *
 * <pre>{@code
 * RunFigures measured = TransientComparison.of(
 *                 Capture.sampled("channel 1", Unit.VOLT, 0, nano(10), samples), start.of(rail.switchNode()))
 *         .measured();
 * double ripple = measured.highest() - measured.lowest();
 * }</pre>
 *
 * @param mean mean, in the unit of the signal
 * @param lowest lowest value; of a capture its noise included
 * @param highest highest value; of a capture its noise included
 * @param frequency rising edges per second, Hz; empty for a signal without edges, or where their distances differ by more
 *     than a quarter
 * @param dutyFactor share of the time above the middle between the two levels, from the first rising edge to the last, 0 to
 *     1; empty where there is no frequency
 */
public record RunFigures(
        double mean, double lowest, double highest, OptionalDouble frequency, OptionalDouble dutyFactor) {
    static RunFigures of(double mean, double lowest, double highest, boolean byEdges, CaptureEdges edges) {
        boolean regular = byEdges && edges.regular();
        return new RunFigures(
                mean,
                lowest,
                highest,
                regular ? OptionalDouble.of(1 / edges.fit()[0]) : OptionalDouble.empty(),
                regular ? OptionalDouble.of(edges.dutyFactor()) : OptionalDouble.empty());
    }

    /** {@return the distance from the lowest to the highest value} */
    public double ripple() {
        return highest - lowest;
    }
}
