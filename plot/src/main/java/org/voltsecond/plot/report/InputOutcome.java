package org.voltsecond.plot.report;

import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.SourceInteraction;
import org.voltsecond.converter.SourceInteraction.Separation;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.ResponsePictures;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.sizing.InputDamping;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * What lies between source and stage against the input of the converter, told in figures, on the terminal and on the page.
 *
 * @param found the impedances and how far they are apart
 * @param damping a branch that keeps them apart, or why there is none; null where they are far enough apart
 */
record InputOutcome(SourceInteraction found, @Nullable Result<InputDamping> damping) {
    private static final String SOURCE = "source_impedance";

    static Result<InputOutcome> of(ConverterSteadyState steady, double... frequencies) {
        return SourceInteraction.of(steady, frequencies)
                .map(found -> new InputOutcome(found, found.isMet() ? null : InputDamping.of(steady, found)));
    }

    /** By the names of their columns. */
    Map<String, FrequencyResponse> curves() {
        Map<String, FrequencyResponse> curves = new LinkedHashMap<>();
        curves.put(SOURCE, found.sourceImpedance());
        curves.put("input_impedance_open_loop", found.openLoop());
        found.closedLoop().ifPresent(closed -> curves.put("input_impedance_closed_loop", closed));
        return curves;
    }

    /** By the words of what is told about them. */
    private static Map<String, Separation> separations(SourceInteraction of) {
        Map<String, Separation> all = new LinkedHashMap<>();
        of.closedLoopSeparation().ifPresent(closed -> all.put("closed loop", closed));
        all.put("open loop", of.openLoopSeparation());
        return all;
    }

    /** Lines for terminal and page. */
    Map<String, String> rows() {
        Map<String, String> rows = new LinkedHashMap<>();
        FrequencyResponse.Peak peak = found.sourceImpedance().peak();
        rows.put(
                "source impedance",
                "at most " + ReportTables.format(peak.magnitude(), Unit.OHM) + ", at "
                        + ReportTables.format(peak.frequency(), Unit.HERTZ));
        separations(found).forEach((loop, separation) -> rows.put("input, " + loop, separation.verdict()));
        if (damping != null) {
            rows.put(
                    "input damping",
                    damping.exists() ? proposed(damping.get()) : "none is proposed: " + damping.reason());
        }
        return rows;
    }

    private static String proposed(InputDamping branch) {
        StringBuilder text = new StringBuilder(branch + " across the input is proposed: ");
        separations(branch.interaction())
                .forEach((loop, separation) -> text.append(loop)
                        .append(' ')
                        .append(String.format(java.util.Locale.ROOT, "%.1f dB, ", separation.decibels())));
        return text.append("stable, as simulated").toString();
    }

    PageTable table() {
        PageTable table = PageTable.headed("input", "found");
        rows().forEach(table::row);
        return table;
    }

    void write(JsonObject root) throws IOException {
        try (JsonObject input = root.object("input")) {
            FrequencyResponse.Peak peak = found.sourceImpedance().peak();
            try (JsonObject impedance = input.object(SOURCE)) {
                impedance.number("peak", peak.magnitude()).number("peak_frequency", peak.frequency());
            }
            writeSeparations(input, found);
            if (damping == null) {
                return;
            }
            if (!damping.exists()) {
                input.missing("damping", damping.reason());
                return;
            }
            InputDamping branch = damping.get();
            try (JsonObject object = input.object("damping")) {
                object.number("capacitance", branch.capacitance()).number("resistance", branch.resistance());
                writeSeparations(object, branch.interaction());
                SteadyState steady = branch.steady().periodic();
                FiguresJson.writeStability(object, steady);
            }
        }
    }

    private static void writeSeparations(JsonObject object, SourceInteraction of) throws IOException {
        for (Map.Entry<String, Separation> each : separations(of).entrySet()) {
            try (JsonObject loop = object.object(each.getKey().replace(' ', '_'))) {
                loop.number("separation", each.getValue().decibels())
                        .number("frequency", each.getValue().frequency());
                loop.flag("met", each.getValue().isMet());
                loop.text("verdict", each.getValue().verdict());
            }
        }
    }

    Picture picture(String name, String subtitle) {
        return ResponsePictures.bode(
                Printable.of(name) + ": impedances at the input",
                subtitle,
                curves().values().toArray(FrequencyResponse[]::new));
    }

    /** The curves with the branch that is proposed. */
    @Nullable
    Picture dampedPicture(String name, String subtitle) {
        return damping == null || !damping.exists()
                ? null
                : new InputOutcome(damping.get().interaction(), null)
                        .picture(name + ", with " + damping.get(), subtitle);
    }
}
