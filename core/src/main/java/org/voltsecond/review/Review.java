package org.voltsecond.review;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Occasions;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

/**
 * What a design review asks of a converter: each rating at the worst of the operating point, all corners and a run; figures at each
 * corner; line and load regulation, and dropout. Immutable.
 *
 * <pre>{@code
 * ReviewPlan plan = ReviewPlan.of(
 *         OperatingCorners.between(new Span(9, 15), new Span(0.2, 2)),
 *         Rating.of("transistor", Rating.Measure.VOLTAGE, 15, "Q1").derated(0.8));
 * Review review = Review.of(plan, rail, null);
 * StressCheck voltage = review.stresses().get(0);
 * String where = voltage.where(); // "corner 15 V, 2 A"
 * boolean met = voltage.isMet(); // false
 * }</pre>
 *
 * @param plan what was asked
 * @param corners the converter at each corner of input and load; of a plan without corners none
 * @param toleranceCorners further ones, at which its parts are off their nominal values
 * @param stresses each rating at its worst
 * @param regulation line and load regulation; null without corners
 * @param dropout at full load, or at its own load without corners
 */
public record Review(
        ReviewPlan plan,
        List<CornerState> corners,
        List<CornerState> toleranceCorners,
        List<StressCheck> stresses,
        @Nullable LineAndLoad regulation,
        Result<Dropout> dropout) {
    /**
     * Copies the lists.
     *
     * @param plan what was asked
     * @param corners the converter at each corner of input and load
     * @param toleranceCorners further ones, at which its parts are off their nominal values
     * @param stresses each rating at its worst
     * @param regulation line and load regulation
     * @param dropout at full load
     */
    public Review {
        corners = List.copyOf(corners);
        toleranceCorners = List.copyOf(toleranceCorners);
        stresses = List.copyOf(stresses);
    }

    /**
     * Reviews a converter.
     *
     * @param plan what is asked
     * @param converter the converter
     * @param run of it; null for none
     * @return what is found
     */
    public static Review of(ReviewPlan plan, Converter converter, @Nullable TransientFigures run) {
        Result<ConverterSteadyState> steady = OperatingCorners.steadyState(converter);
        return of(plan, converter, steady, corners(plan, converter, steady), run);
    }

    /**
     * Computes the corners of a plan.
     *
     * @param plan what is asked
     * @param converter the converter
     * @param steady its steady state at its operating point, or why there is none
     * @return the converter at each corner of input and load
     */
    public static List<CornerState> corners(ReviewPlan plan, Converter converter, Result<ConverterSteadyState> steady) {
        return plan.corners() == null ? List.of() : plan.corners().states(converter, steady);
    }

    /**
     * Reviews a converter of which the steady states are known.
     *
     * @param plan what is asked
     * @param converter the converter
     * @param steady its steady state at its operating point, or why there is none
     * @param corners as of {@link #corners(ReviewPlan, Converter, Result)}
     * @param run of it; null for none
     * @return what is found
     */
    public static Review of(
            ReviewPlan plan,
            Converter converter,
            Result<ConverterSteadyState> steady,
            List<CornerState> corners,
            @Nullable TransientFigures run) {
        Function<ConverterSteadyState, Result<HeatBalance>> balance = balances(plan.heat());
        List<CornerState> off = toleranceCorners(plan, corners, balance);
        Occasions occasions = with(with(Occasions.of(steady), corners), off);
        Occasions all = run == null ? occasions : occasions.with(run);
        return new Review(
                plan,
                corners,
                off,
                plan.ratings().stream()
                        .map(rating -> rating.check(all, balance))
                        .toList(),
                regulation(plan.corners(), converter, corners),
                dropout(plan.corners(), converter));
    }

    /**
     * Adds corners to what is looked at.
     *
     * @param occasions what is looked at already
     * @param corners the corners
     * @return all
     */
    public static Occasions with(Occasions occasions, List<CornerState> corners) {
        Occasions all = occasions;
        for (CornerState corner : corners) {
            all = all.with(corner.where(), corner.steady());
        }
        return all;
    }

    /** Each balance is sought once. */
    private static Function<ConverterSteadyState, Result<HeatBalance>> balances(@Nullable HeatModel heat) {
        if (heat == null) {
            return steady -> Result.missing("no thermal model is given");
        }
        Map<ConverterSteadyState, Result<HeatBalance>> known = new ConcurrentHashMap<>();
        return steady -> known.computeIfAbsent(steady, heat::balance);
    }

    /** Those of each corner of the operation at which a rating is at its worst. */
    private static List<CornerState> toleranceCorners(
            ReviewPlan plan, List<CornerState> corners, Function<ConverterSteadyState, Result<HeatBalance>> balance) {
        OperatingCorners range = plan.corners();
        if (range == null || plan.tolerances().isEmpty()) {
            return List.of();
        }
        Map<CornerState, List<ToDoubleFunction<ConverterSteadyState>>> worst = new LinkedHashMap<>();
        List<CornerState> reached =
                corners.stream().filter(corner -> corner.steady().exists()).toList();
        for (Rating rating : plan.ratings()) {
            ToDoubleFunction<ConverterSteadyState> stress = steady ->
                    rating.check(Occasions.of(steady), balance).check().value().orElse(Double.NEGATIVE_INFINITY);
            reached.stream()
                    .max(Comparator.comparingDouble(
                            corner -> stress.applyAsDouble(corner.steady().get())))
                    .ifPresent(corner -> worst.computeIfAbsent(corner, any -> new ArrayList<>())
                            .add(stress));
        }
        List<CornerState> all = new ArrayList<>();
        worst.forEach((corner, stresses) ->
                all.addAll(new ToleranceCorners(plan.tolerances(), corner, range::held).worstOf(stresses)));
        return all;
    }

    private static @Nullable LineAndLoad regulation(
            @Nullable OperatingCorners range, Converter converter, List<CornerState> corners) {
        return range == null
                ? null
                : range.holds(converter) ? LineAndLoad.of(converter, range) : LineAndLoad.of(converter, range, corners);
    }

    private static Result<Dropout> dropout(@Nullable OperatingCorners range, Converter converter) {
        Load load = converter.load();
        if (range != null && converter.target().isPresent()) {
            load = load.drawing(range.load().high(), converter.target().getAsDouble());
        }
        return Dropout.of(converter.withLoad(load));
    }

    /** {@return those ratings that are not met, in the order of the plan; such of which nothing is known are not among them} */
    public List<StressCheck> notMet() {
        return stresses.stream()
                .filter(stress -> stress.check().isKnown() && !stress.isMet())
                .toList();
    }

    /** {@return the rating with the least share to spare of those of which something is known; null without any} */
    public @Nullable StressCheck tightest() {
        return stresses.stream()
                .filter(stress -> !Double.isNaN(stress.spare()))
                .min(Comparator.comparingDouble(StressCheck::spare))
                .orElse(null);
    }
}
