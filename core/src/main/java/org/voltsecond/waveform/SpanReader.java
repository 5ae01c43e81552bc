package org.voltsecond.waveform;

import java.util.Arrays;
import java.util.List;
import org.voltsecond.engine.Piece;

/** Values of one waveform within one span, whose pieces are worked out once. */
record SpanReader(List<Piece> pieces) {
    /** A smaller step, relative to the values on both sides, is rounding and no jump. */
    private static final double NOISE = 1e-9;

    static SpanReader of(Waveform waveform, int span) {
        return new SpanReader(waveform.curve().pieces(span));
    }

    /** The value at a snapped time. */
    static double at(Waveform waveform, double time, Side side) {
        int span = waveform.timeline().span(time, side);
        return of(waveform, span).at(time, waveform.timeline(), span);
    }

    /** The values after many instants, taken span by span, so that each span is worked out once. */
    static double[] at(Waveform waveform, double[] times) {
        Timeline timeline = waveform.timeline();
        double[] snapped = Arrays.stream(times).map(timeline::snap).toArray();
        int[] spans = Arrays.stream(snapped)
                .mapToInt(time -> timeline.span(time, Side.AFTER))
                .toArray();
        double[] values = new double[times.length];
        int span = -1;
        SpanReader reader = new SpanReader(List.of());
        for (int index : bySpan(spans, timeline.size())) {
            reader = spans[index] == span ? reader : of(waveform, spans[index]);
            span = spans[index];
            values[index] = reader.at(snapped[index], timeline, span);
        }
        return values;
    }

    /** The indices of instants in the order of their spans. */
    private static int[] bySpan(int[] spans, int count) {
        int[] next = new int[count + 1];
        for (int span : spans) {
            next[span + 1]++;
        }
        Arrays.parallelPrefix(next, Integer::sum);
        int[] order = new int[spans.length];
        for (int i = 0; i < spans.length; i++) {
            order[next[spans[i]]++] = i;
        }
        return order;
    }

    private double at(double time, Timeline timeline, int span) {
        if (time == timeline.start(span)) {
            return first();
        }
        return time == timeline.end(span) ? last() : at(time);
    }

    /** The value of the last piece that begins by then; at either end of the span no other piece is looked at. */
    double at(double time) {
        int low = 0;
        int high = pieces.size();
        if (time <= pieces.get(0).start()) {
            high = 1;
        } else if (pieces.get(high - 1).start() <= time) {
            low = high - 1;
        }
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            if (pieces.get(middle).start() <= time) {
                low = middle;
            } else {
                high = middle;
            }
        }
        Piece holder = pieces.get(low);
        return holder.valueAt(Pieces.fraction(holder, time));
    }

    double first() {
        return pieces.get(0).coefficient(0);
    }

    double last() {
        return pieces.get(pieces.size() - 1).valueAt(1);
    }

    boolean jumpsTo(SpanReader next) {
        double last = last();
        double first = next.first();
        double step = Math.abs(first - last);
        // no value is beyond the bounds of all, which take every piece
        return step > NOISE * Math.max(Math.abs(first), Math.abs(last)) && step > NOISE * Math.max(size(), next.size());
    }

    /** An upper bound of the size of the values. */
    private double size() {
        double size = 0;
        for (Piece piece : pieces) {
            size = Math.max(size, Pieces.size(piece));
        }
        return size;
    }
}
