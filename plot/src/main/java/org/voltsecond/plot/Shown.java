package org.voltsecond.plot;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.voltsecond.waveform.Envelope;
import org.voltsecond.waveform.Waveform;

/**
 * The part of a waveform that a panel shows. What was worked out for one drawing is kept for the next, since a picture is
 * mostly written in two formats. Safe to use from any thread.
 */
final class Shown {
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
