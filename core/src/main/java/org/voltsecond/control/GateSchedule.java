package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/**
 * The switching period cut into segments in which no gate changes. A gate that never changes makes no edge. Immutable.
 */
final class GateSchedule {
    private final List<Set<String>> closed;
    private final double[] ends;

    private GateSchedule(List<Set<String>> closed, double[] ends) {
        this.closed = closed;
        this.ends = ends;
    }

    static GateSchedule of(Map<String, Drive> gates, double period) {
        TreeSet<Double> edges = new TreeSet<>(List.of(0.0));
        gates.values()
                .forEach(drive -> drive.windows().forEach(window -> {
                    edges.add(window.start());
                    edges.add(window.end());
                }));
        List<Set<String>> closed = new ArrayList<>();
        List<Double> starts = new ArrayList<>();
        for (double edge : edges) {
            double start = edge * period;
            boolean later = starts.isEmpty() || start > starts.get(starts.size() - 1);
            if (edge < 1 && start < period && later) {
                Set<String> set = closedAt(gates, edge);
                if (closed.isEmpty() || !closed.get(closed.size() - 1).equals(set)) {
                    closed.add(set);
                    starts.add(start);
                }
            }
        }
        double[] ends = new double[starts.size()];
        for (int k = 0; k < ends.length; k++) {
            ends[k] = k + 1 < ends.length ? starts.get(k + 1) : period;
        }
        return new GateSchedule(List.copyOf(closed), ends);
    }

    private static Set<String> closedAt(Map<String, Drive> gates, double fraction) {
        return gates.entrySet().stream()
                .filter(gate -> gate.getValue().isOnAt(fraction))
                .map(Map.Entry::getKey)
                .collect(Collectors.toUnmodifiableSet());
    }

    /** The closed switches in a segment. */
    Set<String> closed(int segment) {
        return closed.get(segment);
    }

    /** When a segment ends, s since the clock edge. */
    double end(int segment) {
        return ends[segment];
    }

    int after(int segment) {
        return (segment + 1) % ends.length;
    }

    /** The segment that holds a time since the clock edge; at an edge the one that begins there. */
    int segmentAt(double sinceTick) {
        int segment = 0;
        while (segment + 1 < ends.length && ends[segment] <= sinceTick) {
            segment++;
        }
        return segment;
    }
}
