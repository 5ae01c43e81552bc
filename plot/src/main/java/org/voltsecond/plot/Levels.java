package org.voltsecond.plot;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.units.Unit;

/**
 * Round values at which contours are drawn.
 *
 * @param values in the unit of the figure, rising
 * @param scale the unit in which they are written
 * @param percent whether they are written in per cent
 */
record Levels(List<Double> values, Scale scale, boolean percent) {
    private static final int WANTED = 8;

    static Levels between(double least, double most, Unit unit, boolean percent) {
        Scale scale = Scale.of(percent ? Unit.ONE : unit, Math.max(Math.abs(least), Math.abs(most)));
        double factor = percent ? 100 : scale.in(1);
        double size = Math.max(factor * (most - least) / WANTED, 1e-9 * factor * Math.abs(most));
        List<Double> values = new ArrayList<>();
        // of a figure that is zero everywhere, such as the ripple of a transistor that stays closed, there is none
        if (size > 0) {
            double step = new Ticks().getCeilingTickUnit(size).getSize();
            for (long k = (long) Math.ceil(factor * least / step); k * step <= factor * most; k++) {
                values.add(k * step / factor);
            }
        }
        return new Levels(List.copyOf(values), scale, percent);
    }

    /** In which band between levels a value lies: 0 below the first. */
    int band(double value) {
        int band = 0;
        while (band < values.size() && value >= values.get(band)) {
            band++;
        }
        return band;
    }

    /** The number of a level as it is written, without its unit. */
    String label(int level) {
        double step = values.size() > 1 ? values.get(1) - values.get(0) : Math.abs(values.get(0));
        double factor = percent ? 100 : scale.in(1);
        return new Ticks()
                .getCeilingTickUnit(Math.max(factor * step * (1 - 1e-9), Double.MIN_NORMAL))
                .valueToString(factor * values.get(level));
    }

    String symbol() {
        return percent ? "%" : scale.symbol();
    }
}
