package org.voltsecond.plot.viewer;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.plot.PanelArea;

/** Draws what lies over the traces: where periods begin, the two cursors, and the stretch that is being selected. */
final class Overlay {
    /** Marks of periods closer than this cannot be told apart, in pixels. */
    static final int CLOSEST_PERIODS = 7;

    private static final Color PERIOD = new Color(0x20, 0x20, 0x20, 0xb0);
    private static final Color INK = new Color(0x22, 0x22, 0x22);
    private static final Color SELECTION = new Color(0x00, 0x72, 0xb2, 0x38);
    private static final Color SELECTION_BORDER = new Color(0x00, 0x50, 0x80);
    private static final Font FLAG = new Font(Font.SANS_SERIF, Font.BOLD, 12);
    private static final int FLAG_WIDTH = 16;
    private static final int FLAG_HEIGHT = 16;
    private static final float[] DOTS = {1.5f, 3f};
    private static final float[] DASHES = {7f, 4f};

    private final ViewModel model;

    Overlay(ViewModel model) {
        this.model = model;
    }

    /** How many periods can be told apart. */
    static int mostPeriods(double width) {
        return (int) (width / CLOSEST_PERIODS);
    }

    void draw(Graphics2D g, List<PanelArea> areas, @Nullable Rectangle2D selection) {
        g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        g.setRenderingHint(RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        drawPeriods(g, areas);
        drawCursor(g, areas, model.active().other());
        drawCursor(g, areas, model.active());
        if (selection != null) {
            g.setColor(SELECTION);
            g.fill(selection);
            g.setColor(SELECTION_BORDER);
            g.draw(selection);
        }
    }

    private void drawPeriods(Graphics2D g, List<PanelArea> areas) {
        g.setColor(PERIOD);
        g.setStroke(new BasicStroke(1f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_MITER, 10f, DOTS, 0f));
        double[] times = model.marksFor(mostPeriods(areas.get(0).width()));
        for (PanelArea area : areas) {
            for (double time : times) {
                double x = area.x(time);
                g.draw(new Line2D.Double(x, area.top(), x, area.top() + area.height()));
            }
        }
    }

    private void drawCursor(Graphics2D g, List<PanelArea> areas, Which which) {
        PanelArea first = areas.get(0);
        double time = model.cursor(which);
        if (!model.time().contains(time)) {
            boolean left = time < model.time().from();
            double x = left ? first.left() + 0.5 * FLAG_WIDTH : first.left() + first.width() - 0.5 * FLAG_WIDTH;
            drawFlag(g, which, x, first.top(), left ? "\u2039" + which : which + "\u203a");
            return;
        }
        g.setColor(INK);
        g.setStroke(
                which == Which.A
                        ? new BasicStroke(1.3f)
                        : new BasicStroke(1.3f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_MITER, 10f, DASHES, 0f));
        for (PanelArea area : areas) {
            double x = area.x(time);
            g.draw(new Line2D.Double(x, area.top(), x, area.top() + area.height()));
        }
        drawFlag(g, which, first.x(time), first.top(), which.name());
    }

    /** The flag of the cursor that the keys move is filled. */
    private void drawFlag(Graphics2D g, Which which, double x, double above, String text) {
        boolean filled = which == model.active();
        // one below the other, so that both are seen where the cursors meet
        double top = which == Which.A ? above : above + FLAG_HEIGHT + 2;
        Rectangle2D flag = new Rectangle2D.Double(x - 0.5 * FLAG_WIDTH, top, FLAG_WIDTH, FLAG_HEIGHT);
        g.setColor(filled ? INK : Color.WHITE);
        g.fill(flag);
        g.setColor(INK);
        g.setStroke(new BasicStroke(1.3f));
        g.draw(flag);
        g.setColor(filled ? Color.WHITE : INK);
        g.setFont(FLAG);
        double width = g.getFontMetrics().stringWidth(text);
        g.drawString(text, (float) (x - 0.5 * width), (float) (top + FLAG_HEIGHT - 4));
    }
}
