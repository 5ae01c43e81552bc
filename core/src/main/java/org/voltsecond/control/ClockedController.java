package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;

/** Gates that the clock alone drives: a mode for each segment of the period between two edges of any gate. */
final class ClockedController implements Controller {
    private final double clockPeriod;
    private final Map<String, Drive> gates;
    private final GateSchedule schedule;

    private record Segment(int index) implements Mode {}

    ClockedController(double clockPeriod, Map<String, Drive> gates) {
        this.clockPeriod = clockPeriod;
        this.gates = Map.copyOf(gates);
        schedule = GateSchedule.of(gates, clockPeriod);
    }

    @Override
    public double clockPeriod() {
        return clockPeriod;
    }

    @Override
    public Set<String> switches() {
        return gates.keySet();
    }

    @Override
    public List<OwnState> states() {
        return List.of();
    }

    @Override
    public List<Channel> channels() {
        return List.of();
    }

    @Override
    public Mode start() {
        return new Segment(0);
    }

    @Override
    public Set<String> closedSwitches(Mode mode) {
        return schedule.closed(((Segment) mode).index());
    }

    @Override
    public ControlLaw in(Mode mode, Sensing sensing) {
        int segment = ((Segment) mode).index();
        return new ControlLaw(
                List.of(),
                List.of(),
                schedule.end(segment),
                Double.POSITIVE_INFINITY,
                ControlLaw.Succession.to(new Segment(schedule.after(segment))),
                List.of());
    }

    @Override
    public Mode resume(Mode mode, double sinceTick) {
        return new Segment(schedule.segmentAt(sinceTick));
    }

    /**
     * The switching period cut into segments in which no gate changes. A gate that never changes makes no edge. Immutable.
     */
    private static final class GateSchedule {
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
}
