package org.voltsecond.plot;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.util.List;

/**
 * What every picture has around its panels: paper, title, subtitle, and the caution below.
 *
 * @param title in bold at the top; empty for none
 * @param subtitle below the title; empty for none
 * @param caution in small print at the bottom
 */
record Sheet(String title, String subtitle, String caution) {
    static final String CAUTION =
            "Result of a simulation, not a safety approval. Converters store energy and can carry "
                    + "dangerous voltages; local codes and licensed practice prevail.";

    static final int MARGIN = 14;
    private static final int TITLE_HEIGHT = 26;
    private static final int SUBTITLE_HEIGHT = 20;
    private static final int CAUTION_HEIGHT = 16;

    /** The height that it takes in a picture of usual width. */
    int height() {
        return 2 * MARGIN + headerHeight() + CAUTION_HEIGHT + 8;
    }

    /** The width that it leaves for the panels. */
    static double innerWidth(int width) {
        return width - 2.0 * MARGIN;
    }

    private int headerHeight() {
        return (title.isEmpty() ? 0 : TITLE_HEIGHT) + (subtitle.isEmpty() ? 0 : SUBTITLE_HEIGHT);
    }

    /** Draws itself and returns the rectangle that is left for the panels. */
    Rectangle2D draw(Graphics2D g, int width, int height) {
        g.setPaint(Look.PAPER);
        g.fill(new Rectangle2D.Double(0, 0, width, height));
        double textWidth = width - 2.0 * MARGIN;
        double y = MARGIN;
        for (String line : atMostTwo(g, Look.TITLE, title, textWidth)) {
            text(g, line, Look.TITLE, Look.INK, y + 18);
            y += TITLE_HEIGHT;
        }
        for (String line : atMostTwo(g, Look.SUBTITLE, subtitle, textWidth)) {
            text(g, line, Look.SUBTITLE, Look.FAINT_INK, y + 13);
            y += SUBTITLE_HEIGHT;
        }
        List<String> lines = Text.wrap(g, Look.SMALL, caution, textWidth);
        double bottom = height - MARGIN - lines.size() * (double) CAUTION_HEIGHT;
        for (int i = 0; i < lines.size(); i++) {
            text(g, lines.get(i), Look.SMALL, Look.FAINT_INK, bottom + 13 + i * CAUTION_HEIGHT);
        }
        return new Rectangle2D.Double(MARGIN, y, textWidth, bottom - 8 - y);
    }

    /** The lines of a text; what does not fit on two is cut, since any text may be given. */
    private static List<String> atMostTwo(Graphics2D g, Font font, String text, double width) {
        if (text.isEmpty()) {
            return List.of();
        }
        String first = Text.wrap(g, font, text, width).get(0);
        if (first.length() == text.length() || Text.width(g, font, first) > width) {
            return List.of(Text.fit(g, font, text, width));
        }
        return List.of(first, Text.fit(g, font, text.substring(first.length()).strip(), width));
    }

    private static void text(Graphics2D g, String text, Font font, Color color, double baseline) {
        g.setFont(font);
        g.setPaint(color);
        g.drawString(text, MARGIN, (float) baseline);
    }
}
