package org.voltsecond.plot;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.Stroke;

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

    static Stroke dashed() {
        return new BasicStroke(1.2f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_MITER, 10f, new float[] {6, 4}, 0f);
    }

    /** The colour as a veil through which the grid stays visible. */
    static Color veil(Color color, double strength) {
        return new Color(color.getRed(), color.getGreen(), color.getBlue(), (int) Math.round(255 * strength));
    }
}
