package org.voltsecond.converter;

import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Topology;

/**
 * Figures of the steady states of one stage at very many values, each exact to round-off. A stage whose events follow in
 * the usual order is solved without compiling its circuit; what is not certain to be usual, and every stage with a
 * regulator, is left to the engine as by {@link Converter#steadyState()}, so that the figures are the same wherever both can
 * be had. One instance serves one thread; what it says depends on nothing but the values asked for.
 *
 * <pre>{@code
 * List<StageMeasurement> asked = List.of(StageMeasurement.of(StageMeasurement.Measure.RMS, StageSignal.INDUCTOR_CURRENT));
 * List<StageValue> varied = List.of(StageValue.INDUCTANCE, StageValue.of(rail, "C1.capacitance"));
 * StageSampler sampler = StageSampler.of(rail, varied, asked);
 * double[] figures = new double[asked.size()];
 * sampler.measure(new double[] {micro(18), micro(47)}, figures); // as fast as it can be done, for very many values
 * }</pre>
 */
public final class StageSampler {
    private final Converter converter;
    private final List<StageValue> varied;
    private final List<StageMeasurement> figures;
    private final double[] nominal;
    private final @Nullable ConverterSteadyState steady;
    /** Solves a stage of fixed duty cycle; null where a regulator drives it, or its equations are not in the kernel. */
    private final @Nullable Quick quick;
    /** Where each varied value stands among those of the kernel, and all of these. */
    private final int[] places;

    private final double[] all;
    private final double outputVoltage;
    private long leftToEngine;
    private double margin;

    private StageSampler(
            Converter converter, List<StageValue> varied, List<StageMeasurement> figures, double outputVoltage) {
        this.converter = converter;
        this.varied = List.copyOf(varied);
        this.figures = List.copyOf(figures);
        this.outputVoltage = outputVoltage;
        steady = nominalOf(converter);
        double[] orbit = steady == null ? null : steady.periodic().state();
        StageKernel kernel = StageKernel.like(converter, orbit);
        nominal = varied.stream().mapToDouble(value -> value.in(converter)).toArray();
        places = varied.stream().mapToInt(value -> value.index(converter)).toArray();
        boolean known = Arrays.stream(places).allMatch(place -> place >= 0);
        quick = kernel == null || !known ? null : new Quick(converter.topology(), kernel, outputVoltage);
        all = quick == null ? new double[0] : StageValue.ofKernel(converter);
    }

    private static @Nullable ConverterSteadyState nominalOf(Converter converter) {
        try {
            return converter.steadyState();
        } catch (NoSteadyStateException e) {
            // the nominal stage is only a guess; each design tells for itself what is wrong with it
            return null;
        }
    }

    /**
     * Prepares a sampler.
     *
     * @param converter the stage at its nominal values
     * @param varied the values that change, in the order in which they will be given; of two that are the same the last counts
     * @param figures what to measure, in the order of the results
     * @return a sampler
     * @throws IllegalArgumentException if the converter has not one of the values
     */
    public static StageSampler of(Converter converter, List<StageValue> varied, List<StageMeasurement> figures) {
        return new StageSampler(converter, varied, figures, Double.NaN);
    }

    /**
     * Prepares a sampler that gives each design the duty cycle at which the mean of its output voltage has a wanted
     * magnitude; a duty cycle among its values is not read.
     *
     * @param converter the stage at its nominal values, of fixed duty cycle
     * @param outputVoltage magnitude of the mean output voltage, V; more than 0
     * @param varied the values that change, in the order in which they will be given; of two that are the same the last counts
     * @param figures what to measure, in the order of the results
     * @return a sampler
     * @throws IllegalArgumentException if a regulator drives the transistor, the voltage is not more than 0 V, or the converter
     *     has not one of the values
     */
    public static StageSampler holding(
            Converter converter, double outputVoltage, List<StageValue> varied, List<StageMeasurement> figures) {
        DutyCycleSearch.requireOutput(outputVoltage);
        if (converter.isRegulated()) {
            throw new IllegalArgumentException(
                    "a sampler that holds the output needs a converter of fixed duty cycle, but a regulator drives "
                            + converter + "; give it a fixed duty cycle with withDrive(...)");
        }
        return new StageSampler(converter, varied, figures, outputVoltage);
    }

    /**
     * Tells whether designs like a converter are solved without compiling a circuit for each, in microseconds.
     *
     * @param converter the converter
     * @return true for the simplest stages of fixed duty cycle; false where each design takes a search of the engine, some
     *     hundred times as long
     */
    public static boolean isQuickFor(Converter converter) {
        StageKernel kernel = StageKernel.like(converter, null);
        return kernel != null && kernel.isSuitable();
    }

    /**
     * Returns the nominal values.
     *
     * @return one for each value that changes; a new array
     */
    public double[] nominal() {
        return nominal.clone();
    }

    /**
     * Measures the steady state of the stage at other values.
     *
     * @param values one for each value that changes, in its unit
     * @param into takes the figures, in the order in which they were asked for
     * @throws InvalidStageException if a value is out of its range
     * @throws NoSteadyStateException if there is no steady state
     */
    public void measure(double[] values, double[] into) {
        if (quick != null && quick.solve(ofKernel(values))) {
            margin = quick.margin();
            for (int k = 0; k < into.length; k++) {
                into[k] = quick.of(figures.get(k));
            }
            return;
        }
        leftToEngine++;
        ConverterSteadyState found = byEngine(changed(values));
        margin = found.conductionMargin();
        for (int k = 0; k < into.length; k++) {
            into[k] = figures.get(k).in(found);
        }
    }

    /**
     * Returns a steady state itself, for what the sampler cannot measure.
     *
     * @param values as for {@link #measure}
     * @param dutyCycle what was measured as the duty cycle there; a regulator sets its own
     * @return the steady state
     * @throws InvalidStageException if a value is out of its range
     * @throws NoSteadyStateException if there is no steady state
     */
    public ConverterSteadyState steadyState(double[] values, double dutyCycle) {
        if (converter.isRegulated()) {
            return byEngine(changed(values));
        }
        return changed(values).withDutyCycle(dutyCycle).steadyState();
    }

    private ConverterSteadyState byEngine(Converter design) {
        if (!Double.isNaN(outputVoltage)) {
            return DutyCycleSearch.steadyStateFor(design, outputVoltage);
        }
        ConverterSteadyState near = converter.isRegulated() ? steady : null;
        return near == null ? design.steadyState() : design.steadyStateNear(near);
    }

    /**
     * Returns how far the steady state measured last is from the boundary of conduction.
     *
     * @return see {@link ConverterSteadyState#conductionMargin()}
     */
    public double margin() {
        return margin;
    }

    /**
     * Returns a number that changes its sign at the boundary of conduction, and has a slope there: the rectifier current as
     * it ends, over its peak, if the rectifier could carry current backwards.
     *
     * @param values as for {@link #measure}
     * @return the number; not a number where there is no usual order of events, and of a stage with a regulator
     * @throws NoSteadyStateException if no duty cycle holds the output
     */
    public double smoothMargin(double[] values) {
        return quick == null ? Double.NaN : quick.smoothMargin(ofKernel(values));
    }

    private double[] ofKernel(double[] values) {
        for (int k = 0; k < places.length; k++) {
            all[places[k]] = values[k];
        }
        return all;
    }

    private Converter changed(double[] values) {
        Converter result = converter;
        for (int k = 0; k < values.length; k++) {
            if (values[k] != nominal[k]) {
                result = varied.get(k).set(result, values[k]);
            }
        }
        return result;
    }

    /**
     * Returns how many designs were left to the engine until now.
     *
     * @return the number
     */
    public long leftToEngine() {
        return leftToEngine;
    }

    @Override
    public String toString() {
        return "sampler of " + converter + ": "
                + figures.stream().map(StageMeasurement::name).collect(Collectors.joining(", "));
    }

    /**
     * Solves stages of fixed duty cycle by the {@link StageKernel}, at their own duty cycle or at the one that holds an output.
     * One instance serves one thread.
     */
    private static final class Quick {
        private static final StageMeasurement MEAN_OUTPUT =
                StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);

        private static final StageMeasurement PEAK =
                StageMeasurement.of(StageMeasurement.Measure.MAXIMUM, StageSignal.RECTIFIER_CURRENT);

        private final Topology topology;
        private final StageKernel kernel;
        private final KernelFigures reader;
        /** Magnitude of the output voltage that is held; not a number where the duty cycle stays. */
        private final double outputVoltage;

        Quick(Topology topology, StageKernel kernel, double outputVoltage) {
            this.topology = topology;
            this.kernel = kernel;
            this.outputVoltage = outputVoltage;
            reader = new KernelFigures(kernel);
        }

        boolean holds() {
            return !Double.isNaN(outputVoltage);
        }

        /** False if the order of events is not certain to be the usual one. */
        boolean solve(double[] values) {
            return holds() ? hold(values, false) : kernel.solve(values);
        }

        double of(StageMeasurement figure) {
            return reader.of(figure);
        }

        /** As {@link ConverterSteadyState#conductionMargin()} tells it of the stage solved last. */
        double margin() {
            double margin = kernel.margin();
            if (margin > 0) {
                // the current may go on rising after the transistor opens
                return kernel.current[StageKernel.ON][0] / reader.of(PEAK);
            }
            return kernel.isSynchronous() && margin < 0 ? Double.NaN : margin;
        }

        /** See {@link StageSampler#smoothMargin}. */
        double smoothMargin(double[] values) {
            boolean solved = holds() ? hold(values, true) : kernel.solveTwoWay(values);
            return solved ? kernel.margin() : Double.NaN;
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
                double guess = DutyCycleSearch.guess(topology, outputVoltage, values);
                // in discontinuous conduction round-off weighs so much that no search could come closer than the usual
                double accuracy = twoWay ? DutyCycleSearch.CLOSEST : DutyCycleSearch.CLOSE_ENOUGH;
                double found = new DutyCycleSearch(guess, outputVoltage, accuracy, output).find();
                // the last trial need not have been this one
                return !Double.isNaN(output.applyAsDouble(found));
            } catch (NotUsualException e) {
                return false;
            }
        }

        /** Ends a search on which a design was not certain to be usual; it costs no stack trace. */
        private static final class NotUsualException extends RuntimeException {
            private static final long serialVersionUID = 1;

            NotUsualException() {
                super("not certain to be usual", null, false, false);
            }
        }
    }
}
