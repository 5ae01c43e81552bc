package org.voltsecond.plot.report;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.design.LossPlan;
import org.voltsecond.design.MapPlan;
import org.voltsecond.design.StudyPlans;
import org.voltsecond.design.TolerancePlan;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.sizing.CornerRequirements;
import org.voltsecond.sizing.LoopCheck;
import org.voltsecond.sizing.PartsCheck;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Specification;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.study.Execution;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.study.ToleranceStudy;
import org.voltsecond.study.ToleranceTable;
import org.voltsecond.units.Result;

/**
 * What a design does beyond one operating point; null for what was not asked for.
 *
 * @param losses all losses, and the efficiency over load
 * @param map figures over two quantities
 * @param tolerance what the tolerances do
 * @param sizing proposed parts, and the check of them
 * @param loop of the regulated design at the corners of the sizing
 * @param emissions emissions into the supply, and the filter that is needed
 * @param heat temperatures, and what capacitors carry
 */
record StudyOutcome(
        @Nullable Result<Losses> losses,
        @Nullable Result<OperatingMap> map,
        @Nullable Result<ToleranceTable> tolerance,
        @Nullable Result<Sizing> sizing,
        @Nullable Result<LoopCheck> loop,
        @Nullable Result<EmissionOutcome> emissions,
        @Nullable Result<HeatBalance> heat) {
    private static final double LIGHTEST = 0.01;

    /**
     * Losses at the load of the design and over loads.
     *
     * @param budget the losses of the steady state
     * @param curve the efficiency over load
     * @param fluxDensities highest magnitude in each core, T, by the inductor or winding
     */
    public record Losses(LossBudget budget, EfficiencyCurve curve, Map<String, Double> fluxDensities) {}

    /**
     * Proposed parts, or those that the design has.
     *
     * @param proposal the parts, refined until every corner passes where that can be had; null for a custom circuit
     * @param check of them, or of the design's own parts, by simulation
     */
    public record Sizing(@Nullable PartsProposal proposal, PartsCheck check) {
        /**
         * Returns what there was to choose from.
         *
         * @return each stage, and a linear regulator, for what the rail is to do; null beside a custom circuit
         */
        public @Nullable StageChoice choice() {
            if (proposal == null) {
                return null;
            }
            Specification wanted = proposal.specification();
            boolean inverts = wanted.topology().isInverting();
            double output = inverts ? -wanted.outputVoltage() : wanted.outputVoltage();
            return StageChoice.of(
                    wanted.input(), output, wanted.load(), wanted.topology().isIsolated());
        }
    }

    static StudyOutcome of(
            StudyPlans plans,
            Converter converter,
            Result<ConverterSteadyState> steady,
            @Nullable Result<FrequencyOutcome> response) {
        LossPlan losses = plans.losses();
        MapPlan map = plans.map();
        TolerancePlan tolerance = plans.tolerance();
        CornerRequirements corners = plans.corners();
        HeatModel heat = plans.heat();
        return new StudyOutcome(
                losses == null
                        ? null
                        : steady.exists()
                                ? Result.of(losses(losses, steady.get()))
                                : Result.missing("there is no steady state"),
                map == null ? null : Result.of(map(map, losses, converter)),
                tolerance == null
                        ? null
                        : steady.exists()
                                ? attempt(() -> tolerance(tolerance, converter))
                                : Result.missing("there is no steady state"),
                corners == null ? null : attempt(() -> sizing(plans.sizing(), corners, converter)),
                corners == null ? null : loop(corners, converter, response),
                plans.emissions() == null ? null : EmissionOutcome.of(plans.emissions()),
                heat == null ? null : steady.flatMap(heat::balance));
    }

    /** Null for a design whose loop was not asked for, or that has none. */
    private static @Nullable Result<LoopCheck> loop(
            CornerRequirements corners, Converter converter, @Nullable Result<FrequencyOutcome> response) {
        boolean hasLoop =
                response != null && response.exists() && response.get().hasLoop();
        return hasLoop ? attempt(() -> LoopCheck.of(converter, corners.input(), corners.load())) : null;
    }

    private static <T> Result<T> attempt(Supplier<T> study) {
        try {
            return Result.of(study.get());
        } catch (SizingException e) {
            return Result.missing(String.join("; ", e.faults()));
        } catch (NoSteadyStateException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }

    /**
     * What follows from one operating point alone: losses without their curve over the load, and temperatures.
     *
     * @param heated whether to work out the temperatures, which takes several steady states
     */
    static StudyOutcome ofPoint(StudyPlans plans, Result<ConverterSteadyState> steady, boolean heated) {
        LossPlan losses = plans.losses();
        HeatModel heat = heated ? plans.heat() : null;
        return new StudyOutcome(
                losses == null ? null : steady.map(found -> losses(losses, found, new double[0])),
                null,
                null,
                null,
                null,
                null,
                heat == null ? null : steady.flatMap(heat::balance));
    }

    private static Losses losses(LossPlan plan, ConverterSteadyState steady) {
        double own = Math.abs(steady.of(steady.converter().loadCurrent()).mean());
        double high = Double.isNaN(plan.highestLoad()) ? own : plan.highestLoad();
        double low = Double.isNaN(plan.lowestLoad()) ? LIGHTEST * high : plan.lowestLoad();
        return losses(plan, steady, EfficiencyCurve.loads(low, high, plan.points()));
    }

    private static Losses losses(LossPlan plan, ConverterSteadyState steady, double[] loads) {
        Converter converter = steady.converter();
        double output = Double.isNaN(plan.outputVoltage())
                ? Math.abs(steady.of(converter.outputVoltage()).mean())
                : plan.outputVoltage();
        Map<String, Double> flux = new LinkedHashMap<>();
        plan.cores().forEach(core -> flux.putAll(core.peaks(converter, steady::of)));
        return new Losses(
                LossBudget.of(steady, plan.models()),
                EfficiencyCurve.of(converter, output, plan.models(), loads),
                flux);
    }

    /** A map tells the same efficiency as the curve over the load: with all losses where the design has some. */
    private static OperatingMap map(MapPlan plan, @Nullable LossPlan losses, Converter converter) {
        Figure<ConverterSteadyState> efficiency = Figures.efficiency(losses == null ? List.of() : losses.models());
        List<Figure<ConverterSteadyState>> figures = plan.figures().values().stream()
                .<Figure<ConverterSteadyState>>map(figure -> figure.equals(Figures.EFFICIENCY) ? efficiency : figure)
                .toList();
        return Double.isNaN(plan.outputVoltage())
                ? OperatingMap.of(converter, plan.across(), plan.up(), figures, Execution.standard())
                : OperatingMap.holding(
                        converter, plan.outputVoltage(), plan.across(), plan.up(), figures, Execution.standard());
    }

    private static ToleranceTable tolerance(TolerancePlan plan, Converter converter) {
        return ToleranceStudy.of(converter, plan.tolerances(), Figures.usual())
                .run(plan.designs(), plan.seed(), Execution.standard());
    }

    private static Sizing sizing(@Nullable Specification wanted, CornerRequirements corners, Converter converter) {
        if (wanted == null) {
            return new Sizing(null, PartsCheck.of(converter, corners));
        }
        PartsProposal proposal = PartsProposal.of(wanted).refined();
        return new Sizing(proposal, proposal.check());
    }
}
