package org.voltsecond.plot;

import java.awt.Graphics2D;

/** Draws a picture of any size. Immutable: what it needs for drawing it makes anew each time. */
@FunctionalInterface
interface Drawing {
    /** Draws into the rectangle from (0, 0) to the given width and height. */
    void draw(Graphics2D graphics, int width, int height);
}
