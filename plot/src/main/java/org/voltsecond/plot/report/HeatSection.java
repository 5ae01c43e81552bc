package org.voltsecond.plot.report;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.HeatFigures;
import org.voltsecond.figures.Told;
import org.voltsecond.losses.CapacitorRating;
import org.voltsecond.losses.CapacitorStress;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.HeatedBody;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** Tells how hot parts become, and what their currents do to capacitors. */
final class HeatSection {
    private static final int DIGITS = 4;

    private HeatSection() {}

    static void addTo(Page page, Findings outcome, @Nullable Picture picture) {
        addTemperatures(page, outcome);
        if (picture != null) {
            page.picture(picture, "Part temperatures against their ratings");
        }
        addCapacitors(page, outcome);
    }

    static void addTables(Page page, Findings outcome) {
        addTemperatures(page, outcome);
        addCapacitors(page, outcome);
    }

    private static void addTemperatures(Page page, Findings outcome) {
        Result<HeatBalance> found = outcome.studies().heat();
        if (found == null) {
            return;
        }
        page.heading("Temperatures");
        if (!found.exists()) {
            page.paragraph("There are none: " + found.reason() + ".");
            return;
        }
        HeatBalance balance = found.get();
        if (!balance.temperatures().isEmpty()) {
            page.paragraph("At an ambient of " + celsius(balance.model().ambient())
                    + ", in the steady state with the values that the parts have at these temperatures. "
                    + efficiencies(outcome, balance));
            page.table(parts(balance));
            page.paragraph(margin(balance));
        }
    }

    private static void addCapacitors(Page page, Findings outcome) {
        Result<HeatBalance> found = outcome.studies().heat();
        if (found != null && found.exists() && !found.get().capacitors().isEmpty()) {
            page.heading("Capacitor currents").table(capacitors(found.get().capacitors()));
        }
    }

    private static String efficiencies(Findings outcome, HeatBalance balance) {
        LossBudget cold =
                LossBudget.of(outcome.steadyState().get(), balance.model().models());
        String losses = balance.model().models().isEmpty() ? "conduction losses only" : "all losses";
        return "Efficiency at temperature, " + losses + ": "
                + ReportTables.percent(balance.budget().efficiency())
                + "; with the values as the design gives them " + ReportTables.percent(cold.efficiency())
                + ". All other sections hold for the values as given.";
    }

    private static PageTable parts(HeatBalance balance) {
        PageTable table = PageTable.headed("part", "temperature", "above the ambient", "heat", "stands", "verdict");
        for (HeatedBody body : balance.model().bodies()) {
            double hot = balance.temperature(body.name());
            double margin = body.maximum() - hot;
            Cell verdict = Double.isNaN(margin)
                    ? new Cell("not checked", Cell.Tone.OPEN)
                    : margin >= 0
                            ? new Cell("met, " + kelvin(margin) + " to spare", Cell.Tone.GOOD)
                            : new Cell("not met, by " + kelvin(-margin), Cell.Tone.BAD);
            table.row(List.of(
                    Cell.of(body.name()),
                    Cell.of(celsius(hot)),
                    Cell.of(kelvin(hot - balance.model().ambient())),
                    Cell.of(ReportTables.format(balance.powers().getOrDefault(body.name(), 0.0), Unit.WATT)),
                    Cell.of(Double.isNaN(body.maximum()) ? "" : celsius(body.maximum())),
                    verdict));
        }
        balance.sinkTemperatures()
                .forEach((sink, hot) -> table.row(
                        "sink " + sink,
                        celsius(hot),
                        kelvin(hot - balance.model().ambient()),
                        "",
                        "",
                        ""));
        return table;
    }

    private static String margin(HeatBalance balance) {
        return "Thermal loop gain " + Quantity.format(balance.loopGain(), Unit.ONE, 3)
                + ": the fraction of a temperature rise that the losses add to it; at 1 there is thermal runaway. "
                + (balance.runawayAmbient().exists()
                        ? "That happens at an ambient above "
                                + celsius(balance.runawayAmbient().get()) + "."
                        : "That is not reached: " + balance.runawayAmbient().reason() + ".");
    }

    private static PageTable capacitors(List<CapacitorStress> all) {
        PageTable table = PageTable.headed(
                "capacitor", "ripple current, RMS", "by frequency", "share of the rating", "hot spot", "expected life");
        for (CapacitorStress stress : all) {
            Result<Double> share = stress.share();
            table.row(List.of(
                    Cell.of(stress.part()),
                    Cell.of(ReportTables.format(stress.current().rms(), Unit.AMPERE)),
                    Cell.of(stress.current().bands().stream()
                            .map(band -> ReportTables.format(band.rms(), Unit.AMPERE) + ' ' + HeatFigures.words(band))
                            .collect(Collectors.joining(", "))),
                    share.exists()
                            ? new Cell(
                                    ReportTables.percent(share.get()),
                                    share.get() <= 1 ? Cell.Tone.GOOD : Cell.Tone.BAD)
                            : new Cell("not checked", Cell.Tone.OPEN),
                    hotSpot(stress),
                    Cell.of(stress.hours().exists() ? hours(stress.hours().get()) : "unknown")));
        }
        return table;
    }

    private static Cell hotSpot(CapacitorStress stress) {
        CapacitorRating rating = stress.rating();
        if (rating == null || !stress.hotSpot().exists()) {
            return Cell.of("unknown");
        }
        double hot = stress.hotSpot().get();
        return Double.isNaN(rating.maximum())
                ? Cell.of(celsius(hot))
                : new Cell(
                        celsius(hot) + ", stands " + celsius(rating.maximum()),
                        hot <= rating.maximum() ? Cell.Tone.GOOD : Cell.Tone.BAD);
    }

    private static String hours(double hours) {
        return Math.round(hours) + " hours";
    }

    private static String celsius(double value) {
        return String.format(Locale.ROOT, "%.1f °C", value);
    }

    private static String kelvin(double value) {
        return String.format(Locale.ROOT, "%.1f K", value);
    }

    /** The hottest part, for the head of the report. */
    static String hottest(HeatBalance balance) {
        return balance.temperatures().entrySet().stream()
                .max(Map.Entry.comparingByValue())
                .map(hot -> hot.getKey() + " " + celsius(hot.getValue()))
                .orElse("none");
    }

    /** What is to be said of a part that becomes hotter than it stands; empty of others. */
    private static String excess(HeatBalance balance, String name) {
        return balance.model().bodies().stream()
                .filter(body -> body.name().equals(name) && balance.temperature(name) > body.maximum())
                .map(body -> " (stands " + celsius(body.maximum()) + ")")
                .collect(Collectors.joining());
    }

    /** One line for the terminal. */
    static String row(HeatBalance balance) {
        String parts = balance.temperatures().entrySet().stream()
                .map(part -> part.getKey() + " " + celsius(part.getValue()) + excess(balance, part.getKey()))
                .collect(Collectors.joining(", "));
        String worst = balance.capacitors().stream()
                .filter(stress -> stress.share().exists())
                .map(stress -> "; ripple current of " + stress.part() + " "
                        + ReportTables.percent(stress.share().get()) + " of what is permitted")
                .collect(Collectors.joining());
        return parts + " at an ambient of " + celsius(balance.model().ambient()) + worst + "; efficiency "
                + ReportTables.percent(balance.budget().efficiency()) + ", thermal loop gain "
                + Told.quantity(balance.loopGain(), Unit.ONE, DIGITS - 1);
    }
}
