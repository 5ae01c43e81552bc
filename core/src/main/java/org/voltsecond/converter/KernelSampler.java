package org.voltsecond.converter;

import java.util.function.DoubleUnaryOperator;

/**
 * Solves stages of fixed duty cycle by the {@link StageKernel}, at their own duty cycle or at the one that holds an output.
 * One instance serves one thread.
 */
final class KernelSampler {
    private static final StageMeasurement MEAN_OUTPUT =
            StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);

    private static final StageMeasurement PEAK =
            StageMeasurement.of(StageMeasurement.Measure.MAXIMUM, StageSignal.RECTIFIER_CURRENT);

    private final Topology topology;
    private final StageKernel kernel;
    private final KernelFigures reader;
    /** Magnitude of the output voltage that is held; not a number where the duty cycle stays. */
    private final double outputVoltage;

    KernelSampler(Topology topology, StageKernel kernel, double outputVoltage) {
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

    /** As {@link ConductionMargin#of} tells it of the stage solved last. */
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
