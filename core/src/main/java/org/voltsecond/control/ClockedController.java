package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Gates that the clock alone drives: a mode for each segment of the period between two edges of any gate. */
final class ClockedController implements Controller {
    private final double clockPeriod;
    private final Map<String, Drive> gates;
    private final GateSchedule schedule;

    private static final Drive NEVER = Drive.fixedDuty(0, 1);

    /** {@code movesAtEnd}: whether the edges that end it move with the duty cycle that is looked at. */
    private record Segment(int index, boolean movesAtEnd) implements Mode {
        // phases are found by their mode, far quicker than by what a record is given
        @Override
        public boolean equals(@Nullable Object other) {
            return other instanceof Segment segment && segment.index == index && segment.movesAtEnd == movesAtEnd;
        }

        @Override
        public int hashCode() {
            return 2 * index + (movesAtEnd ? 1 : 0);
        }
    }

    ClockedController(double clockPeriod, Map<String, Drive> gates) {
        this(clockPeriod, gates, Set.of(), true);
    }

    /**
     * Gates some of whose edges are told apart, since they are to move: where others fall upon them there is a segment of no
     * length between.
     *
     * @param moving switches whose edges that follow the duty cycle move
     * @param later whether they come after the others of the same instant; else before
     */
    ClockedController(double clockPeriod, Map<String, Drive> gates, Set<String> moving, boolean later) {
        this.clockPeriod = clockPeriod;
        this.gates = Map.copyOf(gates);
        schedule = GateSchedule.of(CommonPeriod.over(gates, clockPeriod), clockPeriod, moving, later);
    }

    /** Clocks of several frequencies that come together again and again. */
    static final class CommonPeriod {
        /** A longer one takes too long to run through for what it tells. */
        private static final int MOST_PERIODS = 10_000;
        /** Quotients of inverses of frequencies are whole numbers but for so many roundings. */
        private static final double WHOLE = 0x1p-48;
        /** Edges that differ by less, as a share of the common period, fall together. */
        private static final double SAME = 0x1p-44;

        private CommonPeriod() {}

        /** The shortest time that is a whole number of each of some periods, s; not a number if there is none. */
        static double of(Collection<Double> periods) {
            if (periods.size() == 1) {
                return periods.iterator().next();
            }
            double longest =
                    periods.stream().mapToDouble(Double::doubleValue).max().orElse(Double.NaN);
            double shortest =
                    periods.stream().mapToDouble(Double::doubleValue).min().orElse(Double.NaN);
            for (int k = 1; k * longest <= MOST_PERIODS * shortest; k++) {
                double common = k * longest;
                if (periods.stream().allMatch(period -> isWhole(common / period))) {
                    return common;
                }
            }
            return Double.NaN;
        }

        static boolean isWhole(double quotient) {
            return Math.abs(quotient - Math.rint(quotient)) <= WHOLE * quotient;
        }

        /** How many periods make a common one. */
        static int count(double common, double period) {
            return (int) Math.rint(common / period);
        }

        /** What is wrong with clocks that share no period. */
        static String fault(Collection<Double> periods) {
            return "the clocks have no common period of at most " + MOST_PERIODS + " periods of the fastest: "
                    + periods.stream()
                            .distinct()
                            .map(period -> Quantity.brief(1 / period, Unit.HERTZ))
                            .collect(Collectors.joining(", "))
                    + "; choose frequencies whose ratios are those of small whole numbers";
        }

        /** Drives over a common period, each as often as it repeats there, with edges that fall together at one instant. */
        private static Map<String, Drive> over(Map<String, Drive> gates, double common) {
            Map<String, Drive> repeated = new TreeMap<>(gates);
            repeated.replaceAll((name, drive) ->
                    count(common, drive.period()) <= 1 ? drive : drive.repeated(count(common, drive.period())));
            return areApart(GateSchedule.edges(repeated)) ? repeated : together(repeated);
        }

        private static boolean areApart(double[] edges) {
            boolean apart = true;
            for (int k = 1; k < edges.length; k++) {
                apart &= edges[k] == edges[k - 1] || edges[k] > edges[k - 1] + SAME;
            }
            return apart;
        }

        private static Map<String, Drive> together(Map<String, Drive> repeated) {
            TreeSet<Double> edges = new TreeSet<>();
            repeated.values()
                    .forEach(drive -> drive.windows().forEach(window -> {
                        edges.add(window.start());
                        edges.add(window.end());
                    }));
            TreeSet<Double> instants = new TreeSet<>();
            edges.stream()
                    .filter(edge -> instants.isEmpty() || edge > instants.last() + SAME)
                    .forEachOrdered(instants::add);
            if (instants.size()
                    < edges.size()) { // a delay and a duty cycle may add up to an edge of another pulse but for
                // rounding
                repeated.replaceAll((name, drive) -> drive.onto(instants, SAME));
            }
            return repeated;
        }
    }

    /** See {@link DrivenCircuit#withMovingEdges}. */
    static ClockedController moving(double clockPeriod, Map<String, Drive> gates, String switchName, boolean later) {
        Set<String> moving = new TreeSet<>(gates.keySet());
        Drive own = gates.get(switchName);
        if (own != null) {
            moving.removeIf(name ->
                    !name.equals(switchName) && !gates.getOrDefault(name, NEVER).isComplementOf(own));
        } else if (!switchName.isEmpty()) {
            throw new IllegalArgumentException("a duty cycle must be that of a switch with a fixed drive, "
                    + gates.keySet() + ", but was of " + switchName);
        }
        return new ClockedController(clockPeriod, gates, moving, later);
    }

    /** Whether what ends a phase are edges that move. */
    static boolean movesAtEnd(Mode mode) {
        return mode instanceof Segment segment && segment.movesAtEnd();
    }

    /** Whether a mode is one of such a controller. */
    static boolean isOwn(Mode mode) {
        return mode instanceof Segment;
    }

    private Segment segment(int index) {
        return new Segment(index, schedule.movesAfter(index));
    }

    @Override
    public double clockPeriod() {
        return clockPeriod;
    }

    @Override
    public double shortestPeriod() {
        return gates.values().stream().mapToDouble(Drive::period).reduce(clockPeriod, Math::min);
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
        return segment(0);
    }

    @Override
    public Set<String> closedSwitches(Mode mode) {
        return schedule.closed(((Segment) mode).index());
    }

    @Override
    public ControlLaw in(Mode mode, Sensing sensing) {
        int segment = ((Segment) mode).index();
        // what ends on the clock edge itself ends at once, for at the edge the period would only begin
        boolean onTick = schedule.end(segment) == 0;
        return new ControlLaw(
                List.of(),
                List.of(),
                onTick ? clockPeriod : schedule.end(segment),
                onTick ? 0 : Double.POSITIVE_INFINITY,
                ControlLaw.Succession.to(segment(schedule.after(segment))),
                List.of());
    }

    /** The closed switches in a segment. */
    Set<String> closed(int segment) {
        return schedule.closed(segment);
    }

    /** When a segment ends, s since the clock edge. */
    double end(int segment) {
        return schedule.end(segment);
    }

    int after(int segment) {
        return schedule.after(segment);
    }

    /** The segment that holds a time since the clock edge; at an edge the one that begins there. */
    int segmentAt(double sinceTick) {
        return schedule.segmentAt(sinceTick);
    }

    @Override
    public Mode resume(Mode mode, double sinceTick) {
        return segment(schedule.segmentAt(sinceTick));
    }

    /**
     * The switching period cut into segments in which no gate changes. A gate that never changes makes no edge. Immutable.
     */
    private static final class GateSchedule {
        private final List<Start> starts;
        private final double period;

        /** Where a segment begins, which switches are closed in it, and whether the edges that begin it move. */
        private record Start(double time, Set<String> closed, boolean moves) {}

        private GateSchedule(List<Start> starts, double period) {
            this.starts = starts;
            this.period = period;
        }

        static GateSchedule of(Map<String, Drive> gates, double period, Set<String> moving, boolean later) {
            List<Start> starts = new ArrayList<>();
            for (double edge : edges(gates)) {
                double time = edge * period;
                boolean isLater =
                        starts.isEmpty() || time > starts.get(starts.size() - 1).time();
                if (edge < 1 && time < period && isLater) {
                    Set<String> moved = new TreeSet<>(moving);
                    moved.removeIf(name -> !gates.getOrDefault(name, NEVER).movesAt(edge));
                    addEdge(starts, gates, edge, time, moved, later);
                }
            }
            return new GateSchedule(List.copyOf(starts), period);
        }

        /** The edges of all gates and that of the clock, in order; some may be there twice. */
        private static double[] edges(Map<String, Drive> gates) {
            double[] edges = new double[1];
            for (Drive drive : gates.values()) {
                int known = edges.length;
                edges = Arrays.copyOf(edges, known + 2 * drive.windows().size());
                for (Drive.OnWindow window : drive.windows()) {
                    edges[known++] = window.start();
                    edges[known++] = window.end();
                }
            }
            Arrays.sort(edges);
            return edges;
        }

        /** One start, or two of the same time if edges that move and edges that stay are to be told apart. */
        private static void addEdge(
                List<Start> starts,
                Map<String, Drive> gates,
                double edge,
                double time,
                Set<String> moved,
                boolean later) {
            Set<String> after = closed(
                    gates, name -> Objects.requireNonNull(gates.get(name)).isOnAt(edge));
            if (moved.isEmpty()) {
                add(starts, new Start(time, after, false));
                return;
            }
            Set<String> between = closed(gates, name -> {
                Drive drive = Objects.requireNonNull(gates.get(name));
                return moved.contains(name) == later ? drive.isOnBefore(edge) : drive.isOnAt(edge);
            });
            if (later) {
                add(starts, new Start(time, between, false));
                add(starts, new Start(time, after, true));
            } else {
                starts.add(new Start(time, between, true));
                starts.add(new Start(time, after, false));
            }
        }

        private static void add(List<Start> starts, Start next) {
            if (starts.isEmpty() || !starts.get(starts.size() - 1).closed().equals(next.closed())) {
                starts.add(next);
            }
        }

        private static Set<String> closed(Map<String, Drive> gates, Predicate<String> isClosed) {
            Set<String> closed = new HashSet<>();
            for (String name : gates.keySet()) {
                if (isClosed.test(name)) {
                    closed.add(name);
                }
            }
            return Set.copyOf(closed);
        }

        /** The closed switches in a segment. */
        Set<String> closed(int segment) {
            return starts.get(segment).closed();
        }

        /** When a segment ends, s since the clock edge. */
        double end(int segment) {
            return segment + 1 < starts.size() ? starts.get(segment + 1).time() : period;
        }

        int after(int segment) {
            return (segment + 1) % starts.size();
        }

        boolean movesAfter(int segment) {
            return starts.get(after(segment)).moves();
        }

        /** The segment that holds a time since the clock edge; at an edge the one that begins there. */
        int segmentAt(double sinceTick) {
            int segment = 0;
            while (segment + 1 < starts.size() && end(segment) <= sinceTick) {
                segment++;
            }
            return segment;
        }
    }
}
