package org.voltsecond.study;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.voltsecond.study.MapLine.Spot;

/**
 * Lines between the nodes of a grid that are below a level and those that are not, by marching squares: a line passes each
 * cell from one edge whose ends differ to another. Where on an edge it passes is for the caller to say. A cell with a
 * corner that is not a number is left out.
 */
final class MarchingSquares {
    private final double[][] values;
    private final double level;
    private final Map<Edge, List<Edge>> neighbours = new LinkedHashMap<>();

    /** An edge from node (i, j) to node (i + 1, j) or, if upright, (i, j + 1). */
    record Edge(int i, int j, boolean upright) {
        int endI() {
            return upright ? i : i + 1;
        }

        int endJ() {
            return upright ? j + 1 : j;
        }
    }

    /** Lays out the lines. The first index of the values goes across, the second up. */
    MarchingSquares(double[][] values, double level) {
        this.values = values;
        this.level = level;
        for (int j = 0; j + 1 < values[0].length; j++) {
            for (int i = 0; i + 1 < values.length; i++) {
                addCell(i, j);
            }
        }
    }

    /** The edges that lines pass, in a fixed order. */
    List<Edge> edges() {
        return List.copyOf(neighbours.keySet());
    }

    private void addCell(int i, int j) {
        double sum = values[i][j] + values[i + 1][j] + values[i][j + 1] + values[i + 1][j + 1];
        if (Double.isNaN(sum)) {
            return;
        }
        Edge[] around = {
            new Edge(i, j, false), new Edge(i + 1, j, true), new Edge(i, j + 1, false), new Edge(i, j, true)
        };
        List<Edge> passed = new ArrayList<>();
        for (Edge edge : around) {
            if (isAbove(edge.i(), edge.j()) != isAbove(edge.endI(), edge.endJ())) {
                passed.add(edge);
            }
        }
        if (passed.size() == 2) {
            join(passed.get(0), passed.get(1));
        } else if (passed.size() == 4) {
            // a saddle: its middle belongs together with the corners on its side of the level
            boolean lowerLeftIsCutOff = isAbove(i, j) != (sum / 4 >= level);
            join(around[0], around[lowerLeftIsCutOff ? 3 : 1]);
            join(around[2], around[lowerLeftIsCutOff ? 1 : 3]);
        }
    }

    private boolean isAbove(int i, int j) {
        return values[i][j] >= level;
    }

    private void join(Edge a, Edge b) {
        neighbours.computeIfAbsent(a, edge -> new ArrayList<>()).add(b);
        neighbours.computeIfAbsent(b, edge -> new ArrayList<>()).add(a);
    }

    /** Strings the spots on the edges together; a line ends where an edge has none. */
    List<MapLine> lines(Function<Edge, @Nullable Spot> onEdge) {
        Map<Edge, Spot> spots = new LinkedHashMap<>();
        for (Edge edge : edges()) {
            Spot spot = onEdge.apply(edge);
            if (spot != null) {
                spots.put(edge, spot);
            }
        }
        List<MapLine> lines = new ArrayList<>();
        Set<Edge> left = new LinkedHashSet<>(spots.keySet());
        while (!left.isEmpty()) {
            List<Edge> chain = chain(left.iterator().next(), left);
            List<Spot> corners = new ArrayList<>();
            chain.forEach(edge -> corners.add(spots.get(edge)));
            if (chain.size() > 2
                    && neighbours
                            .getOrDefault(chain.get(chain.size() - 1), List.of())
                            .contains(chain.get(0))) {
                corners.add(corners.get(0));
            }
            if (corners.size() > 1) {
                lines.add(new MapLine(corners));
            }
        }
        return List.copyOf(lines);
    }

    /** The edges of a whole line, found from one of them in both directions and taken from those left. */
    private List<Edge> chain(Edge start, Set<Edge> left) {
        Deque<Edge> chain = new ArrayDeque<>(List.of(start));
        left.remove(start);
        for (Edge next = next(start, left); next != null; next = next(next, left)) {
            chain.addLast(next);
        }
        for (Edge next = next(start, left); next != null; next = next(next, left)) {
            chain.addFirst(next);
        }
        return List.copyOf(chain);
    }

    private @Nullable Edge next(Edge from, Set<Edge> left) {
        for (Edge candidate : neighbours.getOrDefault(from, List.of())) {
            if (left.remove(candidate)) {
                return candidate;
            }
        }
        return null;
    }
}
