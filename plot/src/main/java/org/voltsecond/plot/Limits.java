package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.waveform.Waveform;

/** Draws the marked levels of a panel. */
final class Limits {
    private static final double LINE_HEIGHT = 16;

    private Limits() {}

    /** The label goes to the side where the waveform is not, if there is room. */
    private static boolean above(Panel panel, Limit limit, double y, Rectangle2D area) {
        boolean roomAbove = y - area.getY() > LINE_HEIGHT + 4;
        boolean roomBelow = area.getMaxY() - y > LINE_HEIGHT + 4;
        Waveform waveform = panel.waveforms().get(0);
        boolean wanted = limit.value() >= waveform.at(waveform.endTime());
        return wanted ? roomAbove || !roomBelow : !roomBelow;
    }

    static void draw(Graphics2D g, Panel panel, Mapping map) {
        Rectangle2D area = map.area();
        for (Limit limit : panel.limits()) {
            double y = map.y(limit.value());
            g.setPaint(Look.MARK);
            g.setStroke(Look.dashed());
            g.draw(new Line2D.Double(area.getX(), y, area.getMaxX(), y));
            if (limit.label().isBlank()) {
                continue;
            }
            double x = area.getMaxX() - Text.width(g, Look.SMALL, limit.label()) - 8;
            Text.patched(
                    g, Look.SMALL, Look.MARK, limit.label(), x, above(panel, limit, y, area) ? y - 6 : y + LINE_HEIGHT);
        }
    }

    /**
     * A level to be marked in one panel, for example the highest permitted voltage.
     *
     * @param value the level, in the unit of the panel
     * @param label what it means; short; blank where the heading of the panel says it
     */
    record Limit(double value, String label) {}
}
