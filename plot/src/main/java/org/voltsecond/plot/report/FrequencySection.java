package org.voltsecond.plot.report;

import java.util.Map;
import java.util.OptionalDouble;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.sizing.LoopCheck;
import org.voltsecond.sizing.LoopCornerResult;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** The section of the report on small signals. */
final class FrequencySection {
    private FrequencySection() {}

    static void addTo(Page page, Findings outcome, Map<String, Picture> pictures) {
        addTables(page, outcome);
        pictures.forEach((name, picture) -> page.picture(picture, name.replace('-', ' ') + " over frequency"));
    }

    static void addTables(Page page, Findings outcome) {
        Result<FrequencyOutcome> found = outcome.frequencyResponse();
        if (found == null) {
            return;
        }
        page.heading("Frequency response");
        if (!found.exists()) {
            page.paragraph("There is none: " + found.reason());
            return;
        }
        page.table(figures(found.get()));
        found.get().input().ifExists(input -> page.table(input.table()));
        Result<LoopCheck> corners = outcome.studies().loop();
        if (corners != null && corners.exists()) {
            addCorners(page, corners.get());
        }
    }

    private static PageTable figures(FrequencyOutcome found) {
        PageTable table = PageTable.headed("figure", "value");
        if (found.hasLoop()) {
            Margins margins = found.margins();
            table.row("stable", margins.stable() ? "yes" : "no")
                    .row("crossover frequency of the loop", hertz(margins.crossoverFrequency()))
                    .row("phase margin", text(margins.phaseMargin(), "°"));
            margins.crossovers().stream()
                    .filter(other ->
                            margins.leastCrossover().filter(other::equals).isEmpty())
                    .forEach(other -> table.row(
                            "another crossover, with more phase margin",
                            ReportTables.format(other.frequency(), Unit.HERTZ) + ", "
                                    + text(OptionalDouble.of(other.phaseMargin()), "°")));
            table.row("gain margin", bound(margins.gain()))
                    .row("gain reduction margin", bound(margins.gainReduction()))
                    .row("conditionally stable", margins.isConditionallyStable() ? "yes" : "no");
        }
        FrequencyResponse.Peak peak = found.highestImpedance();
        return table.row("highest output impedance", ReportTables.format(peak.magnitude(), Unit.OHM))
                .row("at", ReportTables.format(peak.frequency(), Unit.HERTZ));
    }

    private static void addCorners(Page page, LoopCheck check) {
        page.paragraph(
                check.isStable()
                        ? "The loop at the corners of input and load: stable at every corner"
                        : "The loop at the corners of input and load: not stable at every corner");
        PageTable table = PageTable.headed(
                "input", "load", "conduction", "crossover", "phase margin", "gain margin", "steady state");
        for (LoopCornerResult result : check.results()) {
            Margins margins = result.margins();
            table.row(
                    ReportTables.format(result.corner().inputVoltage(), Unit.VOLT),
                    ReportTables.format(result.corner().loadCurrent(), Unit.AMPERE),
                    StudyFiles.lower(result.conduction()),
                    hertz(margins.crossoverFrequency()),
                    text(margins.phaseMargin(), "°"),
                    text(margins.gainMargin(), "\u00a0dB"),
                    result.stable() ? "stable" : "not stable");
        }
        page.table(table);
        check.failures().forEach((corner, reason) -> page.paragraph(corner + ": " + reason));
    }

    private static String bound(Margins.Bound bound) {
        return bound.margin().isEmpty()
                ? "none: " + bound.reason()
                : text(bound.margin(), "\u00a0dB") + " at "
                        + ReportTables.format(bound.frequency().orElseThrow(), Unit.HERTZ);
    }

    private static String hertz(OptionalDouble frequency) {
        return frequency.isPresent()
                ? ReportTables.format(frequency.getAsDouble(), Unit.HERTZ)
                : "none in the range of frequencies";
    }

    private static String text(OptionalDouble value, String unit) {
        return value.isPresent()
                ? String.format(java.util.Locale.ROOT, "%.2f", value.getAsDouble()) + unit
                : "none in the range of frequencies";
    }
}
