package org.voltsecond.plot.report;

import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.SourceInteraction;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.Emissions;
import org.voltsecond.emission.Emissions.Worst;
import org.voltsecond.figures.FigureSheet;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.plot.parts.EmissionPicture;
import org.voltsecond.sizing.FilterProposal;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * Emissions into the supply and the filter that is needed, told in figures, on the terminal, as a table and on the page.
 *
 * @param found the emissions
 * @param filter the filter, or why there is none
 */
record EmissionOutcome(Emissions found, Result<FilterProposal> filter) {
    private static final String ESTIMATE =
            "A pre-compliance estimate: layout, coupling between parts and leads, radiation, and parasitics of parts at "
                    + "high frequencies are not included. Only a measurement shows compliance.";

    static Result<EmissionOutcome> of(EmissionEstimate estimate) {
        try {
            Emissions found = estimate.measure();
            return Result.of(new EmissionOutcome(found, FilterProposal.of(found)));
        } catch (NoSteadyStateException e) {
            return Result.missing("with the artificial network: " + e.getMessage());
        } catch (InvalidStageException e) {
            return Result.missing(String.join("; ", e.faults()));
        }
    }

    /** The harmonic with the least margin; where there are no limits the strongest. */
    private Result<Worst> worst() {
        return found.test().limits() == null ? found.strongest() : found.worst();
    }

    // ------------------------------------------------------------------------------------------------ figures.json

    void write(JsonObject emissions) throws IOException {
        emissions.number("network", found.test().network().inductance()).count("harmonics", found.size());
        write(emissions, "worst", worst());
        if (found.test().limits() != null) {
            write(emissions, "peak_against_quasi_peak_limit", found.worstPeak());
        }
        for (Map.Entry<String, Result<Worst>> each : found.worstElsewhere().entrySet()) {
            write(emissions, each.getKey().replace(' ', '_'), each.getValue());
        }
        FiguresJson.writeStability(emissions, found.steady().periodic());
        emissions.number("audit_residual", found.steady().audit().residual());
        if (!filter.exists()) {
            emissions.missing("filter", filter.reason());
            return;
        }
        FilterProposal proposed = filter.get();
        try (JsonObject object = emissions.object("filter")) {
            InputFilter parts = proposed.filter();
            InputFilter.Damping damping = Objects.requireNonNull(parts.damping());
            object.number("inductance", parts.inductance())
                    .number("capacitance", parts.capacitance())
                    .number("line_capacitance", parts.lineCapacitance());
            try (JsonObject branch = object.object("damping")) {
                branch.number("resistance", damping.resistance()).number("capacitance", damping.capacitance());
            }
            write(object, "worst", proposed.emissions().worst());
            Optional<SourceInteraction.Separation> closed =
                    proposed.interaction().flatMap(SourceInteraction::closedLoopSeparation);
            if (closed.isPresent()) {
                object.number("separation", closed.get().decibels());
            }
            FiguresJson.writeStability(object, proposed.steady().periodic());
        }
    }

    private static void write(JsonObject object, String key, Result<Worst> worst) throws IOException {
        if (!worst.exists()) {
            object.missing(key, worst.reason());
            return;
        }
        try (JsonObject each = object.object(key)) {
            each.sheet(FigureSheet.of(worst.get()));
        }
    }

    // --------------------------------------------------------------------------------------------- terminal and page

    /** The one line of the terminal. */
    String row() {
        Result<Worst> worst = worst();
        String level = !worst.exists()
                ? worst.reason()
                : found.test().limits() == null
                        ? strongest(worst.get())
                        : worst.get().verdict();
        String needed = filter.exists()
                ? "; with " + filter.get() + ": "
                        + filter.get().emissions().worst().get().verdict()
                : found.test().limits() == null ? "" : "; filter: " + filter.reason();
        return level + stability(found.steady()) + needed + " (pre-compliance estimate)";
    }

    private static String strongest(Worst worst) {
        return String.format(
                Locale.ROOT, "%.1f dBµV at %s", worst.level(), ReportTables.format(worst.frequency(), Unit.HERTZ));
    }

    private static String stability(ConverterSteadyState steady) {
        return steady.periodic().isStable() ? "" : PictureFiles.lasting(steady);
    }

    /** Adds the section; a filter of a ready-made stage, which has nothing else between supply and stage, is a table of its file. */
    void addTo(Page page, boolean readyMade) {
        page.paragraph(ESTIMATE);
        PageTable table = PageTable.headed("emissions", "found");
        rows().forEach(table::row);
        page.table(table);
        boolean stands = found.test().converter().roles().stageInput().isPresent();
        if (filter.exists() && readyMade && !stands) {
            page.paragraph("The filter as a table of the design file:")
                    .verbatim(text(filter.get().filter()));
        }
    }

    private static String text(InputFilter parts) {
        InputFilter.Damping damping = Objects.requireNonNull(parts.damping());
        return String.join(
                "\n",
                "[input_filter]",
                "line_capacitance = \"" + Quantity.brief(parts.lineCapacitance(), Unit.FARAD) + "\"",
                "inductance = \"" + Quantity.brief(parts.inductance(), Unit.HENRY) + "\"",
                "capacitance = \"" + Quantity.brief(parts.capacitance(), Unit.FARAD) + "\"",
                "damping = { resistance = \"" + Quantity.brief(damping.resistance(), Unit.OHM) + "\", capacitance = \""
                        + Quantity.brief(damping.capacitance(), Unit.FARAD) + "\" }");
    }

    private Map<String, String> rows() {
        Map<String, String> rows = new LinkedHashMap<>();
        rows.put(
                "artificial network in each supply line", found.test().network().toString());
        if (found.test().limits() == null) {
            rows.put("strongest harmonic", told(worst().map(EmissionOutcome::strongest)));
        } else {
            rows.put(
                    found.test().limits() + ", average, plus line",
                    told(found.worst().map(Worst::verdict)));
            found.worstElsewhere()
                    .forEach((words, worst) -> rows.put("the same, " + words, told(worst.map(Worst::verdict))));
            rows.put(
                    "upper bound for a peak detector against the quasi-peak limit",
                    told(found.worstPeak().map(Worst::verdict)));
        }
        rows.put(
                "steady state at the network",
                found.steady().periodic().stability().name().toLowerCase(Locale.ROOT));
        if (!filter.exists()) {
            rows.put("filter", filter.reason());
            return rows;
        }
        FilterProposal proposed = filter.get();
        rows.put("filter that is proposed", proposed.toString());
        rows.put("average, with it", proposed.emissions().worst().get().verdict());
        rows.put(
                "steady state with it, without the network",
                proposed.steady().periodic().stability().name().toLowerCase(Locale.ROOT));
        proposed.interaction()
                .flatMap(SourceInteraction::closedLoopSeparation)
                .ifPresent(closed -> rows.put("input, closed loop, with it", closed.verdict()));
        return rows;
    }

    private static String told(Result<String> text) {
        return text.exists() ? text.get() : text.reason();
    }

    Picture picture(String name) {
        String edges = found.test().network() + " in each supply line" + stability(found.steady());
        return EmissionPicture.of(
                Printable.of(name), edges, found, filter.exists() ? filter.get().emissions() : null);
    }

    // -------------------------------------------------------------------------------------------------------- table

    String csv() {
        StringBuilder csv = new StringBuilder("frequency,level\n");
        for (int k = 1; k <= found.size(); k++) {
            csv.append(found.frequency(k)).append(',').append(found.level(k)).append('\n');
        }
        return csv.toString();
    }
}
