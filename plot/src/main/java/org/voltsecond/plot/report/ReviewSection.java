package org.voltsecond.plot.report;

import java.io.IOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Headlines;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.Told;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.review.CornerState;
import org.voltsecond.review.Dropout;
import org.voltsecond.review.LineAndLoad;
import org.voltsecond.review.Provenance;
import org.voltsecond.review.Rating;
import org.voltsecond.review.Review;
import org.voltsecond.review.StressCheck;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** What a design review asks, told on the page, in figures.json and on the terminal: ratings, corners, regulation, dropout. */
final class ReviewSection {
    private static final int DIGITS = 4;

    private final Review review;

    private ReviewSection(Review review) {
        this.review = review;
    }

    /** Beside the limits, near the top. */
    static void addRatings(Page page, Findings outcome) {
        Review review = outcome.review();
        if (review != null && !review.stresses().isEmpty()) {
            page.heading("Ratings")
                    .paragraph(
                            "Each at the worst of " + new ReviewSection(review).lookedAt(outcome.transientRun() != null)
                                    + ". Allowed is the rating of the data sheet times the derating.")
                    .table(ratings(review.stresses()));
        }
    }

    private String lookedAt(boolean run) {
        List<String> places = new ArrayList<>(List.of("the steady state"));
        if (run) {
            places.add("the transient");
        }
        if (!review.corners().isEmpty()) {
            places.add(review.corners().size() + " corners of input and load");
        }
        if (!review.toleranceCorners().isEmpty()) {
            places.add(review.toleranceCorners().size() + " designs at the ends of the tolerances");
        }
        int last = places.size() - 1;
        return last == 0 ? places.get(0) : String.join(", ", places.subList(0, last)) + " and " + places.get(last);
    }

    private static PageTable ratings(List<StressCheck> stresses) {
        PageTable table =
                PageTable.headed("rating", "part", "rated", "derating", "allowed", "found", "where", "verdict");
        for (StressCheck stress : stresses) {
            Rating rating = stress.rating();
            LimitCheck check = stress.check();
            table.row(List.of(
                    Cell.of(rating.toString()),
                    Cell.of(stress.part()),
                    Cell.of(ReportTables.format(rating.value(), rating.unit())),
                    Cell.of(ReportTables.percent(rating.derating())),
                    Cell.of(ReportTables.format(rating.allowed(), rating.unit())),
                    Cell.of(ReportTables.together(check.found())),
                    Cell.of(unbroken(check.where())),
                    new Cell(unbroken(check.verdict()), ReportTables.tone(check))));
        }
        return table;
    }

    /** Numbers and units stay on one line. */
    private static String unbroken(String text) {
        return text.replaceAll("(?<=\\d) (?=[^\\s\\d(]{1,3}\\b|%)", "\u00a0");
    }

    /** The corners, and what the output does over them. */
    static void addCorners(Page page, @Nullable Review review) {
        if (review == null) {
            return;
        }
        ReviewSection section = new ReviewSection(review);
        if (review.corners().isEmpty()) {
            page.heading("Dropout").table(section.regulation());
            return;
        }
        page.heading("Corners");
        if (section.holds()) {
            page.paragraph(
                    "At each corner the duty cycle is the one that holds the output; line and load regulation are those of"
                            + " the duty cycle of the design.");
        }
        if (review.plan().losses().isEmpty()) {
            page.paragraph("Losses and efficiency count conduction alone.");
        }
        page.table(section.corners()).table(section.regulation());
        section.states()
                .filter(corner -> !corner.steady().exists())
                .forEach(corner ->
                        page.paragraph(corner.where() + ": " + corner.steady().reason()));
    }

    private boolean holds() {
        return review.plan().corners() != null
                && !Double.isNaN(review.plan().corners().outputVoltage())
                && review.corners().stream()
                        .anyMatch(corner -> corner.steady()
                                .map(steady -> !steady.converter().isRegulated())
                                .orElse(false));
    }

    /** Those of input and load, and of those of the tolerances the ones at which a rating is at its worst. */
    private Stream<CornerState> states() {
        Set<String> worst = review.stresses().stream().map(StressCheck::where).collect(Collectors.toSet());
        return Stream.concat(
                review.corners().stream(),
                review.toleranceCorners().stream().filter(corner -> worst.contains(corner.where())));
    }

    private List<Figure<ConverterSteadyState>> figures() {
        return CornerState.figures(review.plan().losses());
    }

    private PageTable corners() {
        List<String> headings = new ArrayList<>(List.of("input", "load"));
        boolean off = states().anyMatch(corner -> !corner.parts().isEmpty());
        if (off) {
            headings.add("parts");
        }
        headings.add("conduction");
        figures().forEach(figure -> headings.add(figure.key().replace('_', ' ')));
        PageTable table = PageTable.headed(headings.toArray(new String[0]));
        states().filter(corner -> corner.steady().exists()).forEach(corner -> {
            List<String> cells = new ArrayList<>(List.of(
                    ReportTables.format(corner.corner().inputVoltage(), Unit.VOLT),
                    ReportTables.format(corner.corner().loadCurrent(), Unit.AMPERE)));
            if (off) {
                cells.add(corner.parts().isEmpty() ? "nominal" : unbroken(corner.parts()));
            }
            ConverterSteadyState steady = corner.steady().get();
            cells.add(StudyFiles.lower(steady.conduction()));
            figures().forEach(figure -> cells.add(text(figure.of(steady), figure.unit())));
            table.row(cells.toArray(new String[0]));
        });
        return table;
    }

    private static String text(Result<Double> value, Unit unit) {
        return !value.exists()
                ? value.reason()
                : unit == Unit.ONE ? ReportTables.percent(value.get()) : ReportTables.format(value.get(), unit);
    }

    private PageTable regulation() {
        PageTable table = PageTable.headed("figure", "value");
        regulationRows().forEach(table::row);
        return table;
    }

    private Map<String, String> regulationRows() {
        Map<String, String> rows = new LinkedHashMap<>();
        LineAndLoad regulation = review.regulation();
        if (regulation != null) {
            rows.put("line regulation", moved(regulation.line(), "input"));
            rows.put("load regulation", moved(regulation.load(), "load"));
        }
        rows.put("dropout", dropout(review.dropout()));
        return rows;
    }

    private static String moved(Result<LineAndLoad.Moved> found, String over) {
        return found.exists()
                ? String.format(
                        Locale.ROOT,
                        "%s (%.3f %%), from %s to %s over the range of the %s",
                        Told.quantity(found.get().change(), Unit.VOLT, DIGITS),
                        100 * found.get().share(),
                        Told.quantity(found.get().from(), Unit.VOLT, DIGITS),
                        Told.quantity(found.get().to(), Unit.VOLT, DIGITS),
                        over)
                : "none: " + found.reason();
    }

    private static String dropout(Result<Dropout> found) {
        return found.exists()
                ? "regulated down to an input of " + Told.quantity(found.get().inputVoltage(), Unit.VOLT, DIGITS)
                        + "; below, "
                        + found.get().heldBy().map(limiter -> limiter.words()).orElse("there is no steady state")
                : "none: " + found.reason();
    }

    /** Those for the terminal: each rating that is not met, how it stands with all of them, and regulation. */
    static List<Map.Entry<String, String>> rows(@Nullable Review review) {
        List<Map.Entry<String, String>> rows = new ArrayList<>();
        if (review == null) {
            return rows;
        }
        review.stresses().stream()
                .filter(stress -> !stress.isMet())
                .forEach(stress -> rows.add(Map.entry("rating", stress.line())));
        StressCheck tightest = review.tightest();
        if (review.stresses().stream().allMatch(StressCheck::isMet) && tightest != null) {
            rows.add(Map.entry("ratings", review.stresses().size() + " met; tightest: " + tightest.line()));
        }
        new ReviewSection(review).regulationRows().forEach((label, text) -> rows.add(Map.entry(label, text)));
        return rows;
    }

    /** What stands in the head: ratings that are not met. */
    static List<Headlines.Line> headlines(@Nullable Review review) {
        return review == null || review.notMet().isEmpty()
                ? List.of()
                : List.of(new Headlines.Line(
                        "ratings",
                        review.notMet().size() + " of " + review.stresses().size() + " not met: "
                                + review.notMet().stream()
                                        .map(stress -> stress.rating() + " of " + stress.part())
                                        .collect(Collectors.joining(", ")),
                        false));
    }

    static void write(@Nullable Review review, JsonObject root) throws IOException {
        if (review == null) {
            return;
        }
        ReviewSection section = new ReviewSection(review);
        if (!review.stresses().isEmpty()) {
            root.array("ratings", array -> {
                for (StressCheck stress : review.stresses()) {
                    write(array, stress);
                }
            });
        }
        if (!review.corners().isEmpty()) {
            root.array("corners", array -> {
                for (CornerState corner : section.states().toList()) {
                    section.write(array, corner);
                }
            });
        }
        LineAndLoad regulation = review.regulation();
        if (regulation != null) {
            write(root, "line_regulation", regulation.line());
            write(root, "load_regulation", regulation.load());
        }
        if (!review.dropout().exists()) {
            root.missing("dropout", review.dropout().reason());
            return;
        }
        Dropout dropout = review.dropout().get();
        try (JsonObject object = root.object("dropout")) {
            object.number("input_voltage", dropout.inputVoltage());
            if (dropout.heldBy().isPresent()) {
                object.text("held_by", dropout.heldBy().get().key());
            }
        }
    }

    /** Of what a report was made, and what it rests on. */
    static void addProvenance(Page page, Provenance made) {
        page.heading("About this report")
                .table(PageTable.headed("what", "value")
                        .row("version of the library", made.version())
                        .row("date", text(made.date().map(LocalDate::toString))))
                .paragraph(
                        "SHA-256 of the design file: " + text(made.designHash())); // a line of a table would not break
        PageTable table = PageTable.headed("assumptions of the model");
        Provenance.ASSUMPTIONS.forEach(table::row);
        page.table(table);
    }

    private static String text(Result<String> found) {
        return found.exists() ? found.get() : "none: " + found.reason();
    }

    static void write(Provenance made, JsonObject root) throws IOException {
        try (JsonObject about = root.object("about")) {
            about.text("version", made.version());
            text(about, "date", made.date().map(LocalDate::toString));
            text(about, "design_sha256", made.designHash());
            about.array("assumptions", array -> {
                for (String assumption : Provenance.ASSUMPTIONS) {
                    array.writeString(assumption);
                }
            });
        }
    }

    private static void text(JsonObject object, String key, Result<String> found) throws IOException {
        if (found.exists()) {
            object.text(key, found.get());
        } else {
            object.missing(key, found.reason());
        }
    }

    private static void write(FigureSink array, StressCheck stress) throws IOException {
        LimitCheck check = stress.check();
        try (JsonObject object = JsonObject.in(array)) {
            object.text("rating", stress.rating().key());
            object.text("part", stress.part());
            object.number("rated", stress.rating().value())
                    .number("derating", stress.rating().derating())
                    .number("allowed", stress.rating().allowed())
                    .number("value", check.value());
            if (check.isKnown()) {
                object.text("where", check.where());
                object.flag("met", check.isMet());
                object.number("margin", check.margin());
            }
        }
    }

    private void write(FigureSink array, CornerState corner) throws IOException {
        try (JsonObject object = JsonObject.in(array)) {
            object.number("input_voltage", corner.corner().inputVoltage())
                    .number("load_current", corner.corner().loadCurrent());
            if (!corner.parts().isEmpty()) {
                object.text("parts", corner.parts());
            }
            if (!corner.steady().exists()) {
                object.missing("conduction", corner.steady().reason());
                return;
            }
            ConverterSteadyState steady = corner.steady().get();
            object.text("conduction", StudyFiles.lower(steady.conduction()));
            for (Figure<ConverterSteadyState> figure : figures()) {
                array.tell(figure.words(), figure.unit());
                object.number(figure.key(), figure.of(steady));
            }
        }
    }

    private static void write(JsonObject root, String key, Result<LineAndLoad.Moved> found) throws IOException {
        if (!found.exists()) {
            root.missing(key, found.reason());
            return;
        }
        try (JsonObject object = root.object(key)) {
            object.number("change", found.get().change())
                    .number("share", found.get().share())
                    .number("from", found.get().from())
                    .number("to", found.get().to());
        }
    }
}
