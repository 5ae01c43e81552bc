package org.voltsecond.plot;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Stroke;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** Names with their samples above a panel, on as many lines as they take to be read in full. */
final class Legend {
    private static final int LINE = 18;

    private final Graphics2D g;
    private final double left;
    private final double right;
    private final List<List<Entry>> lines = new ArrayList<>();
    private double taken;

    private record Entry(double width, Consumer<Heading> writing) {}

    Legend(Graphics2D g, double left, double right) {
        this.g = g;
        this.left = left;
        this.right = right;
    }

    void title(String text) {
        add(Heading.titleWidth(g, text), heading -> heading.title(text));
    }

    void entry(String name, Color color, Stroke stroke) {
        add(Heading.width(g, name), heading -> heading.entry(name, color, stroke, 1));
    }

    void swatch(String name, Color color) {
        add(Heading.width(g, name), heading -> heading.swatch(name, color, 1));
    }

    void kind(String name, int kind) {
        add(Heading.width(g, name), heading -> heading.kind(name, kind, 1));
    }

    void dot(String name) {
        add(Heading.width(g, name), heading -> heading.dot(name, 1));
    }

    void hatch(String name) {
        add(Heading.width(g, name), heading -> heading.hatch(name, 1));
    }

    /** Only a name that is alone on its line can be too long for it. */
    private void add(double width, Consumer<Heading> writing) {
        if (lines.isEmpty() || taken + width > right - left) {
            lines.add(new ArrayList<>());
            taken = 0;
        }
        lines.get(lines.size() - 1).add(new Entry(width, writing));
        taken += width + Heading.SPACE;
    }

    /** The height that lines beyond the first take. */
    double more() {
        return LINE * (double) Math.max(0, lines.size() - 1);
    }

    /** Draws all lines, the last on a base line. */
    void draw(double baseline) {
        double y = baseline - more();
        for (List<Entry> line : lines) {
            Heading heading = new Heading(g, left, right, y);
            line.forEach(entry -> entry.writing().accept(heading));
            y += LINE;
        }
    }
}
