package org.voltsecond.plot;

import java.awt.geom.Rectangle2D;

/**
 * From time and value to the plane.
 *
 * @param area where the panel is drawn
 * @param from time at its left border, s
 * @param to time at its right border, s
 * @param low value at its bottom
 * @param high value at its top
 */
record Mapping(Rectangle2D area, double from, double to, double low, double high) {
    double x(double time) {
        return area.getX() + (time - from) / (to - from) * area.getWidth();
    }

    double y(double value) {
        return area.getMaxY() - (value - low) / (high - low) * area.getHeight();
    }
}
