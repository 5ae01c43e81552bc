package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.Design;
import org.voltsecond.figures.Figure;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.sizing.CornerResult;
import org.voltsecond.sizing.PartsCheck;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.sizing.StageOption;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.study.ToleranceTable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** The sections of the report for what studies found. */
final class StudySections {
    private final Page page;
    private final StudyOutcome studies;
    private final Map<String, Picture> pictures;
    private final boolean readyMade;

    StudySections(Page page, Findings outcome, Map<String, Picture> pictures) {
        this.page = page;
        studies = outcome.studies();
        readyMade = Optional.ofNullable(outcome.design()).flatMap(Design::stage).isPresent();
        this.pictures = pictures;
    }

    /** Whether the map tells over load and line where conduction is discontinuous. */
    boolean tellsConduction() {
        Result<OperatingMap> map = studies.map();
        if (map == null || !map.exists()) {
            return false;
        }
        List<String> axes = List.of(map.get().across().name(), map.get().up().name());
        return axes.contains("input voltage") && axes.stream().anyMatch(name -> name.startsWith("load "));
    }

    /** The first question of a design comes first: known where the design says what the rail is to do. */
    void addChoice() {
        Result<StudyOutcome.Sizing> sizing = studies.sizing();
        if (sizing != null && sizing.exists()) {
            StageChoice choice = sizing.get().choice();
            if (choice != null) {
                page.heading("Which stage");
                addChoice(choice);
            }
        }
    }

    void addLosses() {
        section("Losses", studies.losses(), this::addLosses);
    }

    void addMap() {
        section("Operating map", studies.map(), this::addMap);
    }

    void addTolerance() {
        section("Tolerances", studies.tolerance(), this::addTolerance);
    }

    void addEmissions() {
        section("Emissions into the supply", studies.emissions(), found -> {
            found.addTo(page, readyMade);
            picture("emissions", "Levels of the harmonics at the artificial network, with limit lines");
        });
    }

    void addSizing() {
        section("Sizing", studies.sizing(), this::addSizing);
    }

    /** Adds what belongs below one heading. */
    @FunctionalInterface
    private interface Content<T> {
        void add(T found);
    }

    private <T> void section(String heading, @Nullable Result<T> found, Content<T> content) {
        if (found == null) {
            return;
        }
        page.heading(heading);
        if (found.exists()) {
            content.add(found.get());
        } else {
            page.paragraph("There is none: " + found.reason());
        }
    }

    private void addLosses(StudyOutcome.Losses losses) {
        addBudget(page, losses.budget());
        picture("losses", "Losses of each part by their cause");
        picture("efficiency", "Efficiency over load");
        if (!losses.curve().failures().isEmpty()) {
            page.paragraph(losses.curve().failures().size() + " loads cannot be reached: "
                    + losses.curve().failures().values().iterator().next());
        }
    }

    static void addBudget(Page page, LossBudget budget) {
        page.paragraph(
                "Conduction losses are exact; all others are estimates from data-sheet values, each with its source in"
                        + " the documentation of the library.");
        PageTable table = PageTable.headed("part", "cause", "loss", "share of the losses");
        double total = budget.total();
        for (LossEntry entry : budget.entries()) {
            table.row(
                    entry.part(),
                    entry.cause(),
                    ReportTables.format(entry.power(), Unit.WATT),
                    ReportTables.share(entry.power(), total));
        }
        table.row("all", "", ReportTables.format(total, Unit.WATT), ReportTables.share(total, total));
        page.table(table);
    }

    private void picture(String name, String description) {
        Picture picture = pictures.get(name);
        if (picture != null) {
            page.picture(picture, description);
        }
    }

    private void addMap(OperatingMap map) {
        if (map.failures() > 0) {
            page.paragraph(
                    map.failures() + " of " + map.across().size() * map.up().size()
                            + " points have no steady state; map.csv has the reason of each.");
        }
        picture(
                "map-conduction",
                "Mode of conduction over " + map.across().name() + " and "
                        + map.up().name());
        for (int k = 0; k < map.figures().size(); k++) {
            picture(
                    "map-" + StudyFiles.key(map, k).replace('_', '-'),
                    map.figures().get(k).words());
        }
    }

    private void addTolerance(ToleranceTable found) {
        page.paragraph(
                "First order and root-sum-square follow from exact derivatives at the nominal values. The worst case is that of"
                        + " exact steady states at the corners of the tolerances and in between. " + found.designs()
                        + " designs were drawn at random (seed " + found.seed() + "), "
                        + found.failures().size()
                        + " of them without a steady state.");
        PageTable table = PageTable.headed(
                "figure",
                "nominal",
                "first order ±",
                "root-sum-square ±",
                "worst case: lowest",
                "highest",
                "drawn: mean",
                "deviation",
                "lowest",
                "highest");
        for (ToleranceTable.Row row : found.rows()) {
            Unit unit = row.figure().unit();
            table.row(
                    row.figure().toString(),
                    format(row.nominal(), unit),
                    format(row.firstOrder(), unit),
                    format(row.rootSumSquare(), unit),
                    format(row.worstCase().lowest(), unit),
                    format(row.worstCase().highest(), unit),
                    format(row.drawn().mean(), unit),
                    format(row.drawn().standardDeviation(), unit),
                    format(row.drawn().minimum(), unit),
                    format(row.drawn().maximum(), unit));
        }
        page.table(table);
    }

    private static String format(double value, Unit unit) {
        if (Double.isNaN(value)) {
            return "none";
        }
        return unit == Unit.ONE ? ReportTables.percent(value) : ReportTables.format(value, unit);
    }

    private void addChoice(StageChoice choice) {
        page.paragraph("From " + ReportTables.format(choice.input().low(), Unit.VOLT) + " to "
                + ReportTables.format(choice.input().high(), Unit.VOLT) + " the output is to be "
                + ReportTables.format(choice.outputVoltage(), Unit.VOLT) + ". Ideal parts, at full load:");
        PageTable table = PageTable.headed(
                "stage",
                "reaches the output",
                "duty cycle",
                "mean inductor current, at most",
                "voltage the switch must block");
        for (StageOption option : choice.options()) {
            if (option.isPossible()) {
                table.row(
                        option.topology().toString(),
                        "yes",
                        ReportTables.percent(option.dutyCycle().low()) + " to "
                                + ReportTables.percent(option.dutyCycle().high()),
                        ReportTables.format(option.inductorCurrent(), Unit.AMPERE),
                        ReportTables.format(option.blockedVoltage(), Unit.VOLT));
            } else {
                table.row(option.topology().toString(), "no: " + option.obstacle(), "–", "–", "–");
            }
        }
        page.table(table);
        page.paragraph(choice.linear()
                .map(linear -> "A linear regulator in its place reaches "
                        + ReportTables.percent(linear.efficiency().low()) + " to "
                        + ReportTables.percent(linear.efficiency().high()) + " at best, and dissipates "
                        + ReportTables.format(linear.heat(), Unit.WATT)
                        + " at the highest input and full load.")
                .orElse("There can be no linear regulator in its place: it neither steps up nor inverts."));
    }

    private void addSizing(StudyOutcome.Sizing sizing) {
        PartsProposal proposal = sizing.proposal();
        if (proposal != null) {
            addProposal(proposal);
        }
        addCheck(sizing.check());
    }

    private void addProposal(PartsProposal proposal) {
        page.table(PageTable.headed("part", "at least or most", "proposed (IEC 60063)")
                .row(
                        "inductance",
                        least(proposal.leastInductance(), Unit.HENRY),
                        standard(proposal.inductance(), Unit.HENRY))
                .row(
                        "output capacitance",
                        least(proposal.leastCapacitance(), Unit.FARAD),
                        standard(proposal.capacitance(), Unit.FARAD))
                .row(
                        "its series resistance",
                        "at most " + ReportTables.format(proposal.largestSeriesResistance(), Unit.OHM),
                        standard(proposal.seriesResistance(), Unit.OHM)));
    }

    private void addCheck(PartsCheck check) {
        page.paragraph((check.passes() ? "Every corner passes. " : "Not every corner passes. ")
                + check.binding()
                        .map(binding -> "What binds: " + binding + ", "
                                + String.format(Locale.ROOT, "%.1f %% left.", 100 * binding.margin()))
                        .orElse("No corner was reached."));
        List<Figure<CornerResult>> figures = CornerResult.figures();
        List<String> headings =
                new ArrayList<>(figures.stream().map(Figure::words).toList());
        headings.add("conduction");
        PageTable table = PageTable.headed(headings.toArray(new String[0]));
        for (CornerResult corner : check.results()) {
            List<Cell> cells = new ArrayList<>();
            for (Figure<CornerResult> figure : figures) {
                double value = figure.in(corner);
                cells.add(Cell.of(
                        figure.unit() == Unit.ONE
                                ? ReportTables.percent(value)
                                : ReportTables.format(value, figure.unit())));
            }
            cells.add(Cell.of(StudyFiles.lower(corner.conduction())));
            table.row(cells);
        }
        page.table(table);
        check.failures().forEach((corner, reason) -> page.paragraph(corner + ": " + reason));
    }

    private static String least(double value, Unit unit) {
        return "at least " + ReportTables.format(value, unit);
    }

    private static String standard(double value, Unit unit) {
        return Quantity.format(value, unit).replace(' ', '\u00a0');
    }
}
