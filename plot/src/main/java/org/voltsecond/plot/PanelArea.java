package org.voltsecond.plot;

import org.voltsecond.plot.Axes.Mapping;

/**
 * Where a panel has been drawn, so that one can draw over it and tell what the pointer is at. Immutable.
 *
 * <pre>{@code
 * BufferedImage image = new BufferedImage(800, 600, BufferedImage.TYPE_INT_RGB);
 * List<PanelArea> areas = Pictures.stack()
 *         .panel(start.of(rail.outputVoltage()))
 *         .window(0, milli(2))
 *         .drawInto(image.createGraphics(), 800, 600);
 * double middle = areas.get(0).x(milli(1)); // pixels from the left
 * }</pre>
 *
 * @param panel which panel, counted from 0 in the order in which they were added
 * @param left left border, in the units of the drawing
 * @param top upper border
 * @param width width
 * @param height height
 * @param from time at the left border, s
 * @param to time at the right border, s
 * @param low value at the lower border, in the unit of the panel
 * @param high value at the upper border, in the unit of the panel
 */
public record PanelArea(
        int panel,
        double left,
        double top,
        double width,
        double height,
        double from,
        double to,
        double low,
        double high) {
    static PanelArea of(int panel, Mapping map) {
        return new PanelArea(
                panel,
                map.area().getX(),
                map.area().getY(),
                map.area().getWidth(),
                map.area().getHeight(),
                map.from(),
                map.to(),
                map.low(),
                map.high());
    }

    /**
     * Returns where a time lies.
     *
     * @param time the time, s
     * @return distance from the left border of the drawing; outside the panel for a time that it does not show
     */
    public double x(double time) {
        return left + (time - from) / (to - from) * width;
    }

    /**
     * Returns the time at a place.
     *
     * @param x distance from the left border of the drawing
     * @return the time, s
     */
    public double time(double x) {
        return from + (x - left) / width * (to - from);
    }

    /**
     * Returns where a value lies.
     *
     * @param value the value, in the unit of the panel
     * @return distance from the upper border of the drawing
     */
    public double y(double value) {
        return top + height - (value - low) / (high - low) * height;
    }

    /**
     * Returns the value at a place.
     *
     * @param y distance from the upper border of the drawing
     * @return the value, in the unit of the panel
     */
    public double value(double y) {
        return low + (top + height - y) / height * (high - low);
    }

    /**
     * Tells whether a place is within the panel.
     *
     * @param x distance from the left border of the drawing
     * @param y distance from the upper border of the drawing
     * @return whether it is, borders included
     */
    public boolean contains(double x, double y) {
        return x >= left && x <= left + width && y >= top && y <= top + height;
    }
}
