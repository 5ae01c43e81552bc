package org.voltsecond.plot;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.Shape;
import java.awt.Stroke;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Line2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;

/**
 * Fonts, colours and line styles of all pictures.
 *
 * <p>The colours of traces are those of Masataka Okabe and Kei Ito, Color Universal Design (CUD): how to make figures and
 * presentations that are friendly to colorblind people, 2002, revised 2008, without the yellow, which is too light for a line on white,
 * and in an order in which neighbours also differ in lightness or line style when printed in grey.
 */
final class Look {
    static final Color PAPER = Color.WHITE;
    static final Color INK = new Color(0x22, 0x22, 0x22);
    static final Color FAINT_INK = new Color(0x5c, 0x5c, 0x5c);
    static final Color GRID = new Color(0xd8, 0xd8, 0xd8);
    /** Where there is nothing to show. */
    static final Color MISSING = new Color(0xb8, 0xb8, 0xb8);

    static final Color MARK = new Color(0x44, 0x44, 0x44);

    static final Font TITLE = new Font(Font.SANS_SERIF, Font.BOLD, 18);
    static final Font SUBTITLE = new Font(Font.SANS_SERIF, Font.PLAIN, 13);
    static final Font HEADING = new Font(Font.SANS_SERIF, Font.BOLD, 13);
    static final Font LABEL = new Font(Font.SANS_SERIF, Font.PLAIN, 13);
    static final Font SMALL = new Font(Font.SANS_SERIF, Font.PLAIN, 12);

    static final Stroke HAIR = new BasicStroke(1f);

    private static final Color[] TRACES = {
        new Color(0x00, 0x72, 0xb2), // blue
        new Color(0xd5, 0x5e, 0x00), // vermillion
        new Color(0x00, 0x9e, 0x73), // bluish green
        new Color(0xcc, 0x79, 0xa7), // reddish purple
        new Color(0x00, 0x00, 0x00), // black
        new Color(0xe6, 0x9f, 0x00), // orange
        new Color(0x56, 0xb4, 0xe9), // sky blue
    };

    private static final float[][] DASHES = {{}, {9, 4}, {2.5f, 3}, {12, 3, 2.5f, 3}, {5, 2}};

    private static final Stroke HATCHING = new BasicStroke(1.2f);
    private static final double HATCH_STEP = 7;
    private static final double AREA_STRENGTH = 0.22;
    private static final double HATCH_STRENGTH = 0.55;

    private Look() {}

    static void prepare(Graphics2D graphics) {
        graphics.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        graphics.setRenderingHint(RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        graphics.setRenderingHint(RenderingHints.KEY_RENDERING, RenderingHints.VALUE_RENDER_QUALITY);
        graphics.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
        graphics.setRenderingHint(RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
    }

    static Color trace(int index) {
        return TRACES[index % TRACES.length];
    }

    /** The line style of the n-th trace of one panel, so that traces differ without their colour. */
    static Stroke line(int position) {
        float[] dash = DASHES[position % DASHES.length];
        return dash.length == 0
                ? new BasicStroke(1.7f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND)
                : new BasicStroke(1.9f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10f, dash, 0f);
    }

    /** Fills a bar of the n-th of several kinds: a colour, and lines of paper across it that tell it without the colour. */
    static void fillKind(Graphics2D g, Rectangle2D bar, int kind) {
        g.setPaint(trace(kind));
        g.fill(bar);
        if (kind > 0) {
            hatch(g, bar, PAPER, kind);
        }
    }

    /** Fills an area as a veil with lines across it, which tell one kind from another without the colour. */
    static void fillArea(Graphics2D g, Shape area, Color color, int kind) {
        g.setPaint(veil(color, AREA_STRENGTH));
        g.fill(area);
        hatch(g, area, veil(color, HATCH_STRENGTH), kind + 1);
    }

    private static void hatch(Graphics2D g, Shape area, Color color, int kind) {
        Shape clip = g.getClip();
        g.clip(area);
        g.setPaint(color);
        g.setStroke(HATCHING);
        Rectangle2D bar = area.getBounds2D();
        double size = bar.getWidth() + bar.getHeight();
        Path2D lines = new Path2D.Double();
        for (double at = -size; at < size; at += HATCH_STEP) {
            double x = bar.getX() + at;
            double y = bar.getY() + HATCH_STEP / 2 + at;
            Line2D line = switch ((kind - 1) % 4) {
                case 0 -> new Line2D.Double(x, bar.getMaxY(), x + bar.getHeight(), bar.getY());
                case 1 -> new Line2D.Double(x, bar.getY(), x + bar.getHeight(), bar.getMaxY());
                case 2 -> new Line2D.Double(x, bar.getY(), x, bar.getMaxY());
                default -> new Line2D.Double(bar.getX(), y, bar.getMaxX(), y);
            };
            // one beside the area is not seen: its stroke is half as wide as they are apart, at most
            if (line.getX2() > bar.getX() - HATCH_STEP
                    && line.getX1() < bar.getMaxX() + HATCH_STEP
                    && line.getY1() > bar.getY() - HATCH_STEP
                    && line.getY1() < bar.getMaxY() + HATCH_STEP) {
                lines.append(line, false);
            }
        }
        g.draw(lines);
        g.setClip(clip);
    }

    /** One place among others, seen on any ground. */
    static void dot(Graphics2D g, double x, double y) {
        g.setPaint(PAPER);
        g.fill(new Ellipse2D.Double(x - 7, y - 7, 14, 14));
        g.setPaint(INK);
        g.fill(new Ellipse2D.Double(x - 5, y - 5, 10, 10));
    }

    static Stroke dashed() {
        return new BasicStroke(1.2f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_MITER, 10f, new float[] {6, 4}, 0f);
    }

    /** The colour as a veil through which the grid stays visible. */
    static Color veil(Color color, double strength) {
        return new Color(color.getRed(), color.getGreen(), color.getBlue(), (int) Math.round(255 * strength));
    }
}
