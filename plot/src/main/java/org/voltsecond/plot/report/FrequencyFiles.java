package org.voltsecond.plot.report;

import java.io.IOException;
import java.io.Writer;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalDouble;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.ResponsePictures;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Result;

/** Writes the frequency response of a design: its file of curves, its figures, its pictures. */
final class FrequencyFiles {
    private FrequencyFiles() {}

    /** Writes frequency-response.csv: magnitude in dB (of the unit that stands there) and phase in degrees. */
    static void writeCsv(FrequencyOutcome found, Writer writer) throws IOException {
        StringBuilder line = new StringBuilder("frequency (Hz)");
        for (String name : found.all().keySet()) {
            String unit = name.contains("impedance") ? "dB re 1 Ω" : "dB";
            line.append(',').append(name).append(" (").append(unit).append(')');
            line.append(',').append(name).append("_phase (degrees)");
        }
        for (int i = 0; i < found.loopGain().size(); i++) {
            line.append('\n').append(found.loopGain().frequency(i));
            for (FrequencyResponse response : found.all().values()) {
                line.append(',').append(response.decibels(i)).append(',').append(response.phase(i));
            }
        }
        writer.append(line.append('\n'));
    }

    static void writeFigures(JsonObject root, Result<FrequencyOutcome> found) throws IOException {
        if (!found.exists()) {
            root.missing("frequency_response", found.reason());
            return;
        }
        FrequencyOutcome outcome = found.get();
        try (JsonObject object = root.object("frequency_response")) {
            if (outcome.hasLoop()) {
                writeMargins(object, outcome.margins());
            } else {
                object.missing("loop_gain", outcome.whyOpen());
            }
            FrequencyResponse.Peak peak = outcome.highestImpedance();
            try (JsonObject impedance = object.object("output_impedance")) {
                impedance.number("peak", peak.magnitude());
                impedance.number("peak_frequency", peak.frequency());
            }
            if (outcome.input().exists()) {
                outcome.input().get().write(object);
            }
        }
    }

    private static void writeMargins(JsonObject object, Margins margins) throws IOException {
        String noCrossover = "the loop gain does not pass one within the range of frequencies";
        try (JsonObject loop = object.object("loop_gain")) {
            number(loop, "crossover_frequency", margins.crossoverFrequency(), noCrossover);
            number(loop, "phase_margin", margins.phaseMargin(), noCrossover);
            loop.array("crossovers", array -> {
                for (Margins.Crossover crossover : margins.crossovers()) {
                    try (JsonObject each = JsonObject.in(array)) {
                        each.number("frequency", crossover.frequency()).number("phase_margin", crossover.phaseMargin());
                    }
                }
            });
            bound(loop, "gain_margin", "phase_crossover_frequency", margins.gain());
            bound(loop, "gain_reduction_margin", "gain_reduction_frequency", margins.gainReduction());
            loop.flag("conditionally_stable", margins.isConditionallyStable());
        }
    }

    private static void bound(JsonObject object, String key, String frequencyKey, Margins.Bound bound)
            throws IOException {
        number(object, key, bound.margin(), bound.reason());
        number(object, frequencyKey, bound.frequency(), bound.reason());
    }

    private static void number(JsonObject object, String key, OptionalDouble value, String reason) throws IOException {
        object.number(key, value.orElse(Double.NaN), reason);
    }

    /** The pictures by the names of their files; none where there is no response. */
    static Map<String, Picture> pictures(Findings outcome) {
        Result<FrequencyOutcome> response = outcome.frequencyResponse();
        if (response == null || !response.exists()) {
            return Map.of();
        }
        FrequencyOutcome found = response.get();
        String name = Printable.of(outcome.name());
        String subtitle = PictureFiles.subtitle(outcome);
        Map<String, Picture> pictures = new LinkedHashMap<>();
        if (found.hasLoop()) {
            pictures.put("loop-gain", ResponsePictures.loopGain(name + ": loop gain", subtitle, found.loopGain()));
            pictures.put(
                    "loop-gain-plane",
                    ResponsePictures.nyquist(name + ": loop gain about -1", subtitle, found.loopGain()));
        }
        pictures.put(
                "output-impedance",
                ResponsePictures.bode(name + ": output impedance", subtitle, found.outputImpedance()));
        found.input().ifExists(input -> {
            pictures.put("input-impedance", input.picture(outcome.name(), subtitle));
            Picture damped = input.dampedPicture(outcome.name(), subtitle);
            if (damped != null) {
                pictures.put("input-impedance-damped", damped);
            }
        });
        return pictures;
    }
}
