package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.voltsecond.plot.Axes.Scale;
import org.voltsecond.plot.Axes.Ticks;
import org.voltsecond.study.Axis;
import org.voltsecond.study.OperatingMap;
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

    /** Writes the value of a contour on it, where it covers no other. */
    static final class ContourLabel {
        private static final double[] TRIED = {0.5, 0.35, 0.65, 0.2, 0.8};
        private static final double SHORTEST = 60;

        private ContourLabel() {}

        /** A place in the plane. */
        record Place(double x, double y) {
            double to(Place other) {
                return Math.hypot(other.x - x, other.y - y);
            }
        }

        /** Writes the label at one of some parts of the line, or not at all if there is no room. */
        static void draw(Graphics2D g, String label, List<Place> line, Rectangle2D area, List<Rectangle2D> taken) {
            double length = length(line);
            double width = Text.width(g, Look.SMALL, label);
            if (length < Math.max(SHORTEST, 2 * width)) {
                return;
            }
            for (double part : TRIED) {
                Place place = at(line, part * length);
                Rectangle2D patch = new Rectangle2D.Double(place.x() - 0.5 * width - 4, place.y() - 9, width + 8, 18);
                if (area.contains(patch) && taken.stream().noneMatch(patch::intersects)) {
                    taken.add(patch);
                    Text.patched(g, Look.SMALL, Look.INK, label, place.x() - 0.5 * width, place.y() + 4);
                    return;
                }
            }
        }

        private static double length(List<Place> line) {
            double length = 0;
            for (int k = 1; k < line.size(); k++) {
                length += line.get(k - 1).to(line.get(k));
            }
            return length;
        }

        private static Place at(List<Place> line, double along) {
            double left = along;
            for (int k = 1; k < line.size(); k++) {
                double step = line.get(k - 1).to(line.get(k));
                if (left <= step && step > 0) {
                    Place from = line.get(k - 1);
                    Place to = line.get(k);
                    return new Place(
                            from.x() + left / step * (to.x() - from.x()), from.y() + left / step * (to.y() - from.y()));
                }
                left -= step;
            }
            return line.get(line.size() - 1);
        }
    }

    /** A figure of a map between its points, bilinear in steps or factors as the axes have them. */
    record MapField(double[] across, double[] up, double[][] values) {
        static MapField of(OperatingMap map, int figure) {
            double[] across = positions(map.across());
            double[] up = positions(map.up());
            double[][] values = new double[across.length][up.length];
            for (int i = 0; i < across.length; i++) {
                for (int j = 0; j < up.length; j++) {
                    values[i][j] = map.value(figure, i, j);
                }
            }
            return new MapField(across, up, values);
        }

        static double[] positions(Axis axis) {
            return axis.values().stream()
                    .mapToDouble(value -> position(axis, value))
                    .toArray();
        }

        static double position(Axis axis, double value) {
            return axis.logarithmic() ? Math.log10(value) : value;
        }

        /** The value at a place; not a number beside a point that has none. */
        double at(double x, double y) {
            int i = cell(across, x);
            int j = cell(up, y);
            double u = (x - across[i]) / (across[i + 1] - across[i]);
            double v = (y - up[j]) / (up[j + 1] - up[j]);
            double low = values[i][j] + u * (values[i + 1][j] - values[i][j]);
            double high = values[i][j + 1] + u * (values[i + 1][j + 1] - values[i][j + 1]);
            return low + v * (high - low);
        }

        private static int cell(double[] nodes, double at) {
            int found = Arrays.binarySearch(nodes, at);
            int cell = found >= 0 ? found : -found - 2;
            return Math.min(Math.max(cell, 0), nodes.length - 2);
        }
    }
}
