package org.voltsecond.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.constraints.LongRange;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Occasions;
import org.voltsecond.review.Rating.Measure;
import org.voltsecond.sizing.Span;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Tolerance;

/** A stress is told at its worst: no corner has a larger one, and the one that is named has just that. */
class ReviewProperties {
    private static final List<Rating> RATINGS = ratings();

    private static List<Rating> ratings() {
        List<Rating> ratings = new ArrayList<>();
        for (Measure measure : List.of(Measure.VOLTAGE, Measure.CURRENT, Measure.RMS, Measure.MEAN)) {
            for (String part : List.of("Q1", "D1", "L1", "C1")) {
                ratings.add(Rating.of(part, measure, 10, part));
            }
        }
        return ratings;
    }

    @Property(tries = 30, shrinking = ShrinkingMode.OFF)
    void noCornerPassesTheWorst(@ForAll @LongRange(min = 1, max = 1_000_000_000) long key) {
        Random random = new Random(key);
        Converter stage = stage(random);
        OperatingCorners corners = OperatingCorners.between(
                new Span(8, 10 + 20 * random.nextDouble()), new Span(0.05, 0.2 + random.nextDouble()));
        List<Tolerance> tolerances = Stream.of(StageValue.INDUCTANCE, StageValue.CAPACITANCE, StageValue.ON_RESISTANCE)
                .filter(value -> random.nextBoolean())
                .map(value -> Tolerance.relative(stage, value, 0.3 * random.nextDouble()))
                .toList();
        Review review = Review.of(new ReviewPlan(corners, RATINGS, tolerances, List.of(), null), stage, null);
        List<CornerState> all = Stream.concat(review.corners().stream(), review.toleranceCorners().stream())
                .toList();
        assertThat(review.stresses()).hasSize(RATINGS.size());
        for (StressCheck stress : review.stresses()) {
            double worst = stress.check().value().get();
            for (CornerState corner : all) {
                double own = stress.rating()
                        .check(Occasions.of(corner.steady()))
                        .check()
                        .value()
                        .get();
                assertThat(own).as("%s at %s of key %d", stress, corner, key).isLessThanOrEqualTo(worst);
                if (corner.where().equals(stress.where())) {
                    assertThat(own).isEqualTo(worst);
                }
            }
        }
    }

    private static Converter stage(Random random) {
        PowerStage stage = switch (random.nextInt(3)) {
            case 0 -> PowerStage.buck();
            case 1 -> PowerStage.boost();
            default -> PowerStage.invertingBuckBoost();
        };
        return stage.input(12)
                .inductor(micro(10 + 90 * random.nextDouble()), milli(50 * random.nextDouble()))
                .outputCapacitor(micro(10 + 90 * random.nextDouble()), milli(20 * random.nextDouble()))
                .transistor(milli(1 + 100 * random.nextDouble()))
                .rectifier(0.5 * random.nextDouble(), milli(20 * random.nextDouble()))
                .load(Load.resistor(5 + 20 * random.nextDouble()))
                .drive(Drive.fixedDuty(0.2 + 0.5 * random.nextDouble(), kilo(300)));
    }
}
