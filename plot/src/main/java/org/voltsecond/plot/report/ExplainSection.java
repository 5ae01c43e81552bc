package org.voltsecond.plot.report;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.explain.Balance;
import org.voltsecond.plot.explain.ConversionCurve;
import org.voltsecond.plot.explain.CurrentPaths;
import org.voltsecond.plot.page.Page;
import org.voltsecond.units.Printable;

/** The section of the report that explains how the stage works, in pictures. */
final class ExplainSection {
    /** Points of the conversion ratio. */
    private static final int POINTS = 60;

    /** For the discontinuous branch: this many times the resistance of the load. */
    private static final double[] LIGHTER = {10, 50};

    /** With a line ripple there are very many, all alike. */
    private static final int MOST_INTERVALS = 60;

    private ExplainSection() {}

    static void addTo(Page page, Findings outcome, Map<String, Picture> pictures) {
        if (!pictures.isEmpty()) {
            page.heading("How it works");
            outcome.steadyState().ifExists(steady -> paths(steady).ifPresent(paths -> page.flow(paths.flow())));
            pictures.forEach((name, picture) -> page.picture(picture, name.replace('-', ' ')));
        }
    }

    /** By the names of their files. */
    static Map<String, Picture> pictures(Findings outcome) {
        Map<String, Picture> pictures = new LinkedHashMap<>();
        outcome.steadyState().ifExists(steady -> {
            String name = Printable.of(outcome.name());
            if (storesAnything(steady)) {
                pictures.put(
                        "volt-seconds", Balance.picture(name + ": energy and charge, stored and released", steady));
            }
            if (ConversionCurve.isQuickFor(steady) && takesCurrent(steady)) {
                pictures.put(
                        "conversion-ratio",
                        ConversionCurve.of(steady, POINTS, LIGHTER).picture(name + ": what the duty cycle does"));
            }
            paths(steady)
                    .flatMap(paths -> paths.picture(name + ": where the current flows"))
                    .ifPresent(picture -> pictures.put("current-paths", picture));
        });
        return pictures;
    }

    private static Optional<CurrentPaths> paths(ConverterSteadyState steady) {
        return steady.periodic().trajectory().size() <= MOST_INTERVALS
                ? Optional.of(CurrentPaths.of(steady))
                : Optional.empty();
    }

    private static boolean takesCurrent(ConverterSteadyState steady) {
        return steady.of(steady.converter().loadCurrent()).mean() != 0;
    }

    private static boolean storesAnything(ConverterSteadyState steady) {
        return steady.converter().roles().inductor().isPresent()
                || steady.converter().roles().outputCapacitor().isPresent();
    }
}
