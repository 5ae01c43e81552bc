package org.voltsecond.plot.viewer;

import java.util.HashMap;
import java.util.Map;

/**
 * What is seen.
 *
 * @param time the time shown
 * @param values what the value axes of some panels show; the others fit themselves to their traces
 */
record View(TimeWindow time, Map<Integer, ValueSpan> values) {
    View {
        values = Map.copyOf(values);
    }

    View at(TimeWindow newTime) {
        return new View(newTime, values);
    }

    View with(int panel, ValueSpan span) {
        Map<Integer, ValueSpan> more = new HashMap<>(values);
        more.put(panel, span);
        return new View(time, more);
    }

    View fitted() {
        return new View(time, Map.of());
    }
}
