package org.voltsecond.plot.parts;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.emission.Emissions;
import org.voltsecond.emission.Emissions.Worst;
import org.voltsecond.plot.LineBuilder;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * The spectrum at the artificial network of the plus line, with limit lines; the harmonic with the least margin is marked. It is a
 * pre-compliance estimate, and says so.
 *
 * <pre>{@code
 * Emissions seen = EmissionEstimate.of(rail).limits(EmissionLimits.CLASS_B).measure();
 * EmissionPicture.of("Logic rail", "12 V in, 2 A", seen).writePng(folder.resolve("emissions.png"));
 * }</pre>
 */
public final class EmissionPicture {
    private static final String CAUTION =
            "Pre-compliance estimate: layout, coupling between parts and leads, radiation, and parasitics of parts at "
                    + "high frequencies are not included. Only a measurement shows compliance.";

    /** Below the noise of a receiver there is nothing to see, dBµV. */
    private static final double LOWEST_SHOWN = -20;

    private static final double STEP = 10;

    private EmissionPicture() {}

    /**
     * Draws emissions.
     *
     * @param name what the converter is called
     * @param subtitle below the title; may be empty
     * @param found the emissions
     * @return the picture
     */
    public static Picture of(String name, String subtitle, Emissions found) {
        return of(name, subtitle, found, null);
    }

    /**
     * Draws emissions, and beside each what a filter leaves of it.
     *
     * @param name what the converter is called
     * @param subtitle below the title; may be empty
     * @param found the emissions
     * @param filtered those with a filter; null for none
     * @return the picture
     */
    public static Picture of(String name, String subtitle, Emissions found, @Nullable Emissions filtered) {
        LineBuilder chart = Pictures.lines(name + ": emissions into the supply, pre-compliance estimate")
                .subtitle(subtitle)
                .caution(CAUTION)
                .x("frequency", Unit.HERTZ)
                .logarithmicX()
                .y("level at " + found.test().network(), Unit.DECIBEL_MICROVOLT)
                .stems("plus line", frequencies(found), levels(found, found::level));
        if (found.test().hasCommonMode()) {
            chart.stems(
                    "common mode",
                    frequencies(found),
                    levels(found, k -> found.commonMode(k).orElse(Double.NaN)));
        }
        if (filtered != null) {
            chart.stems(
                    "plus line, with the proposed filter", frequencies(filtered), levels(filtered, filtered::level));
        }
        EmissionLimits limits = found.test().limits();
        if (limits != null) {
            add(chart, limits.name() + ", average", limits.average());
            if (!limits.quasiPeak().isEmpty()) {
                add(chart, limits.name() + ", quasi-peak", limits.quasiPeak());
            }
        }
        mark(chart, found.worst());
        if (filtered != null) {
            mark(chart, filtered.worst());
        }
        return chart.yRange(lowest(found, filtered), highest(found)).build();
    }

    private static double[] frequencies(Emissions found) {
        return levels(found, found::frequency);
    }

    private static double[] levels(Emissions found, IntToDoubleFunction of) {
        return IntStream.rangeClosed(1, found.size()).mapToDouble(of).toArray();
    }

    private static void mark(LineBuilder chart, Result<Worst> found) {
        found.ifExists(worst -> chart.mark(
                worst.frequency(),
                worst.level(),
                String.format(
                        Locale.ROOT,
                        "%s: %.1f dB %s",
                        Quantity.brief(worst.frequency(), Unit.HERTZ),
                        Math.abs(worst.margin()),
                        worst.margin() < 0 ? "above the limit" : "below the limit")));
    }

    /** Band after band, with an upright line where they meet and a gap where they do not. */
    private static void add(LineBuilder chart, String name, List<EmissionLimits.Band> bands) {
        List<Double> xs = new ArrayList<>();
        List<Double> ys = new ArrayList<>();
        double last = 0;
        for (EmissionLimits.Band band : bands) {
            double from = band.from();
            if (from <= last) {
                from = Math.nextUp(last);
            } else if (last > 0) {
                xs.add(Math.nextUp(last));
                ys.add(Double.NaN);
            }
            if (from < band.to()) {
                xs.addAll(List.of(from, band.to()));
                ys.addAll(List.of(band.at(from), band.levelAtEnd()));
                last = band.to();
            }
        }
        chart.line(name, array(xs), array(ys));
    }

    private static double[] array(List<Double> values) {
        return values.stream().mapToDouble(value -> value).toArray();
    }

    private static double highest(Emissions found) {
        double most = Arrays.stream(levels(found, found::level)).max().orElse(0);
        EmissionLimits limits = found.test().limits();
        if (limits != null) {
            for (EmissionLimits.Band band : limits.quasiPeak().isEmpty() ? limits.average() : limits.quasiPeak()) {
                most = Math.max(most, Math.max(band.level(), band.levelAtEnd()));
            }
        }
        return STEP * Math.ceil((most + STEP / 2) / STEP);
    }

    private static double lowest(Emissions found, @Nullable Emissions filtered) {
        double least = Arrays.stream(levels(found, found::level)).min().orElse(0);
        if (filtered != null) {
            least = Math.min(
                    least,
                    Arrays.stream(levels(filtered, filtered::level)).min().orElse(0));
        }
        return Math.min(highest(found) - STEP, Math.max(LOWEST_SHOWN, STEP * Math.floor(least / STEP)));
    }
}
