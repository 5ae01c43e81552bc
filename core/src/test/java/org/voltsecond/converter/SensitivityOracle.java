package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.waveform.Waveform;

/** Derivatives by central differences of the exact solver, with an estimate of their own accuracy. */
final class SensitivityOracle {
    private static final int STEPS = 6;

    private final List<ConverterSteadyState> above = new ArrayList<>();
    private final List<ConverterSteadyState> below = new ArrayList<>();
    private final double step;

    /** Steady states at both sides of the nominal value, each pair half as far as the one before. */
    SensitivityOracle(ConverterSteadyState middle, StageValue value, double step) {
        Converter converter = middle.converter();
        this.step = step;
        double nominal = value.in(converter);
        double h = step;
        for (int k = 0; k < STEPS; k++) {
            above.add(value.set(converter, nominal + h).steadyStateNear(middle));
            below.add(value.set(converter, nominal - h).steadyStateNear(middle));
            h /= 2;
        }
    }

    /**
     * Holds every figure's derivative by every value of a converter against differences, to their own accuracy.
     *
     * @param share first step, of the nominal value
     * @param roundOff of the derivatives themselves, of their size
     * @param leastExact how exact the least exact difference must be itself
     */
    static void hold(ConverterSteadyState steady, double share, double roundOff, double leastExact) {
        Converter converter = steady.converter();
        StageSensitivities exact = steady.sensitivities();
        double worst = 0;
        for (StageValue value : StageValue.of(converter)) {
            double nominal = value.in(converter);
            SensitivityOracle oracle = new SensitivityOracle(steady, value, share * nominal);
            for (StageMeasurement figure : SensitivityTest.allFigures()) {
                Difference difference = oracle.of(figure);
                double derivative = exact.of(figure).withRespectTo(value);
                double size = size(steady, figure) / nominal + Math.abs(derivative);
                worst = Math.max(worst, size == 0 ? 0 : difference.accuracy() / size);
                assertThat(derivative)
                        .as("%s by %s of %s (accuracy %s)", figure, value, converter, difference.accuracy())
                        .isCloseTo(difference.derivative(), within(10 * difference.accuracy() + roundOff * size));
            }
        }
        assertThat(worst).as("how exact the differences are themselves").isLessThan(leastExact);
    }

    /** A derivative and how exact it is. */
    record Difference(double derivative, double accuracy) {}

    /** Whether the same intervals follow each other at all of the values, so that a derivative exists. */
    boolean isSmooth() {
        return above.get(0).conduction() == below.get(0).conduction()
                && above.get(0).periodic().trajectory().size()
                        == below.get(0).periodic().trajectory().size();
    }

    /**
     * Central differences with halved steps, extrapolated (L. F. Richardson, 1911: the error of a central difference is a
     * series in the even powers of the step); of all extrapolations the one that agrees best with its predecessors, and
     * that disagreement as its accuracy. Round-off of the figure, taken as 1e-13 of the signal's largest value, counts too.
     */
    Difference of(StageMeasurement figure) {
        double[][] table = new double[STEPS][STEPS];
        Difference best = new Difference(Double.NaN, Double.POSITIVE_INFINITY);
        double size = size(above.get(STEPS - 1), figure);
        double h = step;
        for (int k = 0; k < STEPS; k++) {
            table[k][0] = (figure.in(above.get(k)) - figure.in(below.get(k))) / (2 * h);
            double power = 1;
            for (int j = 1; j <= k; j++) {
                power *= 4;
                table[k][j] = table[k][j - 1] + (table[k][j - 1] - table[k - 1][j - 1]) / (power - 1);
                double last = Math.abs(table[k][j] - table[k][j - 1]);
                double error = Math.max(last, Math.abs(table[k][j] - table[k - 1][j - 1])) + 2e-13 * size / h;
                if (error < best.accuracy()) {
                    best = new Difference(table[k][j], error);
                }
            }
            h /= 2;
        }
        return best;
    }

    /** The largest value of what is measured: even a mean of zero has the round-off of the signal. */
    static double size(ConverterSteadyState steady, StageMeasurement figure) {
        StageSignal signal = figure.signal();
        if (signal == null) {
            return Math.abs(figure.in(steady));
        }
        Waveform waveform = steady.of(signal.of(steady.converter()));
        return Math.max(Math.abs(waveform.maximum()), Math.abs(waveform.minimum()));
    }
}
