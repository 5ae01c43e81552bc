package org.voltsecond.converter;

import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.stage.InvalidStageException;

/**
 * Figures of the steady states of one stage at very many values, each exact to round-off. A stage whose events follow in
 * the usual order is solved without compiling its circuit, also one whose regulator is certain to do no more than hold the mean
 * of the output. Designs of other stages whose devices follow each other as in the nominal design take the few regimes that they pass
 * through, tens of microseconds; all else is left to the engine as by {@link Converter#steadyState()}, so that the figures are the same wherever
 * both can be had. One instance serves one thread; what it says depends on nothing but the values asked for, unless they
 * follow a path.
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
    /** Solves what it is certain of, near the nominal design and at this place of a path; null where that is nothing. */
    private final @Nullable Quick first;

    private @Nullable Quick quick;
    /** Whether designs are sought from the one before, and which steady state the engine has found last. */
    private boolean follows;

    private @Nullable ConverterSteadyState near;
    /** Where each varied value stands among those that it asks for, and all of these. */
    private final int[] places;

    private final double[] all;
    private final double outputVoltage;
    private long leftToEngine;
    /** What was measured last, where the engine has found it. */
    private @Nullable ConverterSteadyState found;

    private StageSampler(
            Converter converter, List<StageValue> varied, List<StageMeasurement> figures, double outputVoltage) {
        this.converter = converter;
        this.varied = List.copyOf(varied);
        this.figures = List.copyOf(figures);
        this.outputVoltage = outputVoltage;
        steady = nominalOf(converter);
        double[] orbit = steady == null ? null : steady.periodic().state();
        KernelSampler kernel = KernelSampler.of(converter, orbit, outputVoltage);
        nominal = varied.stream().mapToDouble(value -> value.in(converter)).toArray();
        int[] ofKernel =
                varied.stream().mapToInt(value -> value.index(converter)).toArray();
        boolean known = kernel != null
                && Arrays.stream(ofKernel).allMatch(place -> place >= 0)
                && kernel.isSuitable(StageValue.ofKernel(converter));
        places = known ? ofKernel : IntStream.range(0, nominal.length).toArray();
        all = known ? StageValue.ofKernel(converter) : nominal();
        first = known ? kernel : steady == null ? null : SequenceSampler.of(steady, this.varied, outputVoltage);
        quick = first;
    }

    /** Solves designs of one converter without asking the engine, as long as it is certain of what comes out. */
    interface Quick {
        /** Finds the orbit of a design; false if that is left to the engine. */
        boolean solve(double[] values);

        /** A figure of the orbit found last. */
        double of(StageMeasurement figure);

        /** The mode of conduction of the orbit found last. */
        Conduction conduction();

        /** As {@link ConverterSteadyState#conductionMargin()} tells it of the orbit found last. */
        double margin();

        /** See {@link StageSampler#smoothMargin}. */
        double smoothMargin(double[] values);
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
     * @return true for the simplest stages, of fixed duty cycle or with a regulator that holds the mean of their output; false
     *     where each design takes a circuit of its own at least
     */
    public static boolean isQuickFor(Converter converter) {
        KernelSampler kernel = KernelSampler.of(converter, null, Double.NaN);
        return kernel != null && kernel.isSuitable(StageValue.ofKernel(converter));
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
        if (quick != null && quick.solve(asked(values))) {
            found = null;
            for (int k = 0; k < into.length; k++) {
                into[k] = quick.of(figures.get(k));
            }
            return;
        }
        leftToEngine++;
        ConverterSteadyState last = byEngine(changed(values));
        found = last;
        if (follows && !(quick instanceof KernelSampler)) {
            follow(last);
        }
        for (int k = 0; k < into.length; k++) {
            into[k] = figures.get(k).in(last);
        }
    }

    /**
     * Begins a path of designs, such as a line of a map: from now on each is sought from the one before it, and what is found depends,
     * in its last digits, on where the path began.
     */
    public void beginPath() {
        follows = true;
        near = steady;
        if (first instanceof SequenceSampler sequence) {
            sequence.follow();
        }
        quick = first;
    }

    private void follow(ConverterSteadyState found) {
        near = found;
        SequenceSampler next = SequenceSampler.of(found, varied, outputVoltage);
        if (next != null) {
            next.follow();
        }
        quick = next;
    }

    /**
     * Tells whether designs near the nominal one are solved without a search of the engine for each.
     *
     * @return false where each takes such a search
     */
    public boolean isQuick() {
        return quick != null;
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
        ConverterSteadyState from = follows ? near : converter.isRegulated() ? steady : null;
        return from == null ? design.steadyState() : design.steadyStateNear(from);
    }

    /**
     * Returns how far the steady state measured last is from the boundary of conduction.
     *
     * @return see {@link ConverterSteadyState#conductionMargin()}
     */
    public double margin() {
        ConverterSteadyState last = found;
        return last != null ? last.conductionMargin() : quick == null ? Double.NaN : quick.margin();
    }

    /**
     * Returns the mode of conduction of the steady state measured last.
     *
     * @return the mode
     */
    public Conduction conduction() {
        ConverterSteadyState last = found;
        if (last != null) {
            return quick instanceof KernelSampler ? Conduction.of(last.conductionMargin()) : last.conduction();
        }
        return quick == null ? Conduction.UNDEFINED : quick.conduction();
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
        return quick == null ? Double.NaN : quick.smoothMargin(asked(values));
    }

    private double[] asked(double[] values) {
        for (int k = 0; k < places.length; k++) {
            all[places[k]] = values[k];
        }
        return all;
    }

    private Converter changed(double[] values) {
        Converter result = converter.draft();
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
}
