package org.voltsecond.plot;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.Stroke;
import java.awt.geom.Path2D;
import java.awt.geom.PathIterator;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.voltsecond.plot.Axes.Mapping;
import org.voltsecond.plot.Panel.Shade;
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

    /** What lies between the two edges of a shaded area. */
    static Path2D between(Shade shade, Mapping map, int columns) {
        Polyline outline = new Polyline();
        new Trace(new Shown(shade.one(), map.from(), map.to()), map, columns).addCurve(outline);
        double[][] back = corners(new Trace(new Shown(shade.other(), map.from(), map.to()), map, columns).curve());
        for (int k = back.length - 1; k >= 0; k--) {
            outline.add(back[k][0], back[k][1]);
        }
        return outline.closed();
    }

    private static double[][] corners(Path2D path) {
        List<double[]> corners = new ArrayList<>();
        for (PathIterator at = path.getPathIterator(null); !at.isDone(); at.next()) {
            double[] corner = new double[6];
            at.currentSegment(corner);
            corners.add(corner);
        }
        return corners.toArray(double[][]::new);
    }

    private Path2D curve() {
        Polyline line = new Polyline();
        addCurve(line);
        return line.open();
    }

    private void addCurve(Polyline line) {
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

    /**
     * The part of a waveform that a panel shows. What was worked out for one drawing is kept for the next, since a picture is
     * mostly written in two formats. Safe to use from any thread.
     */
    static final class Shown {
        /** With fewer columns than this for each interval, periods cannot be told apart. */
        private static final double COLUMNS_PER_INTERVAL = 3;

        private final Waveform waveform;
        private final Map<Integer, Envelope> envelopes = new ConcurrentHashMap<>();

        Shown(Waveform whole, double from, double to) {
            double start = Math.max(from, whole.startTime());
            double end = Math.min(to, whole.endTime());
            this.waveform = start == whole.startTime() && end == whole.endTime() ? whole : whole.between(start, end);
        }

        Waveform waveform() {
            return waveform;
        }

        boolean isBand(int columns) {
            return waveform.intervalCount() * COLUMNS_PER_INTERVAL > columns;
        }

        /** The columns of a band: at most so many, none shorter than a switching cycle. */
        Envelope envelope(int columns) {
            return envelopes.computeIfAbsent(columns, most -> {
                double start = waveform.startTime();
                double end = waveform.endTime();
                return waveform.envelope(start, end, waveform.columnsOfCycles(start, end, most));
            });
        }

        /** The exact extremes; those of a band come from the walk that draws it. */
        ValueRange extremes(int columns) {
            if (!isBand(columns)) {
                return new ValueRange(waveform.minimum(), waveform.maximum());
            }
            Envelope envelope = envelope(columns);
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (int column = 0; column < envelope.columns(); column++) {
                low = Math.min(low, envelope.minimum(column));
                high = Math.max(high, envelope.maximum(column));
            }
            return new ValueRange(low, high);
        }
    }
}
