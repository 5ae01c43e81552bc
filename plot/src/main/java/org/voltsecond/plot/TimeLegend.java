package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;

/** The rows between the first heading and the first panel that name marked instants and shaded stretches of time. */
final class TimeLegend {
    private static final int ROW = 18;
    private static final double NARROWEST = 3;

    private final Stack stack;
    private final double left;
    private final double right;
    private final List<Placed> placed = new ArrayList<>();
    private int markRows;
    private boolean strip;

    /** A label with its place. */
    private record Placed(String text, double x, double width, int row) {}

    TimeLegend(Stack stack, Rectangle2D inner) {
        this.stack = stack;
        this.left = inner.getX() + Axes.LEFT;
        this.right = inner.getMaxX() - Axes.RIGHT;
    }

    /** The bands to be drawn: none if they are too many to be told apart. */
    static List<TimeBand> visible(Stack stack, double width) {
        List<TimeBand> inside = stack.bands().stream()
                .filter(band -> band.end() > stack.from() && band.start() < stack.to())
                .toList();
        return inside.size() * NARROWEST > width ? List.of() : inside;
    }

    /** Finds a row for each label and returns the height of all rows. */
    double layOut(Graphics2D g) {
        for (TimeMark mark : stack.marks()) {
            double width = Text.width(g, Look.SMALL, mark.label());
            double x = Math.max(left, Math.min(right - width, x(mark.time()) - 0.5 * width));
            int row = 0;
            while (taken(row, x, width)) {
                row++;
            }
            placed.add(new Placed(mark.label(), x, width, row));
            markRows = Math.max(markRows, row + 1);
        }
        strip = !visible(stack, right - left).isEmpty();
        return height();
    }

    private boolean taken(int row, double x, double width) {
        return placed.stream()
                .anyMatch(other -> other.row == row && x < other.x + other.width + 10 && other.x < x + width + 10);
    }

    double height() {
        return (markRows + (strip ? 1 : 0)) * (double) ROW;
    }

    void draw(Graphics2D g, double bottom) {
        double stripTop = strip ? bottom - ROW : bottom;
        if (strip) {
            for (TimeBand band : visible(stack, right - left)) {
                drawBand(g, band, stripTop);
            }
        }
        for (Placed label : placed) {
            double baseline = stripTop - 5 - (markRows - 1 - label.row) * (double) ROW;
            Text.draw(g, Look.SMALL, Look.MARK, label.text, label.x, baseline);
        }
    }

    private void drawBand(Graphics2D g, TimeBand band, double top) {
        double from = Math.max(left, x(band.start()));
        double to = Math.min(right, x(band.end()));
        g.setPaint(band.kind().color());
        g.fill(new Rectangle2D.Double(from, top, to - from, ROW));
        String word = band.kind().word();
        if (Text.width(g, Look.SMALL, word) + 4 <= to - from) {
            Text.centred(g, Look.SMALL, Look.INK, word, 0.5 * (from + to), top + 13);
        }
    }

    private double x(double time) {
        return left + (time - stack.from()) / (stack.to() - stack.from()) * (right - left);
    }
}
