package org.voltsecond.plot;

import java.awt.Color;
import java.awt.Stroke;

/**
 * How a trace of a stacked picture is drawn; colours and strokes tell the traces of one panel apart in print as well.
 *
 * <pre>{@code
 * Panel panel = Panel.of(steady.of(rail.transistorCurrent()), steady.of(rail.rectifierCurrent()));
 * TraceStyle second = TraceStyle.of(panel, 0, 1); // the rectifier current in the first panel
 * String legend = "color: #" + Integer.toHexString(second.color().getRGB()).substring(2);
 * }</pre>
 *
 * @param color its colour
 * @param stroke its line
 */
public record TraceStyle(Color color, Stroke stroke) {
    /**
     * Returns how a trace is drawn: one colour after the other in a panel of several traces, a colour for each panel of one.
     *
     * @param panel the panel
     * @param index place of the panel in the picture, counted from 0
     * @param position place of the trace in the panel, counted from 0
     * @return its style, whether or not another trace is left out
     */
    public static TraceStyle of(Panel panel, int index, int position) {
        return new TraceStyle(Look.trace(panel.waveforms().size() > 1 ? position : index), Look.line(position));
    }
}
