package org.voltsecond.plot.report;

import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.bench.Capture;
import org.voltsecond.bench.SteadyStateComparison;
import org.voltsecond.bench.TransientComparison;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.design.BenchPlan;
import org.voltsecond.design.Design;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.FrequencyPlan;
import org.voltsecond.design.LossPlan;
import org.voltsecond.design.StudyPlans;
import org.voltsecond.design.TransientPlan;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.HeatFigures;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.LimitChecks;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.figures.Occasions;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.review.Review;
import org.voltsecond.review.ReviewPlan;
import org.voltsecond.study.BoundaryLoad;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Signal;

/**
 * What is found about a design, or about a converter.
 *
 * <pre>{@code
 * Findings found = Findings.of(rail);
 * boolean known = found.steadyState().exists(); // true
 * String name = found.name(); // "buck"
 * }</pre>
 *
 * @param design the design; null for what is found about a converter alone
 * @param converter the converter
 * @param steadyState its periodic steady state before any change
 * @param transientRun the transient; null if none was asked for
 * @param frequencyResponse the frequency response; null if none was asked for
 * @param bench the comparison with a capture; null if none was asked for
 * @param studies what it does beyond one operating point
 * @param review what a design review asks; null if nothing of that kind was asked for
 * @param boundary the load at which the inductor current runs dry; null if it was not asked for
 * @param checks the limits of the design, held against the steady state, the transient and the corners of input and load, in the order of
 *     their kinds
 */
public record Findings(
        @Nullable Design design,
        Converter converter,
        Result<ConverterSteadyState> steadyState,
        @Nullable Result<TransientFigures> transientRun,
        @Nullable Result<FrequencyOutcome> frequencyResponse,
        @Nullable Result<BenchOutcome> bench,
        StudyOutcome studies,
        @Nullable Review review,
        @Nullable Result<BoundaryLoad> boundary,
        List<LimitCheck> checks) {
    /**
     * Makes the list unmodifiable.
     *
     * @param design the design; null for what is found about a converter alone
     * @param converter the converter
     * @param steadyState its periodic steady state before any change
     * @param transientRun the transient; null if none was asked for
     * @param frequencyResponse the frequency response; null if none was asked for
     * @param bench the comparison with a capture; null if none was asked for
     * @param studies what it does beyond one operating point
     * @param review what a design review asks; null if nothing of that kind was asked for
     * @param boundary the load at which the inductor current runs dry; null if it was not asked for
     * @param checks the limits of the design, held against all that
     */
    public Findings {
        checks = List.copyOf(checks);
    }

    /**
     * Works out what a converter does in its steady state.
     *
     * @param converter the converter
     * @return what is found
     */
    public static Findings of(Converter converter) {
        Result<ConverterSteadyState> steady = steadyState(converter);
        StudyOutcome studies = StudyOutcome.of(StudyPlans.NONE, converter, steady, null);
        return new Findings(null, converter, steady, null, null, null, studies, null, boundary(steady), List.of());
    }

    /**
     * Adds a run of the converter.
     *
     * @param run the run
     * @return what is found, with the figures of the run
     */
    public Findings with(ConverterTransient run) {
        TransientFigures figures = TransientFigures.of(run, TransientFigures.USUAL_BAND);
        return new Findings(
                design,
                converter,
                steadyState,
                Result.of(figures),
                frequencyResponse,
                bench,
                studies,
                review,
                boundary,
                checks(design, converter, steadyState, Result.of(figures), studies, review));
    }

    /**
     * Returns what it is called.
     *
     * @return the name of the design; of a converter alone its topology
     */
    public String name() {
        return design == null ? converter.topology().toString() : design.name();
    }

    /** The input with its ripple; that of a converter alone is not known. */
    LineInput input() {
        return design == null ? LineInput.of(converter.inputVoltage()) : design.input();
    }

    /** The switching frequency; without a clock about what it is, Hz. */
    double switchingFrequency() {
        return design == null
                ? 1 / converter.driven().clockPeriod()
                : design.drive().switchingFrequency();
    }

    /**
     * Works out what a design does.
     *
     * @param design the design
     * @return the outcome
     * @throws org.voltsecond.engine.SwitchingException if a run cannot go on
     */
    public static Findings of(Design design) {
        Converter converter = design.converter();
        Result<ConverterSteadyState> steady = steadyState(converter);
        TransientPlan plan = design.transientPlan();
        FrequencyPlan frequencies = design.frequencyPlan();
        Result<FrequencyOutcome> response = frequencies == null ? null : response(steady, frequencies);
        StudyOutcome studies = StudyOutcome.of(design.studies(), converter, steady, response);
        Result<ConverterTransient> run = plan == null ? null : run(converter, steady, plan);
        Result<TransientFigures> figures =
                plan == null || run == null ? null : run.map(found -> figures(found, plan, steady));
        Review review = review(design.studies().review(), converter, steady, figures);
        return new Findings(
                design,
                converter,
                steady,
                figures,
                response,
                bench(design, converter, steady, run),
                studies,
                review,
                boundary(steady),
                checks(design, converter, steady, figures, studies, review));
    }

    /**
     * Works out what a design does at its operating point and in its run, and nothing that takes many designs.
     *
     * @param design the design
     * @param whole whether to add what takes longer, where the design asks for it: its transient, frequency response and temperatures
     * @return the outcome
     * @throws org.voltsecond.engine.SwitchingException if a run cannot go on
     */
    public static Findings ofPoint(Design design, boolean whole) {
        Converter converter = design.converter();
        Result<ConverterSteadyState> steady = steadyState(converter);
        TransientPlan plan = whole ? design.transientPlan() : null;
        Result<TransientFigures> run =
                plan == null ? null : run(converter, steady, plan).map(found -> figures(found, plan, steady));
        FrequencyPlan frequencies = whole ? design.frequencyPlan() : null;
        StudyOutcome studies = StudyOutcome.ofPoint(design.studies(), steady, whole);
        return new Findings(
                design,
                converter,
                steady,
                run,
                frequencies == null ? null : response(steady, frequencies),
                null,
                studies,
                null,
                whole ? boundary(steady) : null,
                checks(design, converter, steady, run, studies, null));
    }

    private static TransientFigures figures(
            ConverterTransient run, TransientPlan plan, Result<ConverterSteadyState> steady) {
        return TransientFigures.of(run, !plan.fromSteadyState(), plan.settlingBand(), steady);
    }

    private static @Nullable Review review(
            @Nullable ReviewPlan plan,
            Converter converter,
            Result<ConverterSteadyState> steady,
            @Nullable Result<TransientFigures> run) {
        return plan == null
                ? null
                : Review.of(
                        plan,
                        converter,
                        steady,
                        Review.corners(plan, converter, steady),
                        run != null && run.exists() ? run.get() : null);
    }

    /** Once for all who tell them: each limit asks for measures of all that was found. */
    private static List<LimitCheck> checks(
            @Nullable Design design,
            Converter converter,
            Result<ConverterSteadyState> steady,
            @Nullable Result<TransientFigures> run,
            StudyOutcome studies,
            @Nullable Review review) {
        if (design == null) {
            return List.of();
        }
        Occasions occasions = Occasions.of(steady);
        if (run != null && run.exists()) {
            occasions = occasions.with(run.get());
        }
        LimitChecks checks = LimitChecks.of(review == null ? occasions : Review.with(occasions, review.corners()));
        LossPlan losses = design.studies().losses();
        if (losses != null) {
            checks = checks.withEfficiency(Figures.efficiency(losses.models())::of)
                    .withCores(losses.cores());
        }
        HeatModel heat = design.studies().heat();
        if (heat != null) {
            checks = checks.with(HeatFigures.limits(heat, converter));
        }
        Result<EmissionOutcome> emissions = studies.emissions();
        if (emissions != null) {
            checks = checks.withEmissions(
                    emissions.flatMap(outcome -> outcome.found().worst()));
        }
        LimitChecks all = checks;
        return design.limits().entrySet().stream()
                .map(limit -> all.check(limit.getKey(), limit.getValue()))
                .toList();
    }

    /**
     * Returns what the reader is to know of what was made of the design file.
     *
     * @return a sentence or more; empty for nothing
     */
    public List<String> notes() {
        return design == null ? List.of() : design.notes();
    }

    /**
     * Returns every figure that figures.json tells.
     *
     * @return the figures in the order of the file
     */
    public List<PlacedFigure> figures() {
        return FiguresJson.figures(this);
    }

    /**
     * Returns what everybody who builds after these figures must have read.
     *
     * @return one sentence or two each
     */
    public List<String> cautions() {
        return Cautions.of(this);
    }

    /**
     * Tells in one line what the converter is: stage, input, load and drive.
     *
     * @return for the head of a picture
     */
    public String subtitle() {
        return PictureFiles.subtitle(this);
    }

    private static Result<BoundaryLoad> boundary(Result<ConverterSteadyState> steady) {
        return steady.flatMap(BoundaryLoad::of);
    }

    private static Result<ConverterSteadyState> steadyState(Converter converter) {
        try {
            return Result.of(converter.steadyState());
        } catch (NoSteadyStateException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }

    private static Result<FrequencyOutcome> response(Result<ConverterSteadyState> steady, FrequencyPlan plan) {
        if (!steady.exists()) {
            return Result.missing("there is no steady state");
        }
        try {
            return steady.map(found -> FrequencyOutcome.of(found, plan));
        } catch (IllegalStateException | IllegalArgumentException e) {
            // an orbit that does not close in one phase, or a drive that never switches
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }

    private static @Nullable Result<BenchOutcome> bench(
            Design design,
            Converter converter,
            Result<ConverterSteadyState> steady,
            @Nullable Result<ConverterTransient> run) {
        BenchPlan plan = design.bench();
        if (plan == null) {
            return null;
        }
        Signal signal = NamedSignals.find(converter, plan.signal()).orElseThrow();
        Capture capture = plan.capture();
        try {
            if (plan.againstTransient()) {
                return Objects.requireNonNull(run)
                        .map(found -> new BenchOutcome.OverRun(TransientComparison.of(capture, found.of(signal))));
            }
            return steady.exists()
                    ? Result.of(new BenchOutcome.AtRest(
                            SteadyStateComparison.of(capture, steady.get().of(signal))))
                    : Result.missing("there is no steady state to compare with");
        } catch (IllegalArgumentException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }

    private static Result<ConverterTransient> run(
            Converter converter, Result<ConverterSteadyState> steady, TransientPlan plan) {
        Change[] changes = plan.changes().toArray(new Change[0]);
        if (!plan.fromSteadyState()) {
            return Result.of(converter.startUp(plan.duration(), changes));
        }
        return steady.exists()
                ? Result.of(converter.transientFrom(steady.get(), plan.duration(), plan.changes()))
                : Result.missing("there is no steady state to start from");
    }
}
