package org.voltsecond.plot.report;

import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Commutation;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.plot.parts.RingingPicture;
import org.voltsecond.units.Unit;

/** How the current commutates and what rings then, in report, pictures and figures.json; nothing where no capacitance lies there. */
final class RingingSection {
    private RingingSection() {}

    static void addTo(Page page, Findings outcome, Map<String, Picture> pictures) {
        outcome.steadyState().ifExists(steady -> {
            Commutation found = Commutation.of(steady);
            if (found.isWorthTelling()) {
                page.heading("Switching and ringing").paragraph(sentence(found, steady));
                if (!found.rings().isEmpty()) {
                    page.table(table(found, steady));
                }
                pictures.values().forEach(picture -> page.picture(picture, "Ringing"));
            }
        });
    }

    private static String sentence(Commutation found, ConverterSteadyState steady) {
        if (found.voltageAtTurnOn().isEmpty()) {
            return "The transistor never closes.";
        }
        double volt = found.voltageAtTurnOn().getAsDouble();
        return "The transistor closes on " + ReportTables.format(volt, Unit.VOLT) + "; the capacitance across it loses "
                + ReportTables.format(found.energyAtTurnOn() / steady.period(), Unit.WATT) + " by that."
                + (found.rings().isEmpty() ? " Nothing rings for a full cycle." : "");
    }

    private static PageTable table(Commutation found, ConverterSteadyState steady) {
        PageTable table = PageTable.headed(
                "after", "seen at", "peak", "first swing", "frequency", "damping ratio", "to 1/e in", "loss");
        for (Commutation.Ring ring : found.rings()) {
            table.row(
                    ring.after().key().replace('-', ' '),
                    ring.signal().name(),
                    ReportTables.format(ring.peak(), Unit.VOLT),
                    ReportTables.format(ring.amplitude(), Unit.VOLT),
                    ReportTables.format(ring.frequency(), Unit.HERTZ),
                    ReportTables.format(ring.dampingRatio(), Unit.ONE),
                    ReportTables.format(ring.decayTime(), Unit.SECOND),
                    ReportTables.format(ring.energyLost() / steady.period(), Unit.WATT));
        }
        return table;
    }

    /** By the names of their files. */
    static Map<String, Picture> pictures(Findings outcome) {
        Map<String, Picture> pictures = new LinkedHashMap<>();
        outcome.steadyState()
                .ifExists(steady -> Commutation.of(steady)
                        .rings()
                        .forEach(ring -> pictures.put(
                                "ringing-" + ring.after().key(), RingingPicture.of(outcome.name(), steady, ring))));
        return pictures;
    }

    static void write(JsonObject steadyState, ConverterSteadyState steady) throws IOException {
        Commutation found = Commutation.of(steady);
        if (!found.isWorthTelling()) {
            return;
        }
        try (JsonObject object = steadyState.object("commutation")) {
            if (found.voltageAtTurnOn().isPresent()) {
                object.number("voltage_at_turn_on", found.voltageAtTurnOn().getAsDouble())
                        .number("energy_at_turn_on", found.energyAtTurnOn());
            }
            object.array("ringing", array -> {
                for (Commutation.Ring ring : found.rings()) {
                    try (JsonObject each = JsonObject.in(array)) {
                        each.text("after", ring.after().key());
                        each.text("signal", ring.signal().name());
                        each.number("peak", ring.peak())
                                .number("first_swing", ring.amplitude())
                                .number("frequency", ring.frequency())
                                .number("damping_ratio", ring.dampingRatio())
                                .number("decay_time", ring.decayTime())
                                .number("energy", ring.energyLost())
                                .number("loss", ring.energyLost() / steady.period());
                    }
                }
            });
        }
    }
}
