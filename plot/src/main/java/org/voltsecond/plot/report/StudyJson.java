package org.voltsecond.plot.report;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.StageNames;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.FigureSheet;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.sizing.CornerMargin;
import org.voltsecond.sizing.CornerResult;
import org.voltsecond.sizing.LoopCheck;
import org.voltsecond.sizing.LoopCornerResult;
import org.voltsecond.sizing.PartsCheck;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.sizing.StageOption;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.study.ToleranceFigure;
import org.voltsecond.study.ToleranceTable;
import org.voltsecond.units.Result;

/** Writes what studies found into the figures. */
final class StudyJson {
    private final JsonObject root;

    private StudyJson(JsonObject root) {
        this.root = root;
    }

    /** What follows from one operating point. */
    static void writePoint(StudyOutcome studies, JsonObject root) throws IOException {
        StudyJson json = new StudyJson(root);
        json.either("losses", studies.losses(), (object, losses) -> writeBudget(object, losses));
        json.either("heat", studies.heat(), (object, heat) -> object.sheet(FigureSheet.of(heat)));
    }

    static void write(StudyOutcome studies, JsonObject root) throws IOException {
        StudyJson json = new StudyJson(root);
        json.either("losses", studies.losses(), (object, losses) -> {
            writeBudget(object, losses);
            writeCurve(object, losses.curve());
        });
        json.either("heat", studies.heat(), (object, heat) -> object.sheet(FigureSheet.of(heat)));
        json.either("map", studies.map(), json::writeMap);
        json.either("tolerance", studies.tolerance(), json::writeTolerance);
        json.either("sizing", studies.sizing(), json::writeSizing);
        json.either("loop_at_corners", studies.loop(), json::writeLoop);
        json.either("emissions", studies.emissions(), (object, found) -> found.write(object));
    }

    /** Writes one object. */
    @FunctionalInterface
    private interface Content<T> {
        void write(JsonObject object, T found) throws IOException;
    }

    private <T> void either(String key, @Nullable Result<T> found, Content<T> content) throws IOException {
        if (found == null) {
            return;
        }
        if (!found.exists()) {
            root.missing(key, found.reason());
            return;
        }
        try (JsonObject object = root.object(key)) {
            content.write(object, found.get());
        }
    }

    private static void writeBudget(JsonObject object, StudyOutcome.Losses losses) throws IOException {
        object.array("entries", array -> {
            for (LossEntry entry : losses.budget().entries()) {
                try (JsonObject each = JsonObject.in(array)) {
                    each.text("part", StageNames.key(entry.part()))
                            .text("cause", StageNames.key(entry.cause()))
                            .number("power", entry.power());
                }
            }
        });
        object.number("total", losses.budget().total());
        object.number("efficiency", losses.budget().efficiency(), "no power is delivered");
        if (!losses.fluxDensities().isEmpty()) {
            try (JsonObject flux = object.object("flux_density")) {
                for (Map.Entry<String, Double> core : losses.fluxDensities().entrySet()) {
                    flux.number(core.getKey(), core.getValue());
                }
            }
        }
    }

    private static void writeCurve(JsonObject object, EfficiencyCurve curve) throws IOException {
        try (JsonObject over = object.object("efficiency_over_load")) {
            over.number("output_voltage", curve.outputVoltage());
            over.number(
                    "linear_regulator_limit",
                    curve.linearLimit().orElse(Double.NaN),
                    "a linear regulator neither steps up nor inverts");
            numbers(
                    over,
                    "load_current",
                    curve.points().stream()
                            .map(EfficiencyCurve.Point::loadCurrent)
                            .toList());
            numbers(
                    over,
                    "efficiency",
                    curve.points().stream()
                            .map(point -> point.budget().efficiency())
                            .toList());
            over.number("loads_not_reached", curve.failures().size());
        }
    }

    private static void numbers(JsonObject object, String key, List<Double> values) throws IOException {
        object.array(key, array -> {
            for (double value : values) {
                number(array, value);
            }
        });
    }

    private static void number(FigureSink array, double value) throws IOException {
        if (Double.isFinite(value)) {
            array.writeNumber(value);
        } else {
            array.writeNull();
        }
    }

    private void writeMap(JsonObject object, OperatingMap map) throws IOException {
        object.text("across", StageNames.key(map.across().name()));
        object.text("up", StageNames.key(map.up().name()));
        object.number("points", (double) map.across().size() * map.up().size());
        object.number("failures", map.failures());
        if (map.heldOutput().isPresent()) {
            object.number("output_voltage", map.heldOutput().getAsDouble());
        }
        try (JsonObject figures = object.object("figures")) {
            for (int k = 0; k < map.figures().size(); k++) {
                try (JsonObject each = figures.object(StudyFiles.key(map, k))) {
                    each.number("minimum", map.least(k), "no point has it")
                            .number("maximum", map.most(k), "no point has it");
                }
            }
        }
        object.array("boundary", lines -> {
            for (MapLine line : map.boundary()) {
                lines.writeStartArray();
                for (MapLine.Spot spot : line.spots()) {
                    lines.writeStartArray();
                    lines.writeNumber(spot.across());
                    lines.writeNumber(spot.up());
                    lines.writeEndArray();
                }
                lines.writeEndArray();
            }
        });
    }

    private void writeTolerance(JsonObject object, ToleranceTable table) throws IOException {
        object.number("designs", table.designs());
        object.number("seed", (double) table.seed());
        object.number("failures", table.failures().size());
        try (JsonObject figures = object.object("figures")) {
            for (ToleranceTable.Row row : table.rows()) {
                try (JsonObject each = figures.object(row.figure().key())) {
                    for (ToleranceFigure told : ToleranceFigure.values()) {
                        each.number(told.key(), told.of(table, row));
                    }
                }
            }
        }
    }

    private void writeSizing(JsonObject object, StudyOutcome.Sizing sizing) throws IOException {
        PartsProposal proposal = sizing.proposal();
        if (proposal != null) {
            writeProposal(object, proposal);
        }
        writeCheck(object, sizing.check());
        StageChoice choice = sizing.choice();
        if (choice != null) {
            writeChoice(object, choice);
        }
    }

    private static void writeProposal(JsonObject object, PartsProposal proposal) throws IOException {
        object.number("least_inductance", proposal.leastInductance())
                .number("inductance", proposal.inductance())
                .number("least_capacitance", proposal.leastCapacitance())
                .number("capacitance", proposal.capacitance())
                .number("largest_series_resistance", proposal.largestSeriesResistance())
                .number("series_resistance", proposal.seriesResistance())
                .number("lowest_duty_cycle", proposal.dutyCycle().low())
                .number("highest_duty_cycle", proposal.dutyCycle().high());
    }

    private void writeCheck(JsonObject object, PartsCheck check) throws IOException {
        object.flag("passes", check.passes());
        if (check.binding().isPresent()) {
            CornerMargin binding = check.binding().get();
            try (JsonObject each = object.object("binding")) {
                each.text("limit", binding.limit().label())
                        .number("value", binding.value())
                        .number("allowed", binding.allowed())
                        .number("margin", binding.margin())
                        .number("input_voltage", binding.corner().inputVoltage())
                        .number("load_current", binding.corner().loadCurrent());
            }
        }
        object.array("corners", array -> {
            for (CornerResult corner : check.results()) {
                writeCorner(array, corner);
            }
        });
        object.count("corners_not_reached", check.failures().size());
    }

    private void writeLoop(JsonObject object, LoopCheck check) throws IOException {
        object.flag("stable", check.isStable());
        object.array("corners", array -> {
            for (LoopCornerResult result : check.results()) {
                writeLoop(array, result);
            }
        });
        object.count("corners_not_reached", check.failures().size());
    }

    private static void writeLoop(FigureSink array, LoopCornerResult result) throws IOException {
        String none = "none in the range of frequencies";
        try (JsonObject each = JsonObject.in(array)) {
            each.number("input_voltage", result.corner().inputVoltage())
                    .number("load_current", result.corner().loadCurrent())
                    .number(
                            "crossover_frequency",
                            result.margins().crossoverFrequency().orElse(Double.NaN),
                            none)
                    .number("phase_margin", result.margins().phaseMargin().orElse(Double.NaN), none)
                    .number(
                            "gain_margin",
                            result.margins().gainMargin().orElse(Double.NaN),
                            result.margins().gain().reason())
                    .number(
                            "gain_reduction_margin",
                            result.margins().gainReductionMargin().orElse(Double.NaN),
                            result.margins().gainReduction().reason());
            each.flag("stable", result.stable());
        }
    }

    private static void writeChoice(JsonObject object, StageChoice choice) throws IOException {
        object.array("stages", array -> {
            for (StageOption option : choice.options()) {
                writeOption(array, option);
            }
        });
        if (choice.linear().isEmpty()) {
            object.missing("linear_regulator", "it neither steps up nor inverts");
            return;
        }
        StageChoice.Linear linear = choice.linear().get();
        try (JsonObject figures = object.object("linear_regulator")) {
            figures.number("lowest_efficiency", linear.efficiency().low())
                    .number("highest_efficiency", linear.efficiency().high())
                    .number("heat", linear.heat());
        }
    }

    private static void writeOption(FigureSink array, StageOption option) throws IOException {
        try (JsonObject each = JsonObject.in(array)) {
            each.text("topology", option.topology().toString());
            each.flag("possible", option.isPossible());
            if (option.isPossible()) {
                each.number("lowest_duty_cycle", option.dutyCycle().low())
                        .number("highest_duty_cycle", option.dutyCycle().high())
                        .number("inductor_current", option.inductorCurrent())
                        .number("blocked_voltage", option.blockedVoltage());
            } else {
                each.text("obstacle", option.obstacle());
            }
        }
    }

    private static void writeCorner(FigureSink array, CornerResult corner) throws IOException {
        try (JsonObject each = JsonObject.in(array)) {
            for (Figure<CornerResult> figure : CornerResult.figures()) {
                each.number(figure.key(), figure.of(corner));
            }
            each.text("conduction", corner.conduction().name().toLowerCase(Locale.ROOT));
        }
    }
}
