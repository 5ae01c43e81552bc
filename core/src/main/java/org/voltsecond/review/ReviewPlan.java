package org.voltsecond.review;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.losses.LossModel;
import org.voltsecond.study.Tolerance;

/**
 * What a review of a converter asks. Immutable.
 *
 * <pre>{@code
 * ReviewPlan plan = ReviewPlan.of(
 *         OperatingCorners.between(new Span(9, 15), new Span(0.2, 2)),
 *         Rating.of("transistor", Rating.Measure.VOLTAGE, 30, "Q1").derated(0.8));
 * int ratings = plan.ratings().size(); // 1
 * }</pre>
 *
 * @param corners over which input and load it works; null for its operating point alone
 * @param ratings what its parts stand
 * @param tolerances of its parts, whose corners count as well where there are ratings
 * @param losses what ideal switching leaves out
 * @param heat the thermal model, for ratings of temperatures; null for none
 */
public record ReviewPlan(
        @Nullable OperatingCorners corners,
        List<Rating> ratings,
        List<Tolerance> tolerances,
        List<LossModel> losses,
        @Nullable HeatModel heat) {
    /**
     * Copies the lists.
     *
     * @param corners over which input and load it works
     * @param ratings what its parts stand
     * @param tolerances of its parts
     * @param losses what ideal switching leaves out
     * @param heat the thermal model
     */
    public ReviewPlan {
        ratings = List.copyOf(ratings);
        tolerances = List.copyOf(tolerances);
        losses = List.copyOf(losses);
    }

    /**
     * Plans a review without tolerances and with conduction losses alone.
     *
     * @param corners over which input and load it works
     * @param ratings what its parts stand
     * @return the plan
     */
    public static ReviewPlan of(OperatingCorners corners, Rating... ratings) {
        return new ReviewPlan(corners, List.of(ratings), List.of(), List.of(), null);
    }
}
