package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignTree;
import org.voltsecond.figures.Headlines;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.LinearInstead;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.plot.page.WaveformFigure;
import org.voltsecond.review.Provenance;
import org.voltsecond.study.BoundaryLoad;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * Writes report.html, everything about a design on one page that needs nothing but a browser, and explore.html: one after the other, as
 * what both tell is worked out once. For one thread.
 */
final class HtmlReport {
    private final Findings outcome;
    private final String designText;
    private final Converter converter;
    /** Empty where a page cannot compute, or the design is not known as a file. */
    private final Optional<DesignTree> tree;
    /** The one that is being written. */
    private Page page;

    private @Nullable WaveformFigure steadyState;
    private @Nullable List<WaveformFigure> run;
    private @Nullable PageTable allFigures;

    private HtmlReport(Findings outcome, String designText, Optional<DesignTree> tree) {
        this.outcome = outcome;
        this.designText = designText;
        this.converter = outcome.converter();
        this.tree = tree;
        this.page = Page.titled(Printable.of(outcome.name()));
    }

    static HtmlReport of(Findings outcome, String designText) {
        return new HtmlReport(outcome, designText, tree(outcome, designText));
    }

    /** For its sections alone; a page that computes has them worked out by this, and cannot read a file. */
    static HtmlReport ofPoint(Findings outcome) {
        return new HtmlReport(outcome, "", Optional.empty());
    }

    private static Optional<DesignTree> tree(Findings outcome, String designText) {
        if (designText.isEmpty() || !Page.canCompute()) {
            return Optional.empty();
        }
        try {
            return Optional.of(DesignFile.tree(outcome.name(), designText));
        } catch (DesignException e) {
            throw new IllegalStateException("a design that was read cannot be read", e);
        }
    }

    /** With pictures that are also written as files. */
    String html(PictureFiles.Shared pictures) {
        page = Page.titled(Printable.of(outcome.name()));
        addSummary();
        addControls();
        page.heading("Cautions").cautions(Cautions.of(outcome));
        List<LimitCheck> checks = outcome.checks();
        if (!checks.isEmpty()) {
            page.heading("Limits").table(ReportTables.checks(checks));
        }
        ReviewSection.addRatings(page, outcome);
        StudySections studies = new StudySections(page, outcome, pictures.studies());
        studies.addChoice();
        page.heading("Stage").schematic(converter.circuit());
        addSteadyState();
        ExplainSection.addTo(page, outcome, pictures.explaining());
        page.heading("Stress").table(ReportTables.stress(outcome));
        ReviewSection.addCorners(page, outcome.review());
        BendSection.addTo(page, outcome, pictures.bends());
        RingingSection.addTo(page, outcome, pictures.ringing());
        addLosses(studies);
        HeatSection.addTo(page, outcome, pictures.studies().get("temperatures"));
        addLinear();
        if (!studies.tellsConduction()) {
            new ConductionSection(outcome).addTo(page);
        }
        studies.addMap();
        addTransient();
        FrequencySection.addTo(page, outcome, pictures.response());
        studies.addEmissions();
        studies.addTolerance();
        studies.addSizing();
        BenchSection.addTo(page, outcome);
        addAudit();
        if (!outcome.notes().isEmpty()) {
            page.heading("Notes on the design");
            outcome.notes().forEach(page::paragraph);
        }
        if (!designText.isEmpty()) {
            page.heading("Design file").verbatim(designText);
        }
        ReviewSection.addProvenance(page, Provenance.of(designText));
        addAllFigures();
        return page.html();
    }

    /** The page of controls: what follows from one operating point, and the cautions. */
    String explorer() {
        page = Page.titled(Printable.of(outcome.name())).besideControls();
        addControls();
        sectionsOfPoint(true);
        page.heading("Cautions").cautions(Cautions.of(outcome));
        ReviewSection.addProvenance(page, Provenance.of(designText));
        addAllFigures();
        return page.html();
    }

    /** Whether there is a page of controls. */
    boolean canExplore() {
        return tree.isPresent();
    }

    private void addControls() {
        tree.ifPresent(design -> page.heading("Try other values").controls(design));
    }

    /** Each number of figures.json at its place, so that who changes a value sees all of them follow. */
    private void addAllFigures() {
        if (tree.isPresent()) {
            PageTable known = allFigures == null ? allFigures() : allFigures;
            allFigures = known;
            page.heading("All figures").table(known);
        }
    }

    private PageTable allFigures() {
        PageTable table = PageTable.headed("figure", "value", "place in figures.json");
        for (PlacedFigure figure : PageAnswer.figures(outcome)) {
            if (figure.value() == null || figure.value() instanceof Double) {
                double value = figure.value() instanceof Double number ? number : Double.NaN;
                String text = Double.isNaN(value) ? "none" : ReportTables.format(value, figure.unit());
                Cell.Told told =
                        new Cell.Told(figure.place(), value, figure.unit().symbol());
                table.row(List.of(
                        Cell.of(figure.words()), new Cell(text, Cell.Tone.PLAIN, told), Cell.of(figure.place())));
            }
        }
        return table;
    }

    /** What follows from one operating point and its run, by headings. */
    Map<String, String> sectionsOfPoint(boolean drawn) {
        addSummary();
        addSteadyState();
        List<LimitCheck> checks = outcome.checks();
        if (!checks.isEmpty()) {
            page.heading("Limits").table(ReportTables.checks(checks));
        }
        addTransient();
        if (drawn) {
            page.heading("Stage").schematic(converter.circuit());
        }
        page.heading("Stress").table(ReportTables.stress(outcome));
        Result<StudyOutcome.Losses> losses = outcome.studies().losses();
        if (losses == null) {
            addConductionLosses();
        } else if (losses.exists()) {
            StudySections.addBudget(page.heading("Losses"), losses.get().budget());
        }
        HeatSection.addTables(page, outcome);
        FrequencySection.addTables(page, outcome);
        addLinear();
        addAudit();
        return page.sections();
    }

    private void addSummary() {
        page.heading("At a glance").paragraph(PictureFiles.subtitle(outcome));
        List<Headlines.Line> lines = new ArrayList<>(Headlines.of(outcome.steadyState()));
        lines.addAll(ReviewSection.headlines(outcome.review()));
        if (!lines.isEmpty()) {
            page.table(ReportTables.headlines(lines));
        }
        if (!outcome.steadyState().exists()) {
            return;
        }
        ConverterSteadyState steady = outcome.steadyState().get();
        Waveform output = steady.of(converter.outputVoltage());
        Map<String, String> figures = new LinkedHashMap<>();
        figures.put("output voltage", ReportTables.format(output.mean(), Unit.VOLT));
        figures.put("output ripple", ReportTables.format(output.peakToPeak(), Unit.VOLT));
        figures.put(
                "peak inductor current",
                ReportTables.format(steady.of(converter.inductorCurrent()).maximum(), Unit.AMPERE));
        addLosses(figures, steady);
        Result<HeatBalance> heat = outcome.studies().heat();
        if (heat != null) {
            figures.put("hottest part", heat.exists() ? HeatSection.hottest(heat.get()) : "runs away");
        }
        figures.put("conduction", steady.conduction().name().toLowerCase(Locale.ROOT));
        Result<BoundaryLoad> boundary = outcome.boundary();
        if (boundary != null && boundary.exists()) {
            figures.put("current runs dry", ConductionSection.dry(boundary.get()));
        }
        page.highlights(new ArrayList<>(figures.keySet()), new ArrayList<>(figures.values()));
    }

    /** Those in all where the design says what is needed for them. */
    private void addLosses(Map<String, String> figures, ConverterSteadyState steady) {
        Result<StudyOutcome.Losses> losses = outcome.studies().losses();
        if (losses != null && losses.exists()) {
            LossBudget budget = losses.get().budget();
            figures.put("efficiency, all losses", ReportTables.percent(budget.efficiency()));
            figures.put("losses in all", ReportTables.format(budget.total(), Unit.WATT));
        } else {
            figures.put("efficiency, conduction losses", ReportTables.efficiency(steady));
            figures.put("conduction losses", ReportTables.format(steady.heat().total(), Unit.WATT));
        }
    }

    private void addSteadyState() {
        if (outcome.steadyState().exists()) {
            ConverterSteadyState steady = outcome.steadyState().get();
            WaveformFigure known =
                    steadyState == null ? new ReportWaveforms(converter).steadyState(steady) : steadyState;
            steadyState = known;
            page.heading("Steady state")
                    .waveforms(known)
                    .table(ReportTables.times(steady))
                    .table(ReportTables.signals(converter, steady));
        }
    }

    private void addLosses(StudySections studies) {
        if (outcome.studies().losses() != null) {
            studies.addLosses();
        } else {
            addConductionLosses();
        }
    }

    private void addConductionLosses() {
        if (outcome.steadyState().exists()) {
            page.heading("Losses")
                    .paragraph("Conduction losses only. Add [losses] to the design file for those of switching.")
                    .table(ReportTables.losses(outcome.steadyState().get()));
        }
    }

    private void addLinear() {
        if (!outcome.steadyState().exists()) {
            return;
        }
        ConverterSteadyState steady = outcome.steadyState().get();
        Result<LinearInstead> linear = LinearInstead.of(steady);
        page.heading("A linear regulator instead");
        if (linear.exists()) {
            Result<StudyOutcome.Losses> losses = outcome.studies().losses();
            page.paragraph("Best case: its quiescent current is neglected.")
                    .table(ReportTables.linear(
                            steady, losses == null || !losses.exists() ? null : losses.get(), linear.get()));
        } else {
            page.paragraph("There is none: " + linear.reason() + ".");
        }
    }

    private void addTransient() {
        Result<TransientFigures> found = outcome.transientRun();
        if (found == null) {
            return;
        }
        page.heading("Transient");
        if (!found.exists()) {
            page.paragraph("There is none: " + found.reason());
            return;
        }
        TransientFigures result = found.get();
        if (result.start().exists() || !result.changes().isEmpty()) {
            page.table(ReportTables.changes(result));
        }
        List<WaveformFigure> known = run == null ? new ReportWaveforms(converter).run(result) : run;
        run = known;
        known.forEach(page::waveforms);
    }

    private void addAudit() {
        Map<String, EnergyAudit> audits = new LinkedHashMap<>();
        if (outcome.steadyState().exists()) {
            audits.put(
                    "one period of the steady state",
                    outcome.steadyState().get().audit());
        }
        Result<TransientFigures> found = outcome.transientRun();
        if (found != null && found.exists()) {
            audits.put("transient", found.get().audit());
        }
        if (!audits.isEmpty()) {
            page.heading("Energy audit")
                    .paragraph(
                            "The energy from the sources must be dissipated or stored. Each term is computed independently.")
                    .table(ReportTables.audit(audits));
        }
    }
}
