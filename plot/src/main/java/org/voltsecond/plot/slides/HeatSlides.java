package org.voltsecond.plot.slides;

import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.voltsecond.design.LossPlan;
import org.voltsecond.design.TolerancePlan;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.LinearInstead;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.plot.BarBuilder;
import org.voltsecond.plot.LossPictures;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.explain.ToleranceSpread;
import org.voltsecond.plot.slides.Slide.Draft;
import org.voltsecond.plot.slides.SteadySlides.Orbit;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** What becomes heat, and what tolerances do. */
final class HeatSlides {
    /** Below this part of the output power there is nothing to tell. */
    private static final double NOTHING = 1e-6;

    private static final int MOST_BARS = 6;

    private HeatSlides() {}

    /** All losses where the design says what is needed for them, else those of conduction. */
    private record Heat(Map<String, Double> byPart, Picture picture, boolean whole) {
        static Heat of(Orbit orbit) {
            LossPlan plan = orbit.findings().design() == null
                    ? null
                    : orbit.findings().design().studies().losses();
            Map<String, Double> heat = new LinkedHashMap<>();
            if (plan != null) {
                LossBudget budget = LossBudget.of(orbit.steady(), plan.models());
                for (LossEntry entry : budget.entries()) {
                    heat.merge(entry.part(), entry.power(), Double::sum);
                }
                return new Heat(heat, LossPictures.losses("", budget), true);
            }
            BarBuilder bars = Pictures.bars("", "loss", Unit.WATT);
            orbit.steady().heat().groups().entrySet().stream()
                    .filter(each -> each.getValue() > 0)
                    .sorted(Map.Entry.<String, Double>comparingByValue().reversed())
                    .limit(MOST_BARS)
                    .forEach(each -> {
                        heat.put(each.getKey(), each.getValue());
                        bars.bar(each.getKey(), each.getValue());
                    });
            return new Heat(
                    heat,
                    heat.isEmpty()
                            ? Pictures.bars("", "loss", Unit.WATT).bar("", 0).build()
                            : bars.build(),
                    false);
        }

        String words() {
            return whole ? "All losses that the design asks for." : "Losses of conduction alone.";
        }
    }

    private static double total(Orbit orbit, Heat heat) {
        return heat.whole
                ? heat.byPart.values().stream().mapToDouble(Double::doubleValue).sum()
                : orbit.steady().heat().total();
    }

    static Result<List<Slide>> losses(Orbit orbit) {
        Heat heat = Heat.of(orbit);
        double total = total(orbit, heat);
        Optional<Map.Entry<String, Double>> most =
                heat.byPart.entrySet().stream().max(Comparator.comparingDouble(Map.Entry::getValue));
        if (most.isEmpty() || !(total > NOTHING * orbit.steady().outputPower())) {
            return Result.missing("its ideal parts lose nothing");
        }
        Draft draft = orbit.draft("losses").definition("Mean power over one period. " + heat.words());
        String message = "Most heat by " + most.get().getKey() + ": "
                + draft.tell(most.get().getKey(), most.get().getValue(), Unit.WATT) + " of "
                + draft.tell("total", total, Unit.WATT);
        heat.byPart.forEach((part, power) -> draft.note(part, power, Unit.WATT));
        return Result.of(List.of(draft.of(message, heat.picture)));
    }

    static Result<List<Slide>> linear(Orbit orbit) {
        Result<LinearInstead> linear = LinearInstead.of(orbit.steady());
        if (!linear.exists()) {
            return Result.missing("no linear regulator can stand in its place: " + linear.reason());
        }
        Heat heat = Heat.of(orbit);
        double own = total(orbit, heat);
        Draft draft = orbit.draft("linear")
                .definition(
                        "A linear regulator passes the load current on and turns the difference of the voltages into heat; here at "
                                + "its best, taking no current for itself. " + heat.words());
        String message = "A linear regulator would turn "
                + draft.tell("linear", linear.get().heat(), Unit.WATT) + " into heat, this stage turns "
                + draft.tell("switching", own, Unit.WATT);
        return Result.of(List.of(draft.of(
                message,
                Pictures.bars("", "heat", Unit.WATT)
                        .bar("linear", linear.get().heat())
                        .bar("switching", own)
                        .build())));
    }

    static Result<List<Slide>> tolerance(Orbit orbit) {
        TolerancePlan plan = orbit.findings().design() == null
                ? null
                : orbit.findings().design().studies().tolerance();
        if (plan == null) {
            return Result.missing("no [tolerance] is asked for");
        }
        ToleranceSpread spread;
        try {
            spread = ToleranceSpread.of(
                    orbit.converter(),
                    plan.tolerances(),
                    Figures.OUTPUT_VOLTAGE,
                    Double.NaN,
                    Double.NaN,
                    plan.designs(),
                    plan.seed());
        } catch (IllegalArgumentException | IllegalStateException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
        Draft draft = orbit.draft("tolerance")
                .definition(
                        "Random designs within the tolerances, each in its own steady state. What moves the output most is the largest "
                                + "derivative of it times half the width of the tolerance.");
        int last = spread.bins().size() - 1;
        String message = "The output of " + plan.designs() + " random designs lies from "
                + draft.tell("lowest", spread.bins().get(0).from(), Unit.VOLT) + " to "
                + draft.tell("highest", spread.bins().get(last).to(), Unit.VOLT)
                + spread.contributions().stream()
                        .findFirst()
                        .map(each -> "; the " + each.value() + " moves it most")
                        .orElse("");
        spread.contributions()
                .forEach(each -> draft.note("by the " + each.value(), Math.abs(each.change()), Unit.VOLT));
        return Result.of(List.of(draft.of(message, spread.histogram(""))));
    }
}
