package org.voltsecond.plot;

import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.awt.geom.Rectangle2D;

/** Draws the marked levels of a panel. */
final class Limits {
    private static final double LINE_HEIGHT = 16;

    private Limits() {}

    static void draw(Graphics2D g, Panel panel, Mapping map) {
        Rectangle2D area = map.area();
        for (Limit limit : panel.limits()) {
            double y = map.y(limit.value());
            g.setPaint(Look.MARK);
            g.setStroke(Look.dashed());
            g.draw(new Line2D.Double(area.getX(), y, area.getMaxX(), y));
            double x = area.getMaxX() - Text.width(g, Look.SMALL, limit.label()) - 8;
            boolean room = y - area.getY() > LINE_HEIGHT + 4;
            Text.patched(g, Look.SMALL, Look.MARK, limit.label(), x, room ? y - 6 : y + LINE_HEIGHT);
        }
    }
}
