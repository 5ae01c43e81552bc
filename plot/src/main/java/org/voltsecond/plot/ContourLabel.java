package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/** Writes the value of a contour on it, where it covers no other. */
final class ContourLabel {
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
