package org.voltsecond.plot.report;

import java.io.IOException;
import java.util.Objects;
import java.util.OptionalDouble;
import org.voltsecond.bench.TransientComparison;
import org.voltsecond.design.BenchPlan;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** What is told of a capture beside the simulation: a section of the report, and figures. */
final class BenchSection {
    private BenchSection() {}

    static void addTo(Page page, Findings outcome) {
        Result<BenchOutcome> found = outcome.bench();
        if (found == null) {
            return;
        }
        page.heading("Comparison with a capture");
        if (!found.exists()) {
            page.paragraph("There is no comparison: " + found.reason());
            return;
        }
        BenchOutcome bench = found.get();
        page.paragraph(sentence(bench));
        PageTable table = PageTable.headed("figure", "measured", "simulated", "difference");
        for (BenchOutcome.Row row : bench.rows()) {
            table.row(
                    row.key().replace('_', ' '),
                    text(row.measured(), row.unit()),
                    text(row.simulated(), row.unit()),
                    text(row.difference(), row.unit()));
        }
        page.table(table).picture(PictureFiles.bench(outcome, bench), "Capture and simulation overlaid");
    }

    private static String sentence(BenchOutcome bench) {
        String channel = bench.capture().name();
        if (!(bench instanceof BenchOutcome.OverRun over)) {
            return "Channel " + channel + " beside the steady state, aligned by " + bench.alignedBy() + ".";
        }
        TransientComparison run = over.comparison();
        Unit unit = run.capture().unit();
        return "Channel " + channel + " beside the transient from "
                + Quantity.format(run.run().startTime(), Unit.SECOND, 4) + " to "
                + Quantity.format(run.run().endTime(), Unit.SECOND, 4) + ", aligned by " + bench.alignedBy()
                + ": at most " + Quantity.format(run.largestDifference(), unit, 4) + " apart, "
                + Quantity.format(run.rmsDifference(), unit, 4) + " RMS.";
    }

    private static String text(OptionalDouble value, Unit unit) {
        if (value.isEmpty()) {
            return "none";
        }
        return unit == Unit.ONE
                ? ReportTables.percent(value.getAsDouble())
                : ReportTables.format(value.getAsDouble(), unit);
    }

    static void write(Findings outcome, JsonObject root) throws IOException {
        Result<BenchOutcome> found = outcome.bench();
        if (found == null) {
            return;
        }
        if (!found.exists()) {
            root.missing("bench", found.reason());
            return;
        }
        BenchPlan plan =
                Objects.requireNonNull(Objects.requireNonNull(outcome.design()).bench());
        try (JsonObject bench = root.object("bench")) {
            bench.text("file", plan.file());
            bench.text("channel", found.get().capture().name());
            bench.text("signal", plan.signal());
            bench.text("against", plan.againstTransient() ? "transient" : "steady-state");
            bench.text("aligned_by", found.get().alignedBy());
            if (found.get() instanceof BenchOutcome.AtRest rest) {
                number(
                        bench,
                        "correlation",
                        rest.comparison().correlation(),
                        "the capture or the signal is constant, so there is nothing to align by");
                bench.number("rms_difference", rest.comparison().rmsDifference());
            } else if (found.get() instanceof BenchOutcome.OverRun run) {
                run(bench, run.comparison());
            }
            for (BenchOutcome.Row row : found.get().rows()) {
                compare(bench, row);
            }
        }
    }

    private static void run(JsonObject bench, TransientComparison comparison) throws IOException {
        bench.number("shift", comparison.shift());
        bench.number("from", comparison.run().startTime());
        bench.number("to", comparison.run().endTime());
        bench.number("largest_difference", comparison.largestDifference());
        bench.number("rms_difference", comparison.rmsDifference());
    }

    private static void compare(JsonObject bench, BenchOutcome.Row row) throws IOException {
        try (JsonObject object = bench.object(row.key())) {
            number(object, "measured", row.measured(), row.reason());
            number(object, "simulated", row.simulated(), row.reason());
            number(object, "difference", row.difference(), row.reason());
        }
    }

    private static void number(JsonObject object, String key, OptionalDouble value, String reason) throws IOException {
        object.number(key, value.orElse(Double.NaN), reason);
    }
}
