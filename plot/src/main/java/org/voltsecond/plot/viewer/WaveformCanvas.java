package org.voltsecond.plot.viewer;

import java.awt.Color;
import java.awt.Dimension;
import java.awt.Font;
import java.awt.Graphics;
import java.awt.Graphics2D;
import java.awt.geom.AffineTransform;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import javax.swing.JComponent;
import org.jspecify.annotations.Nullable;
import org.voltsecond.plot.PanelArea;

/**
 * Draws the traces, and the cursors over them. The traces are drawn anew, from the exact waveforms, whenever the view or
 * the size changes; a moving cursor only needs the image that is kept.
 */
final class WaveformCanvas extends JComponent {
    private static final long serialVersionUID = 1L;
    private static final int PANEL_HEIGHT = 150;
    private static final int AROUND = 130;
    private static final Color VEIL = new Color(255, 255, 255, 150);

    private final transient ViewModel model;
    private final transient Overlay overlay;
    private transient @Nullable Drawn drawn;
    private transient @Nullable Rectangle2D selection;

    private boolean dimmed;

    /** What was drawn, for what, and where. */
    private record Drawn(
            ViewerContent content,
            View view,
            Set<Traced> hidden,
            AffineTransform scale,
            BufferedImage image,
            List<PanelArea> areas) {}

    WaveformCanvas(ViewModel model) {
        this.model = model;
        this.overlay = new Overlay(model);
        setOpaque(true);
        setFocusable(true);
        setPreferredSize(new Dimension(
                1100, AROUND + PANEL_HEIGHT * model.content().panels().size()));
        setMinimumSize(new Dimension(300, 200));
        model.onChange(this::repaint);
    }

    @Override
    protected void paintComponent(Graphics graphics) {
        Graphics2D g = (Graphics2D) graphics.create();
        try {
            AffineTransform scale = AffineTransform.getScaleInstance(
                    g.getTransform().getScaleX(), g.getTransform().getScaleY());
            if (!model.showsAnything()) {
                drawNothing(g);
                return;
            }
            Drawn current = upToDate(scale);
            g.drawImage(current.image, 0, 0, getWidth(), getHeight(), null);
            overlay.draw(g, current.areas, selection);
            if (dimmed) {
                g.setColor(VEIL);
                g.fillRect(0, 0, getWidth(), getHeight());
            }
        } finally {
            g.dispose();
        }
    }

    private void drawNothing(Graphics2D g) {
        drawn = null;
        g.setColor(Color.WHITE);
        g.fillRect(0, 0, getWidth(), getHeight());
        g.setColor(Color.DARK_GRAY);
        g.setFont(new Font(Font.SANS_SERIF, Font.PLAIN, 14));
        g.drawString("No trace is on: tick one in the table below, or press its number.", 30, 60);
    }

    private Drawn upToDate(AffineTransform scale) {
        Drawn known = drawn;
        int width = (int) Math.ceil(getWidth() * scale.getScaleX());
        int height = (int) Math.ceil(getHeight() * scale.getScaleY());
        if (known != null
                && known.content.equals(model.content())
                && known.view.equals(model.view())
                && known.hidden.equals(model.hidden())
                && known.scale.equals(scale)
                && known.image.getWidth() == width
                && known.image.getHeight() == height) {
            return known;
        }
        BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
        Graphics2D g = image.createGraphics();
        try {
            g.transform(scale);
            List<PanelArea> areas = model.picture().drawInto(g, getWidth(), getHeight());
            drawn = new Drawn(model.content(), model.view(), model.hidden(), scale, image, areas);
            return drawn;
        } finally {
            g.dispose();
        }
    }

    /** Where the panels were last drawn; empty before. */
    List<PanelArea> areas() {
        Drawn known = drawn;
        return known == null ? List.of() : known.areas;
    }

    /** The panel at a place, or the nearest if the place is beside them. */
    Optional<PanelArea> panelAt(double y) {
        return areas().stream().reduce((one, other) -> distance(one, y) <= distance(other, y) ? one : other);
    }

    private static double distance(PanelArea area, double y) {
        return Math.max(0, Math.max(area.top() - y, y - area.top() - area.height()));
    }

    void setSelection(@Nullable Rectangle2D newSelection) {
        selection = newSelection;
        repaint();
    }

    /** Shows that the picture is of an earlier setting. */
    void setDimmed(boolean now) {
        if (now != dimmed) {
            dimmed = now;
            repaint();
        }
    }

    boolean isDimmed() {
        return dimmed;
    }
}
