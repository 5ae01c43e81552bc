package org.voltsecond.plot.report;

import java.io.IOException;
import java.util.Objects;
import java.util.OptionalDouble;
import org.voltsecond.bench.TransientComparison;
import org.voltsecond.design.BenchPlan;
import org.voltsecond.units.Result;

/** Writes the block "bench" of figures.json: each figure as measured, as simulated, and the difference of the two. */
final class BenchJson {
    private BenchJson() {}

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
