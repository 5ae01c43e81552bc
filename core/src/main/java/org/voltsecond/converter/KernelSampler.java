package org.voltsecond.converter;

import java.util.function.DoubleUnaryOperator;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Plant;
import org.voltsecond.control.Regulator;
import org.voltsecond.stage.Topology;

/**
 * Solves stages by the {@link StageKernel}: at their own duty cycle, or at the one that holds an output, which may be a regulator's.
 * One instance serves one thread.
 */
final class KernelSampler implements StageSampler.Quick {
    private static final StageMeasurement MEAN_OUTPUT =
            StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);

    private static final StageMeasurement PEAK =
            StageMeasurement.of(StageMeasurement.Measure.MAXIMUM, StageSignal.RECTIFIER_CURRENT);

    private final Topology topology;
    private final StageKernel kernel;
    private final KernelFigures orbit;
    private final CurveFigures reader;
    /** Magnitude of the output voltage that is held; not a number where the duty cycle stays, or a regulator sets it. */
    private final double outputVoltage;

    private final @Nullable Regulation regulation;

    private KernelSampler(
            Topology topology, StageKernel kernel, double outputVoltage, @Nullable Regulation regulation) {
        this.topology = topology;
        this.kernel = kernel;
        this.outputVoltage = outputVoltage;
        this.regulation = regulation;
        orbit = new KernelFigures(kernel);
        reader = new CurveFigures(orbit);
    }

    /**
     * A sampler of converters like this one; null for stages whose equations are not in the kernel.
     *
     * @param orbit the orbit of the converter, to begin with; null where it is not known
     * @param outputVoltage magnitude of the output voltage to hold, V; not a number where the drive has its say
     */
    static @Nullable KernelSampler of(Converter converter, double @Nullable [] orbit, double outputVoltage) {
        StageKernel kernel = StageKernel.like(converter, orbit);
        if (kernel == null
                || (converter.isRegulated() && converter.regulator().reference().isEmpty())) {
            return null;
        }
        Regulation regulation = converter.isRegulated() ? new Regulation(converter) : null;
        return new KernelSampler(converter.topology(), kernel, outputVoltage, regulation);
    }

    /** Whether designs of which these are the values of one are likely to be solved here. */
    boolean isSuitable(double[] values) {
        return kernel.isSuitable() && (regulation == null || solve(values));
    }

    /** False if the order of events is not certain to be the usual one, or what a regulator does. */
    @Override
    public boolean solve(double[] values) {
        return solve(values, false);
    }

    private boolean solve(double[] values, boolean twoWay) {
        if (regulation != null) {
            return regulation.isSane(values) && regulated(regulation, values, twoWay);
        }
        return Double.isNaN(outputVoltage)
                ? (twoWay ? kernel.solveTwoWay(values) : kernel.solve(values))
                : hold(values, outputVoltage, twoWay);
    }

    private boolean regulated(Regulation by, double[] values, boolean twoWay) {
        values[StageValue.FREQUENCY.index()] = 1 / by.regulator.clockPeriod();
        try {
            return hold(values, by.target(values), twoWay)
                    && by.regulator.keeps(by.plant(topology, values), sensed(values));
        } catch (NoSteadyStateException e) {
            // the regulator stands at a limit
            return false;
        }
    }

    private OrbitCurves.Sensed sensed(double[] values) {
        return new OrbitCurves.Sensed(
                orbit,
                orbit.sign(),
                Math.abs(reader.of(MEAN_OUTPUT)),
                kernel.input,
                Regulation.divider(values),
                Regulation.reference(values));
    }

    @Override
    public double of(StageMeasurement figure) {
        return reader.of(figure);
    }

    @Override
    public Conduction conduction() {
        return Conduction.of(margin());
    }

    @Override
    public double margin() {
        double margin = kernel.margin();
        if (margin > 0) {
            // the current may go on rising after the transistor opens
            return kernel.current[StageKernel.ON][0] / reader.of(PEAK);
        }
        return kernel.isSynchronous() && margin < 0 ? Double.NaN : margin;
    }

    @Override
    public double smoothMargin(double[] values) {
        return solve(values, true) ? kernel.margin() : Double.NaN;
    }

    /** Finds the orbit whose duty cycle gives an output; false if one on the way was not certain to be usual. */
    private boolean hold(double[] values, double output, boolean twoWay) {
        double[] tried = values.clone();
        DoubleUnaryOperator mean = dutyCycle -> {
            tried[StageValue.DUTY_CYCLE.index()] = dutyCycle;
            if (!(twoWay ? kernel.solveTwoWay(tried) : kernel.solve(tried))) {
                throw new NotUsualException();
            }
            return Math.abs(reader.of(MEAN_OUTPUT));
        };
        try {
            double guess = DutyCycleSearch.guess(topology, output, values);
            // in discontinuous conduction round-off weighs so much that no search could come closer than the usual
            double accuracy = twoWay ? DutyCycleSearch.CLOSEST : DutyCycleSearch.CLOSE_ENOUGH;
            double found = new DutyCycleSearch(guess, output, accuracy, mean).find();
            // the last trial need not have been this one
            return tried[StageValue.DUTY_CYCLE.index()] == found || !Double.isNaN(mean.applyAsDouble(found));
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

    /** A regulator, and what it finds in the designs that it drives. */
    private static final class Regulation {
        final Regulator regulator;
        private final Plant nominal;

        Regulation(Converter converter) {
            regulator = converter.regulator();
            nominal = StageRun.plant(converter.values());
        }

        /** Values that no regulator can have are for its own checks to name. */
        boolean isSane(double[] values) {
            double divider = divider(values);
            return reference(values) > 0 && reference(values) < Double.POSITIVE_INFINITY && divider > 0 && divider <= 1;
        }

        static double reference(double[] values) {
            return values[StageValue.REFERENCE.index()];
        }

        static double divider(double[] values) {
            return values[StageValue.DIVIDER.index()];
        }

        double target(double[] values) {
            return reference(values) / divider(values);
        }

        Plant plant(Topology topology, double[] values) {
            double output = target(values);
            double ohm = values[StageValue.LOAD_RESISTANCE.index()];
            double current = values[StageValue.LOAD_CURRENT.index()] + (ohm > 0 ? output / ohm : 0);
            return nominal.withFullLoad(StageRun.FullLoad.crest(
                    topology,
                    values[StageValue.INPUT_VOLTAGE.index()],
                    output,
                    current,
                    values[StageValue.INDUCTANCE.index()],
                    regulator.clockPeriod()));
        }
    }
}
