package org.voltsecond.examples.report;

import java.util.List;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.Topology;
import org.voltsecond.examples.design.Design;
import org.voltsecond.examples.design.TransientPlan;
import org.voltsecond.waveform.Waveform;

/**
 * What a design does.
 *
 * @param design the design
 * @param converter the converter
 * @param steadyState its periodic steady state before any change
 * @param transientRun the transient; null if none was asked for
 * @param changes figures of each change of the transient
 */
public record Outcome(
        Design design,
        Converter converter,
        Found<ConverterSteadyState> steadyState,
        @Nullable Found<ConverterTransient> transientRun,
        List<ChangeFigures> changes) {
    /**
     * Copies the list.
     *
     * @param design the design
     * @param converter the converter
     * @param steadyState its periodic steady state before any change
     * @param transientRun the transient; null if none was asked for
     * @param changes figures of each change of the transient
     */
    public Outcome {
        changes = List.copyOf(changes);
    }

    /**
     * Works out what a design does.
     *
     * @param design the design
     * @return the outcome
     * @throws org.voltsecond.engine.SwitchingException if a run cannot go on
     */
    public static Outcome of(Design design) {
        Converter converter = design.converter();
        Found<ConverterSteadyState> steady = steadyState(converter);
        TransientPlan plan = design.transientPlan();
        if (plan == null) {
            return new Outcome(design, converter, steady, null, List.of());
        }
        Found<ConverterTransient> run = run(converter, steady, plan);
        return new Outcome(design, converter, steady, run, run.exists() ? changes(converter, run.get()) : List.of());
    }

    private static Found<ConverterSteadyState> steadyState(Converter converter) {
        try {
            return Found.of(converter.steadyState());
        } catch (NoSteadyStateException e) {
            return Found.missing(String.valueOf(e.getMessage()));
        }
    }

    private static Found<ConverterTransient> run(
            Converter converter, Found<ConverterSteadyState> steady, TransientPlan plan) {
        Change[] changes = plan.changes().toArray(new Change[0]);
        if (!plan.fromSteadyState()) {
            return Found.of(converter.startUp(plan.duration(), changes));
        }
        return steady.exists()
                ? Found.of(converter.transientFrom(
                        steady.get().periodic().state(), plan.duration(), plan.changes()))
                : Found.missing("no steady state to start from: " + steady.reason());
    }

    private static List<ChangeFigures> changes(Converter converter, ConverterTransient run) {
        double sign = converter.topology() == Topology.INVERTING_BUCK_BOOST ? -1 : 1;
        Waveform magnitude = run.of(converter.outputVoltage()).times(sign);
        return IntStream.range(0, run.changes().size())
                .mapToObj(index ->
                        ChangeFigures.of(run, magnitude, index, converter.driven().clockPeriod()))
                .toList();
    }
}
