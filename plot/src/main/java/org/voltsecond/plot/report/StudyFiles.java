package org.voltsecond.plot.report;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.plot.LossPictures;
import org.voltsecond.plot.MapPictures;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.report.OutputFolder.SideBySide;
import org.voltsecond.study.Axis;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** Writes what studies found as tables of comma-separated values, and draws it. */
final class StudyFiles {
    private StudyFiles() {}

    /** One task for each table. */
    static List<SideBySide.Task> tables(StudyOutcome studies, Path folder) {
        Map<String, String> tables = new LinkedHashMap<>();
        Result<StudyOutcome.Losses> losses = studies.losses();
        if (losses != null && losses.exists()) {
            tables.put("losses.csv", losses(losses.get()));
            tables.put("efficiency.csv", efficiency(losses.get().curve()));
        }
        Result<OperatingMap> map = studies.map();
        if (map != null && map.exists()) {
            tables.put("map.csv", map.get().toCsv());
            tables.put("map-boundary.csv", map.get().boundaryCsv());
            tables.put("map.json", map.get().toJson());
        }
        if (studies.tolerance() != null && studies.tolerance().exists()) {
            tables.put("tolerance.csv", studies.tolerance().get().toCsv());
            tables.put("tolerance.json", studies.tolerance().get().toJson());
        }
        if (studies.sizing() != null && studies.sizing().exists()) {
            tables.put("sizing.csv", studies.sizing().get().check().toCsv());
        }
        if (studies.emissions() != null && studies.emissions().exists()) {
            tables.put("emissions.csv", studies.emissions().get().csv());
        }
        List<SideBySide.Task> tasks = new ArrayList<>();
        tables.forEach((name, text) -> tasks.add(() -> Files.writeString(folder.resolve(name), text)));
        return tasks;
    }

    private static String losses(StudyOutcome.Losses losses) {
        StringBuilder csv = new StringBuilder("part,cause,power (W)\n");
        for (LossEntry entry : losses.budget().entries()) {
            csv.append(entry.part())
                    .append(',')
                    .append(entry.cause())
                    .append(',')
                    .append(entry.power());
            csv.append('\n');
        }
        return csv.toString();
    }

    private static String efficiency(EfficiencyCurve curve) {
        StringBuilder csv =
                new StringBuilder("load current (A),duty cycle,conduction,output power (W),losses (W),efficiency\n");
        for (EfficiencyCurve.Point point : curve.points()) {
            csv.append(point.loadCurrent())
                    .append(',')
                    .append(point.dutyCycle())
                    .append(',');
            csv.append(lower(point.conduction()))
                    .append(',')
                    .append(point.budget().outputPower())
                    .append(',');
            csv.append(point.budget().total())
                    .append(',')
                    .append(point.budget().efficiency())
                    .append('\n');
        }
        return csv.toString();
    }

    static String lower(Enum<?> word) {
        return word.name().toLowerCase(Locale.ROOT);
    }

    /** The pictures by the names of their files. */
    static Map<String, Picture> pictures(Findings outcome) {
        Map<String, Picture> pictures = new LinkedHashMap<>();
        String name = Printable.of(outcome.name());
        StudyOutcome studies = outcome.studies();
        Result<StudyOutcome.Losses> losses = studies.losses();
        if (losses != null && losses.exists()) {
            pictures.put(
                    "losses",
                    LossPictures.losses(
                            name + ": losses at " + load(outcome), losses.get().budget()));
            if (losses.get().curve().points().size() > 1) {
                pictures.put(
                        "efficiency",
                        LossPictures.efficiency(
                                name + ": efficiency over load", losses.get().curve()));
            }
        }
        Result<HeatBalance> heat = studies.heat();
        if (heat != null && heat.exists() && !heat.get().temperatures().isEmpty()) {
            pictures.put(
                    "temperatures", LossPictures.temperatures(name + ": temperatures at " + load(outcome), heat.get()));
        }
        Result<OperatingMap> map = studies.map();
        if (map != null && map.exists() && map.get().failures() < points(map.get())) {
            pictures.put(
                    "map-conduction",
                    MapPictures.conduction(name + ": mode of conduction", map.get(), place(outcome, map.get())));
            for (int k = 0; k < map.get().figures().size(); k++) {
                if (!Double.isNaN(map.get().least(k))) {
                    pictures.put(
                            "map-" + key(map.get(), k).replace('_', '-'),
                            MapPictures.contours(
                                    name + ": " + words(map.get().figures().get(k)),
                                    map.get(),
                                    k,
                                    place(outcome, map.get())));
                }
            }
        }
        Result<EmissionOutcome> emissions = studies.emissions();
        if (emissions != null && emissions.exists()) {
            pictures.put("emissions", emissions.get().picture(outcome.name()));
        }
        return pictures;
    }

    /** Where the design lies in a map; null if it has no such values. */
    static MapLine.@Nullable Spot place(Findings outcome, OperatingMap map) {
        double across = valueOn(map.across(), outcome);
        double up = valueOn(map.up(), outcome);
        return Double.isNaN(across + up) ? null : new MapLine.Spot(across, up);
    }

    /** A load of any kind has a current. */
    private static double valueOn(Axis axis, Findings outcome) {
        Converter converter = outcome.converter();
        if (axis.value().equals(Optional.of(StageValue.LOAD_CURRENT))) {
            return outcome.steadyState().exists() ? loadCurrent(outcome) : Double.NaN;
        }
        return axis.value()
                .filter(value -> value.appliesTo(converter))
                .map(value -> value.in(converter))
                .orElse(Double.NaN);
    }

    /** What the contours of a figure are of. */
    static String words(Figure<?> figure) {
        if (!figure.key().equals(Figures.EFFICIENCY.key())) {
            return figure.toString();
        }
        return figure.equals(Figures.EFFICIENCY) ? "efficiency, conduction losses only" : "efficiency, all losses";
    }

    private static String load(Findings outcome) {
        return Quantity.format(loadCurrent(outcome), Unit.AMPERE, 3);
    }

    private static double loadCurrent(Findings outcome) {
        var steady = outcome.steadyState().get();
        return Math.abs(steady.of(outcome.converter().loadCurrent()).mean());
    }

    private static int points(OperatingMap map) {
        return map.across().size() * map.up().size();
    }

    /** The name of a figure of a map as in the design file. */
    static String key(OperatingMap map, int figure) {
        return map.figures().get(figure).key();
    }
}
