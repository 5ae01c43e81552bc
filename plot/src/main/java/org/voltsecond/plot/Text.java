package org.voltsecond.plot;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.AffineTransform;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;

/** Draws and measures single lines of text. */
final class Text {
    private static final String ELLIPSIS = "\u2026";

    private Text() {}

    static double width(Graphics2D g, Font font, String text) {
        return g.getFontMetrics(font).stringWidth(text);
    }

    /** The text, shortened if it is too wide. */
    static String fit(Graphics2D g, Font font, String text, double width) {
        if (width(g, font, text) <= width) {
            return text;
        }
        int length = text.length();
        while (length > 0 && width(g, font, text.substring(0, length) + ELLIPSIS) > width) {
            length--;
        }
        return text.substring(0, length).stripTrailing() + ELLIPSIS;
    }

    /** The text in lines of at most a width; a word that is wider stands alone. */
    static List<String> wrap(Graphics2D g, Font font, String text, double width) {
        List<String> lines = new ArrayList<>();
        StringBuilder line = new StringBuilder();
        for (String word : text.split(" ", -1)) {
            if (line.length() > 0 && width(g, font, line + " " + word) > width) {
                lines.add(line.toString());
                line.setLength(0);
            }
            line.append(line.length() == 0 ? "" : " ").append(word);
        }
        lines.add(line.toString());
        return lines;
    }

    static void draw(Graphics2D g, Font font, Color color, String text, double x, double baseline) {
        g.setFont(font);
        g.setPaint(color);
        g.drawString(text, (float) x, (float) baseline);
    }

    static void centred(Graphics2D g, Font font, Color color, String text, double centre, double baseline) {
        draw(g, font, color, text, centre - 0.5 * width(g, font, text), baseline);
    }

    /** Text that reads upwards, its middle at a point on the base line. The chart library would turn it into outlines, which nobody can search or select. */
    static void upright(Graphics2D g, Font font, Color color, String text, double x, double y) {
        AffineTransform before = g.getTransform();
        g.rotate(-0.5 * Math.PI, x, y);
        centred(g, font, color, text, x, y);
        g.setTransform(before);
    }

    /** Text on a patch of paper, so that what lies below does not cross it. */
    static void patched(Graphics2D g, Font font, Color color, String text, double x, double baseline) {
        g.setPaint(new Color(255, 255, 255, 215));
        g.fill(new Rectangle2D.Double(x - 3, baseline - 12, width(g, font, text) + 6, 16));
        draw(g, font, color, text, x, baseline);
    }
}
