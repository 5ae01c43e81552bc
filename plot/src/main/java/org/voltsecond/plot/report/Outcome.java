package org.voltsecond.plot.report;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.bench.Capture;
import org.voltsecond.bench.CaptureComparison;
import org.voltsecond.bench.RunComparison;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.design.BenchPlan;
import org.voltsecond.design.Design;
import org.voltsecond.design.FrequencyPlan;
import org.voltsecond.design.TransientPlan;
import org.voltsecond.waveform.Signal;

/**
 * What a design does.
 *
 * @param design the design
 * @param converter the converter
 * @param steadyState its periodic steady state before any change
 * @param transientRun the transient; null if none was asked for
 * @param frequencyResponse the frequency response; null if none was asked for
 * @param bench the comparison with a capture; null if none was asked for
 * @param studies what it does beyond one operating point
 */
public record Outcome(
        Design design,
        Converter converter,
        Found<ConverterSteadyState> steadyState,
        @Nullable Found<TransientOutcome> transientRun,
        @Nullable Found<FrequencyOutcome> frequencyResponse,
        @Nullable Found<BenchOutcome> bench,
        StudyOutcome studies) {
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
        FrequencyPlan frequencies = design.frequencyPlan();
        Found<FrequencyOutcome> response = frequencies == null ? null : response(steady, frequencies);
        StudyOutcome studies = StudyOutcome.of(design.studies(), converter, steady, response);
        if (plan == null) {
            return new Outcome(
                    design, converter, steady, null, response, bench(design, converter, steady, null), studies);
        }
        Found<ConverterTransient> run = run(converter, steady, plan);
        return new Outcome(
                design,
                converter,
                steady,
                run.map(found -> TransientOutcome.of(converter, found, !plan.fromSteadyState())),
                response,
                bench(design, converter, steady, run),
                studies);
    }

    /**
     * Tells in one line what the converter is: stage, input, load and drive.
     *
     * @return for the head of a picture
     */
    public String subtitle() {
        return PictureFiles.subtitle(this);
    }

    private static Found<ConverterSteadyState> steadyState(Converter converter) {
        try {
            return Found.of(converter.steadyState());
        } catch (NoSteadyStateException e) {
            return Found.missing(String.valueOf(e.getMessage()));
        }
    }

    private static Found<FrequencyOutcome> response(Found<ConverterSteadyState> steady, FrequencyPlan plan) {
        try {
            return steady.map(found -> FrequencyOutcome.of(found, plan));
        } catch (IllegalStateException e) {
            return Found.missing(String.valueOf(e.getMessage()));
        }
    }

    private static @Nullable Found<BenchOutcome> bench(
            Design design,
            Converter converter,
            Found<ConverterSteadyState> steady,
            @Nullable Found<ConverterTransient> run) {
        BenchPlan plan = design.bench();
        if (plan == null) {
            return null;
        }
        Signal signal = Objects.requireNonNull(StageSignals.of(converter).get(plan.signal()), plan.signal());
        Capture capture = plan.capture();
        try {
            if (plan.againstTransient()) {
                return Objects.requireNonNull(run)
                        .map(found -> new BenchOutcome.OverRun(RunComparison.of(capture, found.of(signal))));
            }
            return steady.exists()
                    ? Found.of(new BenchOutcome.AtRest(
                            CaptureComparison.of(capture, steady.get().of(signal))))
                    : Found.missing("no steady state to compare with: " + steady.reason());
        } catch (IllegalArgumentException e) {
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
                ? Found.of(converter.transientFrom(steady.get(), plan.duration(), plan.changes()))
                : Found.missing("no steady state to start from: " + steady.reason());
    }
}
