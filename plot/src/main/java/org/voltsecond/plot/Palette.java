package org.voltsecond.plot;

import java.awt.Color;
import java.util.List;

/**
 * Colours that readers with any common form of colour blindness can tell apart.
 *
 * <p>Source: M. Okabe and K. Ito, "Color Universal Design: how to make figures and presentations that are friendly to
 * colorblind people", 2002 (revised 2008), set of eight colours, RGB values as printed there. Yellow is left out, since
 * a thin yellow line is lost on white paper, and black is kept for axes and text.
 */
public final class Palette {

    /** For axes, frames and text. */
    public static final Color INK = new Color(0, 0, 0);

    private static final List<Color> TRACES = List.of(
            new Color(0, 114, 178), // blue
            new Color(213, 94, 0), // vermilion
            new Color(0, 158, 115), // bluish green
            new Color(204, 121, 167), // reddish purple
            new Color(230, 159, 0), // orange
            new Color(86, 180, 233)); // sky blue

    private Palette() {}

    /**
     * Colour of one trace; the series starts again when it is used up.
     *
     * @param index number of the trace, from 0
     * @return its colour
     */
    public static Color trace(int index) {
        return TRACES.get(Math.floorMod(index, TRACES.size()));
    }
}
