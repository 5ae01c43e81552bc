package org.voltsecond.plot;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Stroke;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
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

    /** Writes the line above a panel from left to right: its title, then a sample of each line with its name. */
    static final class Heading {
        private static final int SAMPLE = 30;

        /** Between one name and the next sample. */
        static final int SPACE = 22;

        private final Graphics2D g;
        private final double right;
        private final double baseline;
        private double x;

        Heading(Graphics2D g, double left, double right, double baseline) {
            this.g = g;
            this.x = left;
            this.right = right;
            this.baseline = baseline;
        }

        /** What a name with its sample takes in full. */
        static double width(Graphics2D g, String name) {
            return SAMPLE + 7 + Text.width(g, Look.LABEL, name);
        }

        static double titleWidth(Graphics2D g, String text) {
            return Text.width(g, Look.HEADING, text);
        }

        void title(String text) {
            if (!text.isEmpty()) {
                String fitted = Text.fit(g, Look.HEADING, text, right - x);
                Text.draw(g, Look.HEADING, Look.INK, fitted, x, baseline);
                x += Text.width(g, Look.HEADING, fitted) + SPACE;
            }
        }

        /** Writes one name; it gets its share of the room that is left for it and those to come. */
        void entry(String name, Color color, Stroke stroke, int left) {
            g.setPaint(color);
            g.setStroke(stroke);
            g.draw(new Line2D.Double(x, baseline - 4.5, x + SAMPLE, baseline - 4.5));
            name(name, left);
        }

        /** Writes one name after a patch of its colour instead of a line. */
        void swatch(String name, Color color, int left) {
            g.setPaint(color);
            g.fill(new Rectangle2D.Double(x, baseline - 10, SAMPLE, 11));
            name(name, left);
        }

        /** Writes one name after a patch of a bar of its kind. */
        void kind(String name, int kind, int left) {
            Look.fillKind(g, new Rectangle2D.Double(x, baseline - 10, SAMPLE, 11), kind);
            name(name, left);
        }

        /** Writes one name after a dot. */
        void dot(String name, int left) {
            Look.dot(g, x + 0.5 * SAMPLE, baseline - 4.5);
            name(name, left);
        }

        /** Writes one name after a patch drawn as a band is. */
        void band(String name, Color color, int left) {
            g.setPaint(Look.veil(color, Trace.BAND_STRENGTH));
            Rectangle2D patch = new Rectangle2D.Double(x, baseline - 9.5, SAMPLE, 10);
            g.fill(patch);
            g.setPaint(color);
            g.setStroke(Trace.OUTLINE);
            g.draw(patch);
            name(name, left);
        }

        /** Writes one name after a hatched patch. */
        void hatch(String name, int left) {
            Rectangle2D patch = new Rectangle2D.Double(x, baseline - 10, SAMPLE, 11);
            g.setPaint(Look.MARK);
            g.setStroke(Look.HAIR);
            for (double at = x; at + 11 <= x + SAMPLE; at += 6) {
                g.draw(new Line2D.Double(at, patch.getMaxY(), at + 11, patch.getY()));
            }
            g.draw(patch);
            name(name, left);
        }

        private void name(String name, int left) {
            x += SAMPLE + 7;
            double room = right - x - (left - 1) * (double) (SAMPLE + 7 + SPACE);
            String fitted = Text.fit(g, Look.LABEL, name, Math.max(0, room / left));
            Text.draw(g, Look.LABEL, Look.INK, fitted, x, baseline);
            x += Text.width(g, Look.LABEL, fitted) + SPACE;
        }
    }
}
