package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.voltsecond.plot.StackDrawing.Stack;

/** The rows between the first heading and the first panel that name marked instants and shaded stretches of time. */
final class TimeLegend {
    private static final int ROW = 18;
    private static final double NARROWEST = 3;
    private static final int GAP = 5;

    private final Stack stack;
    private final double left;
    private final double right;
    private final List<Placed> placed = new ArrayList<>();
    private int markRows;
    private boolean strip;

    /** A wider label is written on several lines. */
    private static final double WIDEST = 0.6;

    /** A label with its place and that of its line. */
    private record Placed(List<String> text, double line, double x, double width, int row) {}

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
        List<TimeMark> marks = new ArrayList<>(stack.marks());
        marks.removeIf(mark -> !(mark.time() >= stack.from() && mark.time() <= stack.to()));
        marks.sort(Comparator.comparing((TimeMark mark) -> !flips(g, mark)).thenComparingDouble(TimeMark::time));
        for (TimeMark mark : marks) {
            place(g, mark);
        }
        strip = !visible(stack, right - left).isEmpty();
        return height();
    }

    /** A label stands right of its line like a flag; left of it only where the picture ends. */
    private boolean flips(Graphics2D g, TimeMark mark) {
        return x(mark.time()) + GAP + width(g, lines(g, mark)) > right + Axes.RIGHT;
    }

    private List<String> lines(Graphics2D g, TimeMark mark) {
        return Text.wrap(g, Look.SMALL, mark.label(), WIDEST * (right - left));
    }

    private static double width(Graphics2D g, List<String> lines) {
        return lines.stream()
                .mapToDouble(line -> Text.width(g, Look.SMALL, line))
                .max()
                .orElse(0);
    }

    /** Below every label that it would meet, so that no line crosses a label of an earlier instant. */
    private void place(Graphics2D g, TimeMark mark) {
        List<String> text = lines(g, mark);
        double width = width(g, text);
        double line = x(mark.time());
        double x = flips(g, mark) ? Math.max(0, line - GAP - width) : line + GAP;
        int row = placed.stream()
                .filter(other -> x < other.x + other.width + 10 && other.x < x + width + 10)
                .mapToInt(other -> other.row + other.text.size())
                .max()
                .orElse(0);
        placed.add(new Placed(text, line, x, width, row));
        markRows = Math.max(markRows, row + text.size());
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
            g.setPaint(Look.MARK);
            g.setStroke(Look.HAIR);
            g.draw(new Line2D.Double(label.line, baseline - 10, label.line, bottom));
            for (int k = 0; k < label.text.size(); k++) {
                Text.draw(g, Look.SMALL, Look.MARK, label.text.get(k), label.x, baseline + k * (double) ROW);
            }
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
