package org.voltsecond.plot.page;

import java.awt.geom.Line2D;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.ObjDoubleConsumer;
import org.voltsecond.plot.page.SchematicLayout.Terminal;
import org.voltsecond.plot.page.SchematicLayout.Wire;

/**
 * How much flows in each piece of the lines of a schematic. The pieces of a node form a tree, so that what flows in a piece is the sum
 * of what the terminals on one side of it feed in.
 */
final class WireCurrents {
    private record Point(String node, int x, int y) {}

    private record Piece(Point a, Point b) {}

    private final Map<Piece, Double> pieces = new LinkedHashMap<>();

    private WireCurrents() {}

    /**
     * Works out the currents.
     *
     * @param into what each terminal feeds into its node, A
     */
    static WireCurrents of(List<Wire> wires, Map<Terminal, Double> into) {
        WireCurrents found = new WireCurrents();
        Map<Point, Double> fed = new HashMap<>();
        into.forEach((terminal, current) ->
                fed.merge(new Point(terminal.node(), terminal.x(), terminal.y()), current, Double::sum));
        Map<Point, Set<Point>> neighbours = new LinkedHashMap<>();
        for (Wire wire : wires) {
            List<Point> cut = cut(wire, wires, fed.keySet());
            for (int k = 0; k + 1 < cut.size(); k++) {
                neighbours
                        .computeIfAbsent(cut.get(k), point -> new LinkedHashSet<>())
                        .add(cut.get(k + 1));
                neighbours
                        .computeIfAbsent(cut.get(k + 1), point -> new LinkedHashSet<>())
                        .add(cut.get(k));
            }
        }
        Set<Point> seen = new HashSet<>();
        for (Point point : neighbours.keySet()) {
            if (seen.add(point)) {
                found.gather(point, neighbours, fed, seen);
            }
        }
        return found;
    }

    /** The ends of its pieces: where other lines of its node end on it, and terminals lie. */
    private static List<Point> cut(Wire wire, List<Wire> wires, Set<Point> terminals) {
        Comparator<Point> along = Comparator.comparingInt(Point::x).thenComparingInt(Point::y);
        TreeSet<Point> points = new TreeSet<>(along);
        for (Wire other : wires) {
            if (other.node().equals(wire.node())) {
                add(points, wire, new Point(other.node(), other.x1(), other.y1()));
                add(points, wire, new Point(other.node(), other.x2(), other.y2()));
            }
        }
        terminals.stream().filter(at -> at.node().equals(wire.node())).forEach(at -> add(points, wire, at));
        return List.copyOf(points);
    }

    private static void add(Set<Point> points, Wire wire, Point at) {
        if (SchematicLayout.holds(wire, at.x(), at.y())) {
            points.add(at);
        }
    }

    /** What the terminals at a point and behind it feed in. */
    private double gather(Point point, Map<Point, Set<Point>> neighbours, Map<Point, Double> fed, Set<Point> seen) {
        double sum = fed.getOrDefault(point, 0.0);
        for (Point next : neighbours.getOrDefault(point, Set.of())) {
            if (seen.add(next)) {
                double behind = gather(next, neighbours, fed, seen);
                pieces.put(new Piece(next, point), behind);
                sum += behind;
            }
        }
        return sum;
    }

    void each(ObjDoubleConsumer<Line2D> what) {
        pieces.forEach((piece, current) ->
                what.accept(new Line2D.Double(piece.a.x, piece.a.y, piece.b.x, piece.b.y), current));
    }
}
