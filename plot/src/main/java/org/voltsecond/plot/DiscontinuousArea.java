package org.voltsecond.plot;

import java.awt.Shape;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Levels.MapField;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;

/** The part of a map in which conduction is discontinuous, cell by cell, its border being the exact boundary. */
final class DiscontinuousArea {
    private final OperatingMap map;
    private final Map<Side, Double> crossings = new HashMap<>();

    /** A side of a cell: from node (i, j) to the right, or upright. */
    private record Side(int i, int j, boolean upright) {}

    DiscontinuousArea(OperatingMap map) {
        this.map = map;
        map.boundary().stream().flatMap(line -> line.spots().stream()).forEach(this::note);
    }

    private void note(MapLine.Spot spot) {
        int j = map.up().values().indexOf(spot.up());
        int i = map.across().values().indexOf(spot.across());
        if (j >= 0) {
            crossings.put(new Side(below(map.across().values(), spot.across()), j, false), spot.across());
        } else if (i >= 0) {
            crossings.put(new Side(i, below(map.up().values(), spot.up()), true), spot.up());
        }
    }

    private static int below(List<Double> values, double value) {
        int index = 0;
        while (index + 2 < values.size() && value >= values.get(index + 1)) {
            index++;
        }
        return index;
    }

    /** The area in the plane; cells in a row that lie in it as a whole are one rectangle, lest a clip has a thousand edges. */
    Shape in(Mapping mapping) {
        Path2D area = new Path2D.Double();
        for (int j = 0; j + 1 < map.up().size(); j++) {
            int from = 0;
            for (int i = 0; i + 1 < map.across().size(); i++) {
                if (!isWhole(i, j)) {
                    addWhole(area, mapping, from, i, j);
                    from = i + 1;
                    if (!MissingCells.misses(map, i, j)) {
                        addCell(area, mapping, i, j);
                    }
                }
            }
            addWhole(area, mapping, from, map.across().size() - 1, j);
        }
        return area;
    }

    private boolean isWhole(int i, int j) {
        return isIn(i, j)
                && isIn(i + 1, j)
                && isIn(i, j + 1)
                && isIn(i + 1, j + 1)
                && Arrays.stream(sides(i, j)).noneMatch(crossings::containsKey);
    }

    private boolean isIn(int i, int j) {
        return map.conduction(i, j).orElse(null) == Conduction.DISCONTINUOUS;
    }

    private void addWhole(Path2D area, Mapping mapping, int from, int to, int j) {
        if (from < to) {
            List<Double> across = map.across().values();
            List<Double> up = map.up().values();
            Polygon polygon = new Polygon(area);
            polygon.add(x(mapping, across.get(from)), y(mapping, up.get(j)));
            polygon.add(x(mapping, across.get(to)), y(mapping, up.get(j)));
            polygon.add(x(mapping, across.get(to)), y(mapping, up.get(j + 1)));
            polygon.add(x(mapping, across.get(from)), y(mapping, up.get(j + 1)));
            polygon.close();
        }
    }

    private static Side[] sides(int i, int j) {
        return new Side[] {
            new Side(i, j, false), new Side(i + 1, j, true), new Side(i, j + 1, false), new Side(i, j, true)
        };
    }

    /** Walks around the cell: corners in discontinuous conduction, and crossings of the boundary. */
    private void addCell(Path2D area, Mapping mapping, int i, int j) {
        int[][] corners = {{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}};
        Side[] sides = sides(i, j);
        Polygon polygon = new Polygon(area);
        for (int k = 0; k < corners.length; k++) {
            double x = map.across().values().get(corners[k][0]);
            double y = map.up().values().get(corners[k][1]);
            if (isIn(corners[k][0], corners[k][1])) {
                polygon.add(x(mapping, x), y(mapping, y));
            }
            Double crossing = crossings.get(sides[k]);
            if (crossing != null) {
                boolean upright = sides[k].upright();
                int[] next = corners[(k + 1) % corners.length];
                polygon.add(
                        x(mapping, upright ? x : crossing),
                        y(mapping, upright ? crossing : map.up().values().get(next[1])));
            }
        }
        polygon.close();
    }

    private double x(Mapping mapping, double value) {
        return mapping.x(MapField.position(map.across(), value));
    }

    private double y(Mapping mapping, double value) {
        return mapping.y(MapField.position(map.up(), value));
    }

    /** Adds corners to a path; less than three make no polygon. */
    private static final class Polygon {
        private final Path2D area;
        private final Path2D own = new Path2D.Double();
        private int corners;

        Polygon(Path2D area) {
            this.area = area;
        }

        void add(double x, double y) {
            if (corners == 0) {
                own.moveTo(x, y);
            } else {
                own.lineTo(x, y);
            }
            corners++;
        }

        void close() {
            if (corners > 2) {
                own.closePath();
                area.append(own, false);
            }
        }
    }

    /** The cells of a map at a corner of which there is no steady state, so that nothing is known between. */
    static final class MissingCells {
        private MissingCells() {}

        static boolean misses(OperatingMap map, int i, int j) {
            return !map.result(i, j).exists()
                    || !map.result(i + 1, j).exists()
                    || !map.result(i, j + 1).exists()
                    || !map.result(i + 1, j + 1).exists();
        }

        /** The cells in the plane. */
        static Shape in(OperatingMap map, Mapping mapping) {
            double[] across = MapField.positions(map.across());
            double[] up = MapField.positions(map.up());
            Path2D area = new Path2D.Double();
            for (int i = 0; i + 1 < across.length; i++) {
                for (int j = 0; j + 1 < up.length; j++) {
                    if (misses(map, i, j)) {
                        Rectangle2D cell = new Rectangle2D.Double(mapping.x(across[i]), mapping.y(up[j + 1]), 0, 0);
                        cell.add(mapping.x(across[i + 1]), mapping.y(up[j]));
                        area.append(cell, false);
                    }
                }
            }
            return area;
        }
    }
}
