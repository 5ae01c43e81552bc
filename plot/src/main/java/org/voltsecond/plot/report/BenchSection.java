package org.voltsecond.plot.report;

import java.util.OptionalDouble;
import org.voltsecond.bench.TransientComparison;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** The section of the report on a capture beside the simulation. */
final class BenchSection {
    private BenchSection() {}

    static void addTo(Page page, Findings outcome) {
        Result<BenchOutcome> found = outcome.bench();
        if (found == null) {
            return;
        }
        page.heading("Beside a capture");
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
        page.table(table).picture(PictureFiles.bench(outcome, bench), "Capture and simulation over each other");
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
}
