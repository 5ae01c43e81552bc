package org.voltsecond.converter;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.voltsecond.analysis.NoSteadyStateException;

/**
 * Figures of the steady states of one stage at very many values, each exact to round-off. A stage whose events follow in
 * the usual order is solved without compiling its circuit; what is not certain to be usual is left to
 * {@link Converter#steadyState()}, so that the figures are the same wherever both can be had. One instance serves one
 * thread; what it says depends on nothing but the values asked for.
 *
 * <pre>{@code
 * StageSampler sampler = StageSampler.of(rail, StageFigure.usual());
 * double[] values = sampler.nominal();
 * double[] figures = new double[StageFigure.usual().size()];
 * values[StageValue.INDUCTANCE.index()] = micro(18);
 * sampler.measure(values, figures); // as fast as it can be done, for very many values
 * }</pre>
 */
public final class StageSampler {
    private static final StageFigure MEAN_OUTPUT = StageFigure.outputVoltage();

    private final Converter converter;
    private final List<StageFigure> figures;
    private final double[] nominal;
    private final StageKernel kernel;
    private final KernelFigures reader;
    private final double outputVoltage;
    private long leftToEngine;
    private double margin;

    private StageSampler(Converter converter, List<StageFigure> figures, StageKernel kernel, double outputVoltage) {
        this.outputVoltage = outputVoltage;
        this.converter = converter;
        this.figures = List.copyOf(figures);
        this.kernel = kernel;
        reader = new KernelFigures(kernel);
        nominal = StageValue.in(converter, StageValue.of(converter));
    }

    /**
     * Prepares a sampler.
     *
     * @param converter the stage at its nominal values, of fixed duty cycle
     * @param figures what to measure, in the order of the results
     * @return a sampler
     * @throws IllegalArgumentException if a regulator drives the transistor
     */
    public static StageSampler of(Converter converter, List<StageFigure> figures) {
        if (converter.isRegulated()) {
            throw new IllegalArgumentException(
                    "a sampler needs a converter of fixed duty cycle, but a regulator drives " + converter
                            + "; give it a fixed duty cycle with withDrive(...)");
        }
        double[] orbit;
        try {
            orbit = converter.steadyState().periodic().state();
        } catch (NoSteadyStateException e) {
            // the nominal stage is only a guess; each design tells for itself what is wrong with it
            orbit = null;
        }
        return new StageSampler(converter, figures, StageKernel.like(converter, orbit), Double.NaN);
    }

    /**
     * Prepares a sampler that gives each design the duty cycle at which the mean of its output voltage has a wanted
     * magnitude; the duty cycle among its values is not read.
     *
     * @param converter the stage at its nominal values, of fixed duty cycle
     * @param outputVoltage magnitude of the mean output voltage, V; more than 0
     * @param figures what to measure, in the order of the results
     * @return a sampler
     * @throws IllegalArgumentException if a regulator drives the transistor, or the voltage is not more than 0 V
     */
    public static StageSampler holding(Converter converter, double outputVoltage, List<StageFigure> figures) {
        DutyCycleSearch.requireOutput(outputVoltage);
        StageSampler free = of(converter, figures);
        return new StageSampler(converter, figures, free.kernel, outputVoltage);
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
        if (isSolved(values)) {
            margin = kernel.isSynchronous() && kernel.margin() < 0 ? Double.NaN : kernel.margin();
            for (int k = 0; k < into.length; k++) {
                into[k] = reader.of(figures.get(k));
            }
            return;
        }
        leftToEngine++;
        Converter design = changed(values);
        ConverterSteadyState steady =
                (holds() ? DutyCycleSearch.forOutput(design, outputVoltage) : design).steadyState();
        margin = ConductionMargin.of(steady);
        for (int k = 0; k < into.length; k++) {
            into[k] = figures.get(k).in(steady);
        }
    }

    private boolean isSolved(double[] values) {
        return holds() ? hold(values, false) : kernel.solve(values);
    }

    private boolean holds() {
        return !Double.isNaN(outputVoltage);
    }

    /** Finds the orbit whose duty cycle gives the output; false if one on the way was not certain to be usual. */
    private boolean hold(double[] values, boolean twoWay) {
        double[] tried = values.clone();
        DoubleUnaryOperator output = dutyCycle -> {
            tried[StageValue.DUTY_CYCLE.index()] = dutyCycle;
            if (!(twoWay ? kernel.solveTwoWay(tried) : kernel.solve(tried))) {
                throw new NotUsualException();
            }
            return Math.abs(reader.of(MEAN_OUTPUT));
        };
        try {
            double guess = DutyCycleSearch.guess(converter.topology(), outputVoltage, values);
            // in discontinuous conduction round-off weighs so much that no search could come closer than the usual
            double accuracy = twoWay ? DutyCycleSearch.CLOSEST : DutyCycleSearch.CLOSE_ENOUGH;
            double found = new DutyCycleSearch(guess, outputVoltage, accuracy, output).find();
            // the last trial need not have been this one
            return !Double.isNaN(output.applyAsDouble(found));
        } catch (NotUsualException e) {
            return false;
        }
    }

    /**
     * Returns how far the steady state measured last is from the boundary of conduction.
     *
     * @return see {@link ConductionMargin#of}
     */
    public double margin() {
        return margin;
    }

    /**
     * Returns a number that changes its sign at the boundary of conduction, and has a slope there: the rectifier current as
     * it ends, over its peak, if the rectifier could carry current backwards.
     *
     * @param values as for {@link #measure}
     * @return the number; not a number where there is no usual order of events
     * @throws NoSteadyStateException if no duty cycle holds the output
     */
    public double smoothMargin(double[] values) {
        boolean solved = holds() ? hold(values, true) : kernel.solveTwoWay(values);
        return solved ? kernel.margin() : Double.NaN;
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

    /** Ends a search on which a design was not certain to be usual; it costs no stack trace. */
    private static final class NotUsualException extends RuntimeException {
        private static final long serialVersionUID = 1;

        NotUsualException() {
            super("not certain to be usual", null, false, false);
        }
    }
}
