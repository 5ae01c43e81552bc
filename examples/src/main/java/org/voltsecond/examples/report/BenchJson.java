package org.voltsecond.examples.report;

import java.io.IOException;
import java.util.Objects;
import java.util.OptionalDouble;
import org.voltsecond.examples.design.BenchPlan;
import org.voltsecond.waveform.CaptureComparison;
import org.voltsecond.waveform.CaptureFigures;

/** Writes the block "bench" of figures.json: each figure as measured, as simulated, and the difference of the two. */
final class BenchJson {
    private BenchJson() {}

    static void write(Outcome outcome, JsonObject root) throws IOException {
        Found<CaptureComparison> found = outcome.bench();
        if (found == null) {
            return;
        }
        if (!found.exists()) {
            root.missing("bench", found.reason());
            return;
        }
        CaptureComparison comparison = found.get();
        BenchPlan plan = Objects.requireNonNull(outcome.design().bench());
        try (JsonObject bench = root.object("bench")) {
            bench.text("file", plan.file());
            bench.text("channel", comparison.capture().name());
            bench.text("signal", plan.signal());
            bench.text("aligned_by", comparison.isAlignedByEdges() ? "edges" : "correlation");
            number(bench, "correlation", comparison.correlation(), "the signal is flat");
            bench.number("rms_difference", comparison.rmsDifference());
            figures(bench, comparison.measured(), comparison.simulated());
        }
    }

    private static void figures(JsonObject bench, CaptureFigures measured, CaptureFigures simulated)
            throws IOException {
        compare(bench, "mean", OptionalDouble.of(measured.mean()), OptionalDouble.of(simulated.mean()), "");
        compare(bench, "ripple", OptionalDouble.of(measured.ripple()), OptionalDouble.of(simulated.ripple()), "");
        compare(
                bench,
                "frequency",
                measured.frequency(),
                simulated.frequency(),
                "without edges it takes 8 periods and a fundamental that stands out of the noise");
        compare(
                bench,
                "duty_factor",
                measured.dutyFactor(),
                simulated.dutyFactor(),
                "the signal has no edges, or none at regular distances");
    }

    private static void compare(
            JsonObject bench, String key, OptionalDouble measured, OptionalDouble simulated, String reason)
            throws IOException {
        try (JsonObject object = bench.object(key)) {
            number(object, "measured", measured, reason);
            number(object, "simulated", simulated, reason);
            number(
                    object,
                    "difference",
                    measured.isPresent() && simulated.isPresent()
                            ? OptionalDouble.of(measured.getAsDouble() - simulated.getAsDouble())
                            : OptionalDouble.empty(),
                    reason);
        }
    }

    private static void number(JsonObject object, String key, OptionalDouble value, String reason) throws IOException {
        object.number(key, value.orElse(Double.NaN), reason);
    }
}
