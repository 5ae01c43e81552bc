package org.voltsecond.plot.report;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.Told;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.sizing.LoopCheck;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.sizing.StageOption;
import org.voltsecond.stage.Topology;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.study.ToleranceTable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** One row of the terminal's table for each study. */
final class StudyRows {
    /** A change to first order below this share is that of round-off. */
    private static final double HELD = 1e-9;

    private final Map<String, String> rows = new LinkedHashMap<>();

    private StudyRows() {}

    static Map<String, String> of(StudyOutcome studies) {
        StudyRows rows = new StudyRows();
        rows.add("losses in all", studies.losses(), losses -> losses(losses.budget()));
        rows.add("temperatures", studies.heat(), HeatSection::row);
        rows.add("map", studies.map(), StudyRows::map);
        rows.add("tolerances", studies.tolerance(), StudyRows::tolerance);
        Result<StudyOutcome.Sizing> sizing = studies.sizing();
        boolean own = sizing != null && sizing.exists() && sizing.get().choice() == null;
        if (!own) {
            rows.add(
                    "stage",
                    sizing,
                    found -> stage(
                            Objects.requireNonNull(found.choice()),
                            Objects.requireNonNull(found.proposal())
                                    .specification()
                                    .topology()));
        }
        rows.add(own ? "corners" : "sizing", sizing, StudyRows::sizing);
        rows.add("loop at the corners", studies.loop(), StudyRows::loop);
        rows.add("emissions", studies.emissions(), EmissionOutcome::row);
        return rows.rows;
    }

    private <T> void add(String label, @Nullable Result<T> found, Function<T, String> words) {
        if (found != null) {
            rows.put(label, found.exists() ? words.apply(found.get()) : "none: " + found.reason());
        }
    }

    private static String losses(LossBudget budget) {
        return Told.quantity(budget.total(), Unit.WATT, 4)
                + String.format(Locale.ROOT, ", efficiency %.2f %%", 100 * budget.efficiency());
    }

    private static String map(OperatingMap map) {
        int corners =
                map.boundary().stream().mapToInt(line -> line.spots().size()).sum();
        int points = map.across().size() * map.up().size();
        if (map.failures() == points) {
            return "none of " + points + " points has a steady state; map.csv has the reason of each";
        }
        return map.across().size() + " x " + map.up().size() + " points, " + map.failures()
                + " without a steady state, "
                + (corners == 0
                        ? "one mode of conduction throughout"
                        : "boundary of conduction traced through " + corners + " points");
    }

    private static String tolerance(ToleranceTable table) {
        // what a regulator holds has no tolerance, and nothing to tell
        ToleranceTable.Row output = table.rows().stream()
                .filter(row -> row.firstOrder() > HELD * Math.abs(row.nominal()))
                .findFirst()
                .orElse(table.rows().get(0));
        Unit unit = output.figure().unit();
        return output.figure() + " " + Told.quantity(output.nominal(), unit, 4) + ", worst case "
                + Told.quantity(output.worstCase().lowest(), unit, 4) + " to "
                + Told.quantity(output.worstCase().highest(), unit, 4) + ", root-sum-square ± "
                + Told.quantity(output.rootSumSquare(), unit, 3) + ", " + table.designs() + " drawn from "
                + Told.quantity(output.drawn().minimum(), unit, 4) + " to "
                + Told.quantity(output.drawn().maximum(), unit, 4)
                + (table.failures().isEmpty() ? "" : ", " + table.failures().size() + " without a steady state");
    }

    private static String loop(LoopCheck check) {
        return (check.isStable() ? "stable at every corner" : "not stable at every corner")
                + check.worst()
                        .filter(worst -> worst.margins().phaseMargin().isPresent())
                        .map(worst -> String.format(
                                Locale.ROOT,
                                "; least phase margin %.1f° at %s",
                                worst.margins().phaseMargin().getAsDouble(),
                                worst.corner()))
                        .orElse("");
    }

    /** The design's own stage, and where that is none of those to choose from the simplest that gives the output. */
    private static String stage(StageChoice choice, Topology own) {
        String stage = choice.options().stream()
                .filter(option -> option.topology().key().equals(own.key()))
                .map(StageOption::toString)
                .findFirst()
                .orElse(choice.toString());
        return stage
                + choice.linear()
                        .map(linear -> String.format(
                                Locale.ROOT,
                                "; a linear regulator: %.1f %% to %.1f %% at most, up to %s of heat",
                                100 * linear.efficiency().low(),
                                100 * linear.efficiency().high(),
                                Told.quantity(linear.heat(), Unit.WATT, 4)))
                        .orElse("");
    }

    private static String sizing(StudyOutcome.Sizing sizing) {
        PartsProposal proposal = sizing.proposal();
        String parts = proposal == null
                ? "with its own parts, "
                : Quantity.format(proposal.inductance(), Unit.HENRY) + ", "
                        + Quantity.format(proposal.capacitance(), Unit.FARAD) + ", ";
        return parts
                + (sizing.check().passes() ? "every corner passes" : "not every corner passes")
                + sizing.check().binding().map(binding -> "; binds: " + binding).orElse("");
    }
}
