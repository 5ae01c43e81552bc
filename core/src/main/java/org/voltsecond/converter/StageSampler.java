package org.voltsecond.converter;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;

/**
 * Figures of the steady states of one stage at very many values, each exact to round-off. A stage whose events follow in
 * the usual order is solved without compiling its circuit; what is not certain to be usual, and every stage with a
 * regulator, is left to the engine as by {@link Converter#steadyState()}, so that the figures are the same wherever both can
 * be had. One instance serves one thread; what it says depends on nothing but the values asked for.
 */
public final class StageSampler {
    private final Converter converter;
    private final List<StageFigure> figures;
    private final double[] nominal;
    private final @Nullable ConverterSteadyState steady;
    /** Solves a stage of fixed duty cycle; null where a regulator drives it. */
    private final @Nullable KernelFigures reader;

    private long leftToEngine;

    private StageSampler(Converter converter, List<StageFigure> figures, @Nullable ConverterSteadyState steady) {
        this.converter = converter;
        this.figures = List.copyOf(figures);
        this.steady = steady;
        double[] orbit = steady == null ? null : steady.periodic().state();
        reader = converter.isRegulated() ? null : new KernelFigures(StageKernel.like(converter, orbit));
        nominal = new double[StageValue.values().length];
        for (StageValue value : StageValue.of(converter)) {
            nominal[value.index()] = value.in(converter);
        }
    }

    /**
     * Prepares a sampler.
     *
     * @param converter the stage at its nominal values
     * @param figures what to measure, in the order of the results
     * @return a sampler
     */
    public static StageSampler of(Converter converter, List<StageFigure> figures) {
        ConverterSteadyState steady;
        try {
            steady = converter.steadyState();
        } catch (NoSteadyStateException e) {
            // the nominal stage is only a guess; each design tells for itself what is wrong with it
            steady = null;
        }
        return new StageSampler(converter, figures, steady);
    }

    /**
     * Returns the nominal values.
     *
     * @return one for each {@link StageValue} by its {@link StageValue#index()}, 0 where the stage has no such value; a new array
     */
    public double[] nominal() {
        return nominal.clone();
    }

    /**
     * Measures the steady state of the stage at other values.
     *
     * @param values one for each {@link StageValue} by its {@link StageValue#index()}, in its unit; those that the stage has not are not read
     * @param into takes the figures, in the order in which they were asked for
     * @throws InvalidStageException if a value is out of its range
     * @throws NoSteadyStateException if there is no steady state
     */
    public void measure(double[] values, double[] into) {
        if (reader != null && reader.solve(values)) {
            for (int k = 0; k < into.length; k++) {
                into[k] = reader.of(figures.get(k));
            }
            return;
        }
        leftToEngine++;
        Converter changed = changed(values);
        boolean near = steady != null && converter.isRegulated();
        ConverterSteadyState found = near ? changed.steadyStateNear(steady) : changed.steadyState();
        for (int k = 0; k < into.length; k++) {
            into[k] = figures.get(k).in(found);
        }
    }

    private Converter changed(double[] values) {
        StageValues result = converter.values();
        for (StageValue value : StageValue.of(converter)) {
            if (values[value.index()] != nominal[value.index()]) {
                result = value.set(result, values[value.index()]);
            }
        }
        return new Converter(result.checked());
    }

    /**
     * Returns how many designs were left to the engine until now.
     *
     * @return the number
     */
    public long leftToEngine() {
        return leftToEngine;
    }
}
