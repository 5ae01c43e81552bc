package org.voltsecond.plot;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Stroke;
import java.awt.geom.Path2D;
import org.voltsecond.waveform.Envelope;
import org.voltsecond.waveform.Waveform;

/**
 * Draws one waveform. Up to a third as many intervals as columns it is a curve, with jumps drawn upright between the value
 * before and the value after. Beyond that it is a band from the lowest to the highest value of each column. Either way the
 * extremes are exact, however short they last.
 */
final class Trace {
    static final double BAND_STRENGTH = 0.38;
    static final Stroke OUTLINE = new BasicStroke(1.1f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND);

    private final Shown shown;
    private final Mapping map;
    private final int columns;

    Trace(Shown shown, Mapping map, int columns) {
        this.shown = shown;
        this.map = map;
        this.columns = columns;
    }

    void draw(Graphics2D g, Color color, Stroke stroke) {
        if (shown.isBand(columns)) {
            Path2D band = band();
            g.setPaint(Look.veil(color, BAND_STRENGTH));
            g.fill(band);
            g.setStroke(OUTLINE);
            g.setPaint(color);
            g.draw(band);
        } else {
            g.setPaint(color);
            g.setStroke(stroke);
            g.draw(curve());
        }
    }

    private Path2D curve() {
        Polyline line = new Polyline();
        Waveform waveform = shown.waveform();
        double[] ends = waveform.switchingTimes();
        double columnWidth = (map.to() - map.from()) / columns;
        for (int i = 0; i + 1 < ends.length; i++) {
            int parts = (int) Math.max(1, Math.ceil((ends[i + 1] - ends[i]) / columnWidth));
            Envelope interval = waveform.envelope(ends[i], ends[i + 1], parts);
            for (int column = 0; column < parts; column++) {
                addColumn(line, interval, column);
            }
        }
        return line.open();
    }

    private void addColumn(Polyline line, Envelope envelope, int column) {
        double left = map.x(envelope.startOf(column));
        double right = map.x(envelope.startOf(column + 1));
        double first = envelope.first(column);
        double last = envelope.last(column);
        line.add(left, map.y(first));
        if (envelope.minimum(column) < Math.min(first, last)) {
            line.add(0.5 * (left + right), map.y(envelope.minimum(column)));
        }
        if (envelope.maximum(column) > Math.max(first, last)) {
            line.add(0.5 * (left + right), map.y(envelope.maximum(column)));
        }
        line.add(right, map.y(last));
    }

    private Path2D band() {
        Envelope envelope = shown.envelope(columns);
        int last = envelope.columns() - 1;
        Polyline outline = new Polyline();
        for (int column = 0; column <= last; column++) {
            outline.add(xOf(envelope, column), map.y(envelope.maximum(column)));
        }
        for (int column = last; column >= 0; column--) {
            outline.add(xOf(envelope, column), map.y(envelope.minimum(column)));
        }
        return outline.closed();
    }

    /** The middle of a column; of the outermost ones the border, so that the band is as long as the waveform. */
    private double xOf(Envelope envelope, int column) {
        double left = map.x(envelope.startOf(column));
        double right = map.x(envelope.startOf(column + 1));
        return column == 0 ? left : column == envelope.columns() - 1 ? right : 0.5 * (left + right);
    }
}
