package org.voltsecond.plot.viewer;

import org.voltsecond.plot.Panel;
import org.voltsecond.plot.TraceStyle;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Waveform;

/**
 * A trace and its place.
 *
 * @param waveform what it shows
 * @param panel its panel, counted from 0
 * @param position its place in the panel, counted from 0
 * @param style how it is drawn
 */
record Traced(Waveform waveform, int panel, int position, TraceStyle style) {
    /** A smaller step, relative to the largest value of the trace, is rounding and no jump. */
    private static final double NOISE = 1e-9;

    static Traced of(Panel panel, int index, int position) {
        return new Traced(panel.waveforms().get(position), index, position, TraceStyle.of(panel, index, position));
    }

    /** Whether this shows the same of another run. */
    boolean isInPlaceOf(Traced other) {
        return panel == other.panel
                && position == other.position
                && waveform.name().equals(other.waveform.name());
    }

    boolean overlaps(TimeWindow window) {
        return waveform.startTime() < window.to() && waveform.endTime() > window.from();
    }

    CursorValue at(double time) {
        if (!(time >= waveform.startTime() && time <= waveform.endTime())) {
            return CursorValue.NONE;
        }
        double before = waveform.at(time, Side.BEFORE);
        double after = waveform.at(time, Side.AFTER);
        return new CursorValue(before, after, Math.abs(after - before) > NOISE * largest());
    }

    /** The largest value without its sign. */
    double largest() {
        return Math.max(Math.abs(waveform.minimum()), Math.abs(waveform.maximum()));
    }

    CursorReading read(double timeA, double timeB) {
        return new CursorReading(waveform.name(), waveform.unit(), at(timeA), at(timeB));
    }
}
