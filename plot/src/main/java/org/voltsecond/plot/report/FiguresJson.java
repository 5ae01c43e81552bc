package org.voltsecond.plot.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.BentPart;
import org.voltsecond.figures.FigureSheet;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.LinearInstead;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.review.Provenance;
import org.voltsecond.study.BoundaryLoad;
import org.voltsecond.units.Result;

/** Writes figures.json: SI units, plain numbers, null with a reason for what does not exist. */
final class FiguresJson {
    private final Findings outcome;

    private FiguresJson(Findings outcome) {
        this.outcome = outcome;
    }

    static void write(Findings outcome, Provenance made, Writer writer) throws IOException {
        try (JsonGenerator json = new JsonFactory().createGenerator(writer)) {
            json.setPrettyPrinter(new DefaultPrettyPrinter());
            FigureSink sink = new FigureSink.Json(json);
            try (JsonObject root = JsonObject.in(sink)) {
                new FiguresJson(outcome).write(root);
                ReviewSection.write(made, root);
            }
            json.writeRaw('\n');
        }
    }

    /** Tells the same figures to anyone. */
    static void write(Findings outcome, FigureSink json) throws IOException {
        try (JsonObject root = JsonObject.in(json)) {
            new FiguresJson(outcome).write(root);
        }
    }

    /** All of them at their places. */
    static List<PlacedFigure> figures(Findings outcome) {
        FigureSink.Places places = new FigureSink.Places();
        try {
            write(outcome, places);
        } catch (IOException e) {
            throw new UncheckedIOException("nothing that is kept in memory fails", e);
        }
        return places.figures();
    }

    /** Tells those alone that follow from one operating point and its run. */
    static void writePoint(Findings outcome, FigureSink json) throws IOException {
        try (JsonObject root = JsonObject.in(json)) {
            new FiguresJson(outcome).writePoint(root);
            StudyJson.writePoint(outcome.studies(), root);
        }
    }

    private void writePoint(JsonObject root) throws IOException {
        writeSteadyState(root);
        Result<FrequencyOutcome> response = outcome.frequencyResponse();
        if (response != null) {
            FrequencyFiles.writeFigures(root, response);
        }
        writeTransient(root);
        writeChecks(root);
    }

    private void write(JsonObject root) throws IOException {
        root.text("name", outcome.name());
        writePoint(root);
        ReviewSection.write(outcome.review(), root);
        BenchSection.write(outcome, root);
        StudyJson.write(outcome.studies(), root);
        if (!outcome.notes().isEmpty()) {
            root.array("notes", array -> {
                for (String note : outcome.notes()) {
                    array.writeString(note);
                }
            });
        }
        root.array("cautions", array -> {
            for (String caution : Cautions.of(outcome)) {
                array.writeString(caution);
            }
        });
    }

    private void writeSteadyState(JsonObject root) throws IOException {
        if (!outcome.steadyState().exists()) {
            root.missing("steady_state", outcome.steadyState().reason());
            return;
        }
        ConverterSteadyState steady = outcome.steadyState().get();
        try (JsonObject object = root.object("steady_state")) {
            object.text("conduction", steady.conduction().name().toLowerCase(Locale.ROOT));
            object.count("periods", (int) Math.round(Figures.PERIODS.of(steady).get()));
            object.sheet(FigureSheet.of(steady));
            Optional<OutputRegulation> regulation = steady.regulation();
            if (regulation.isPresent()) {
                writeRegulation(object, regulation.get());
            }
            writeLinear(object, LinearInstead.of(steady));
            Result<BoundaryLoad> boundary = outcome.boundary();
            if (boundary != null) {
                writeBoundary(object, boundary);
            }
            writeBending(object, BentPart.of(steady.converter(), steady));
            RingingSection.write(object, steady);
            writeStability(object, steady.periodic());
        }
    }

    private static void writeRegulation(JsonObject object, OutputRegulation found) throws IOException {
        try (JsonObject regulation = object.object("regulation")) {
            regulation.flag("in_regulation", found.inRegulation());
            if (found.heldBy().isPresent()) {
                regulation.text("held_by", found.heldBy().get().key());
            }
            regulation.sheet(FigureSheet.of(found));
        }
    }

    private static void writeBoundary(JsonObject object, Result<BoundaryLoad> found) throws IOException {
        if (!found.exists()) {
            object.missing("conduction_boundary", found.reason());
            return;
        }
        try (JsonObject boundary = object.object("conduction_boundary")) {
            boundary.number("load_current", found.get().current())
                    .number("load_resistance", found.get().resistance());
        }
    }

    private static void writeLinear(JsonObject object, Result<LinearInstead> found) throws IOException {
        if (!found.exists()) {
            object.missing("linear_regulator", found.reason());
            return;
        }
        try (JsonObject linear = object.object("linear_regulator")) {
            linear.sheet(FigureSheet.of(found.get()));
        }
    }

    private static void writeBending(JsonObject object, List<BentPart> parts) throws IOException {
        if (parts.isEmpty()) {
            return;
        }
        try (JsonObject bending = object.object("bending")) {
            for (BentPart part : parts) {
                try (JsonObject each = bending.object(part.name())) {
                    each.number("peak", part.peak())
                            .number("value_at_rest", part.value())
                            .number("value_at_peak", part.valueAt(part.peak()))
                            .number("left", part.left());
                    if (part.isInductor()) {
                        each.flag("saturated", part.isSaturated());
                    }
                }
            }
        }
    }

    static void writeStability(JsonObject object, SteadyState steady) throws IOException {
        try (JsonObject stability = object.object("stability")) {
            stability.array("multipliers", array -> {
                for (var multiplier : steady.multipliers()) {
                    array.writeStartArray();
                    array.writeNumber(multiplier.real());
                    array.writeNumber(multiplier.imaginary());
                    array.writeEndArray();
                }
            });
            stability.flag("stable", steady.isStable());
        }
    }

    private void writeTransient(JsonObject root) throws IOException {
        Result<TransientFigures> found = outcome.transientRun();
        if (found == null) {
            return;
        }
        if (!found.exists()) {
            root.missing("transient", found.reason());
            return;
        }
        TransientFigures result = found.get();
        try (JsonObject object = root.object("transient")) {
            object.sheet(FigureSheet.of(result));
            if (result.start().exists()) {
                try (JsonObject start = object.object("start")) {
                    start.sheet(FigureSheet.ofStart(result.start().get()));
                }
            }
            object.array("changes", array -> {
                for (StepFigures change : result.changes()) {
                    try (JsonObject each = JsonObject.in(array)) {
                        each.sheet(FigureSheet.of(change));
                    }
                }
            });
        }
    }

    private void writeChecks(JsonObject root) throws IOException {
        if (outcome.checks().isEmpty()) {
            return;
        }
        root.array("checks", array -> {
            for (LimitCheck check : outcome.checks()) {
                try (JsonObject object = JsonObject.in(array)) {
                    object.text("limit", check.limit().key());
                    object.number("bound", check.bound());
                    object.number("value", check.value());
                    if (check.isKnown()) {
                        object.text("where", check.where());
                        object.flag("met", check.isMet());
                        object.number("margin", check.margin());
                    }
                }
            }
        });
    }
}
