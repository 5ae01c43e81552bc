package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.List;

/** Finds the jumps of a waveform. */
final class Edges {
    private Edges() {}

    static List<Edge> of(Waveform waveform) {
        Timeline timeline = waveform.timeline();
        List<Edge> edges = new ArrayList<>();
        SpanReader before = SpanReader.of(waveform, 0);
        for (int span = 1; span < timeline.size(); span++) {
            SpanReader after = SpanReader.of(waveform, span);
            if (before.jumpsTo(after)) {
                edges.add(new Edge(timeline.start(span), before.last(), after.first()));
            }
            before = after;
        }
        return List.copyOf(edges);
    }
}
