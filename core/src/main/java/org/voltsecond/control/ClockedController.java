package org.voltsecond.control;

import java.util.List;
import java.util.Map;
import java.util.Set;

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
    public Regulation in(Mode mode, Sensing sensing) {
        int segment = ((Segment) mode).index();
        return new Regulation(
                List.of(),
                List.of(),
                schedule.end(segment),
                Double.POSITIVE_INFINITY,
                Regulation.Succession.to(new Segment(schedule.after(segment))),
                List.of());
    }

    @Override
    public Mode resume(Mode mode, double sinceTick) {
        return new Segment(schedule.segmentAt(sinceTick));
    }
}
