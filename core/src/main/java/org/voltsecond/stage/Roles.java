package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.SwitchPattern;

/**
 * What the parts of a circuit do in a converter: where it is fed and what it feeds, which parts switch, rectify, store and load,
 * which current is <em>the</em> inductor current and which node <em>the</em> switch node. Everything that is asked of a
 * converter asks its roles. {@link #in} finds in the circuit what was not named. Immutable.
 *
 * <pre>{@code
 * Roles roles = Roles.unnamed().output("out", Circuit.GROUND).in(rail.circuit());
 * String fed = roles.source(); // "V1"
 * String current = roles.inductor().orElseThrow(); // "L1"
 * String node = roles.switchNode().orElseThrow(); // "sw"
 * }</pre>
 */
public final class Roles extends RoleNaming<Roles> {
    private final Map<Role, List<String>> names;
    private final List<Reading> readings;
    private final Map<String, List<String>> heats;

    private Roles(Map<Role, List<String>> names, List<Reading> readings, Map<String, List<String>> heats) {
        this.names = new EnumMap<>(Role.class);
        this.names.putAll(names);
        this.readings = List.copyOf(readings);
        this.heats = Collections.unmodifiableMap(new LinkedHashMap<>(heats));
    }

    /**
     * Starts with no role named.
     *
     * @return roles to be named or found
     */
    public static Roles unnamed() {
        return new Roles(new EnumMap<>(Role.class), List.of(), Map.of());
    }

    /**
     * Finds in a circuit what was not named, and checks what was.
     *
     * @param circuit the circuit
     * @return the roles, complete
     * @throws InvalidStageException listing every role that is named wrong, or that is not named and cannot be found, and how to
     *     name it
     */
    public Roles in(Circuit circuit) {
        return new Roles(new Search(circuit, names).complete(), readings, heats);
    }

    @Override
    public Roles with(Role role, String... parts) {
        Map<Role, List<String>> more = new EnumMap<>(Role.class);
        more.putAll(names);
        if (parts.length == 0) {
            more.remove(role);
        } else {
            more.put(role, List.of(parts));
        }
        return new Roles(more, readings, heats);
    }

    /**
     * Tells a signal beside the usual ones.
     *
     * @param reading what is read, and what it is called
     * @return the same with this signal
     */
    public Roles reading(Reading reading) {
        List<Reading> more = new ArrayList<>(readings);
        more.add(reading);
        return new Roles(names, more, heats);
    }

    /**
     * Names parts whose heat is told together, beside transistor, rectifier, inductor and output capacitor.
     *
     * @param words what it is called, such as "clamp"
     * @param parts reference designators; a voltage source among them takes up what it is fed
     * @return the same with this loss
     */
    public Roles heat(String words, String... parts) {
        Map<String, List<String>> more = new LinkedHashMap<>(heats);
        more.merge(
                words,
                List.of(parts),
                (before, added) ->
                        Stream.concat(before.stream(), added.stream()).toList());
        return new Roles(names, readings, more);
    }

    /** {@return the signals that are told beside the usual ones} */
    public List<Reading> readings() {
        return readings;
    }

    /** {@return the parts whose heat is told together, by what it is called} */
    public Map<String, List<String>> heats() {
        return heats;
    }

    /** {@return the parts across the input, whose currents the stage itself does not draw} */
    public List<String> inputCapacitors() {
        return of(Role.INPUT_CAPACITORS);
    }

    /** {@return the node at which the stage is fed, where something lies between it and the source} */
    public Optional<String> stageInput() {
        return optional(Role.STAGE_INPUT);
    }

    /** {@return the inductors, or "part.winding", whose currents are the inductor currents of interleaved phases, in order} */
    public List<String> inductors() {
        return of(Role.INDUCTOR);
    }

    private List<String> of(Role role) {
        return names.getOrDefault(role, List.of());
    }

    private String required(Role role, int index) {
        List<String> found = of(role);
        if (found.size() <= index) {
            throw new IllegalStateException("the " + role.words() + " is neither named nor found yet: name it with "
                    + role.how() + ", or ask Roles.in(circuit)");
        }
        return found.get(index);
    }

    private Optional<String> optional(Role role) {
        List<String> found = of(role);
        return found.isEmpty() ? Optional.empty() : Optional.of(found.get(0));
    }

    /** {@return the source that feeds the converter} */
    public String source() {
        return required(Role.INPUT, 0);
    }

    /** {@return the node of the output} */
    public String outputNode() {
        return required(Role.OUTPUT, 0);
    }

    /** {@return the node against which the output voltage counts} */
    public String outputReference() {
        return required(Role.OUTPUT, 1);
    }

    /** {@return whether the output voltage is negative in normal operation} */
    public boolean isInverting() {
        return names.containsKey(Role.INVERTING);
    }

    /** {@return the switches whose closing begins the on interval, the first one being "the transistor"} */
    public List<String> switches() {
        return of(Role.SWITCHES);
    }

    /**
     * {@return how one drive reaches the switches: all together, unless {@link #timing(SwitchPattern.Timing)} says otherwise}
     *
     * @throws IllegalArgumentException if the switches cannot be dealt to legs
     */
    public SwitchPattern pattern() {
        return pattern(names);
    }

    private static SwitchPattern pattern(Map<Role, List<String>> names) {
        String timing = names.getOrDefault(Role.TIMING, List.of(SwitchPattern.Timing.TOGETHER.name()))
                .get(0);
        return SwitchPattern.of(
                SwitchPattern.Timing.valueOf(timing),
                names.getOrDefault(Role.SWITCHES, List.of()),
                names.getOrDefault(Role.SYNCHRONOUS, List.of()));
    }

    /**
     * Devices that carry an inductor current in turn.
     *
     * @param switches those whose closing begins the on interval
     * @param rectifiers diodes that take over
     * @param synchronous switches that stand in for these
     * @param inductor whose current it is; empty where nothing stores a current
     */
    public record Cell(
            List<String> switches, List<String> rectifiers, List<String> synchronous, Optional<String> inductor) {
        /**
         * Copies the lists.
         *
         * @param switches those whose closing begins the on interval
         * @param rectifiers diodes that take over
         * @param synchronous switches that stand in for these
         * @param inductor whose current it is
         */
        public Cell {
            switches = List.copyOf(switches);
            rectifiers = List.copyOf(rectifiers);
            synchronous = List.copyOf(synchronous);
        }
    }

    /** {@return the devices of each phase, of each leg of a four-switch stage, else all in one} */
    public List<Cell> cells() {
        SwitchPattern pattern = pattern();
        int count = pattern.legs().size();
        boolean apart = pattern.timing() == SwitchPattern.Timing.INTERLEAVED
                || pattern.timing() == SwitchPattern.Timing.FOUR_SWITCH;
        if (!apart || rectifiers().size() % count != 0) {
            return List.of(new Cell(switches(), rectifiers(), synchronous(), inductor()));
        }
        int each = rectifiers().size() / count;
        List<Cell> cells = new ArrayList<>();
        for (int k = 0; k < count; k++) {
            cells.add(new Cell(
                    pattern.legs().get(k).switches(),
                    rectifiers().subList(k * each, (k + 1) * each),
                    pattern.legs().get(k).complementary(),
                    inductors().size() == count ? Optional.of(inductors().get(k)) : inductor()));
        }
        return List.copyOf(cells);
    }

    /** {@return whether {@link #timing(SwitchPattern.Timing)} says how one drive reaches the switches} */
    public boolean isTimed() {
        return names.containsKey(Role.TIMING);
    }

    /** {@return what a regulator senses the current of: one part for all switches, or one for each leg of the pattern} */
    public List<String> currents() {
        return names.containsKey(Role.SENSED) ? of(Role.SENSED) : of(Role.INDUCTOR);
    }

    /** {@return the magnetizing current that the switches of two halves carry beside that of the inductor} */
    public Optional<String> magnetizing() {
        return optional(Role.MAGNETIZING);
    }

    /** {@return by how many turns of the primary for each of the secondary it counts} */
    public double magnetizingTurns() {
        return Double.parseDouble(required(Role.MAGNETIZING, 1));
    }

    /** {@return the switches that stand in for rectifiers} */
    public List<String> synchronous() {
        return of(Role.SYNCHRONOUS);
    }

    /** {@return the rectifiers that take over the inductor current} */
    public List<String> rectifiers() {
        return of(Role.RECTIFIERS);
    }

    /** {@return the inductor, or "part.winding", whose current is the inductor current; empty where nothing stores a current} */
    public Optional<String> inductor() {
        return optional(Role.INDUCTOR);
    }

    /** {@return the switch node; empty where there is none, or several that were not told apart} */
    public Optional<String> switchNode() {
        return optional(Role.SWITCH_NODE);
    }

    /** {@return the output capacitor; empty where there is none, or several that were not told apart} */
    public Optional<String> outputCapacitor() {
        return optional(Role.CAPACITOR);
    }

    /** {@return the resistor of the load, if there is one; of no conductance where a sink alone is the load} */
    public Optional<String> loadResistor() {
        return optional(Role.LOAD_RESISTOR);
    }

    /** {@return the current sink of the load, if there is one; of 0 A where a resistor alone is the load} */
    public Optional<String> loadSink() {
        return optional(Role.LOAD_SINK);
    }

    /** {@return the transistor: the first of the switches} */
    public String transistor() {
        return required(Role.SWITCHES, 0);
    }

    /** {@return the rectifier or the switch that stands in for it, the first of several; empty where nothing rectifies} */
    public Optional<String> rectifier() {
        return optional(Role.RECTIFIERS).or(() -> optional(Role.SYNCHRONOUS));
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof Roles roles
                && roles.names.equals(names)
                && roles.readings.equals(readings)
                && roles.heats.equals(heats);
    }

    @Override
    public int hashCode() {
        return names.hashCode();
    }

    @Override
    public String toString() {
        return names.entrySet().stream()
                .map(role -> role.getKey().words() + " " + String.join(", ", role.getValue()))
                .collect(Collectors.joining("; "));
    }

    /** Looks for roles in a circuit. What it cannot tell for certain it leaves to be named. */
    private static final class Search {
        private final Circuit circuit;
        private final Map<Role, List<String>> names;
        private final List<String> faults = new ArrayList<>();

        Search(Circuit circuit, Map<Role, List<String>> names) {
            this.circuit = circuit;
            this.names = new EnumMap<>(Role.class);
            this.names.putAll(names);
        }

        Map<Role, List<String>> complete() {
            findSource();
            findOutput();
            throwFaults(); // all else is found from these
            findLoad(
                    Role.LOAD_RESISTOR,
                    part -> part instanceof Part.Resistor
                            || part instanceof NonlinearResistor
                            || part instanceof ControlledSource.CurrentByVoltage);
            findLoad(Role.LOAD_SINK, part -> part instanceof Part.CurrentSource);
            findSwitches();
            checkPattern();
            findInductor();
            findRectifiers();
            findSwitchNode();
            findCapacitor();
            check(Role.STAGE_INPUT, circuit.nodes());
            check(
                    Role.INPUT_CAPACITORS,
                    circuit.parts().stream().map(Part::name).toList());
            throwFaults();
            return names;
        }

        private void throwFaults() {
            if (!faults.isEmpty()) {
                throw new InvalidStageException("roles in the " + circuit, faults);
            }
        }

        private List<String> of(Role role) {
            return names.getOrDefault(role, List.of());
        }

        private void findSource() {
            List<String> sources = namesOf(Part.VoltageSource.class);
            if (!names.containsKey(Role.INPUT) && sources.size() == 1) {
                names.put(Role.INPUT, sources);
            }
            if (!names.containsKey(Role.INPUT)) {
                faults.add("input: cannot be found, since the voltage sources are " + sources + "; name it with "
                        + Role.INPUT.how());
            }
            check(Role.INPUT, sources);
        }

        /** The nodes across which the only resistors and sinks lie: in most circuits these are the load. */
        private void findOutput() {
            if (!names.containsKey(Role.OUTPUT)) {
                List<Port> loads = circuit.parts().stream()
                        .filter(part -> part instanceof Part.Resistor
                                || part instanceof NonlinearResistor
                                || part instanceof Part.CurrentSource)
                        .map(part -> part.ports().get(0))
                        .toList();
                if (loads.isEmpty() || !loads.stream().allMatch(port -> joins(port, loads.get(0)))) {
                    faults.add(
                            "output: cannot be found, since there is no one pair of nodes across which all resistors and "
                                    + "current sources lie; name it with " + Role.OUTPUT.how());
                    return;
                }
                names.put(Role.OUTPUT, List.of(loads.get(0).plus(), loads.get(0).minus()));
            }
            List<String> nodes = Stream.concat(circuit.nodes().stream(), Stream.of(Circuit.GROUND))
                    .toList();
            check(Role.OUTPUT, nodes);
            if (of(Role.OUTPUT).get(0).equals(of(Role.OUTPUT).get(1))) {
                faults.add("output: lies between two different nodes but both were '"
                        + of(Role.OUTPUT).get(0) + "'");
            }
        }

        private void findLoad(Role role, Predicate<Part> kind) {
            List<String> across =
                    names(part -> kind.test(part) && joins(part.ports().get(0), output()));
            if (across.size() > 1) {
                faults.add("load: " + across + " lie side by side across the output; put them into one part");
            }
            if (!across.isEmpty()) {
                names.put(role, across);
            }
        }

        private void findSwitches() {
            List<String> all = namesOf(Part.Switch.class);
            if (!names.containsKey(Role.SWITCHES)) {
                names.put(
                        Role.SWITCHES,
                        all.stream()
                                .filter(name -> !of(Role.SYNCHRONOUS).contains(name))
                                .toList());
            }
            if (of(Role.SWITCHES).isEmpty()) {
                faults.add("switches: a converter needs a switch that is driven, but the switches are " + all);
            }
            check(Role.SWITCHES, all);
            check(Role.SYNCHRONOUS, all);
        }

        private void checkPattern() {
            check(Role.SENSED, circuit.ports().stream().map(Port::name).toList());
            if (!faults.isEmpty()) {
                return;
            }
            try {
                int legs = pattern(names).legs().size();
                int sensed = of(Role.SENSED).size();
                if (sensed > 1 && sensed != legs) {
                    faults.add(Role.SENSED.words() + ": one, or one for each of " + legs + " legs, but they were "
                            + of(Role.SENSED) + "; name them with " + Role.SENSED.how());
                }
            } catch (IllegalArgumentException e) {
                faults.add(Role.TIMING.words() + ": " + e.getMessage());
            }
        }

        private void findInductor() {
            List<String> coils = circuit.ports().stream()
                    .filter(port -> isCoil(circuit.part(port.part())))
                    .map(Port::name)
                    .toList();
            if (!names.containsKey(Role.INDUCTOR) && coils.size() == 1) {
                names.put(Role.INDUCTOR, coils);
            }
            if (!names.containsKey(Role.INDUCTOR) && !coils.isEmpty()) {
                faults.add("inductor current: cannot be found, since there are several inductors, " + coils
                        + "; name it with inductorCurrent(\"" + coils.get(0) + "\")");
            }
            check(Role.INDUCTOR, coils);
        }

        private static boolean isCoil(Part part) {
            return part instanceof Part.Inductor || part instanceof Part.CoupledInductors;
        }

        /**
         * One across a switch is a body diode. Of several others those are meant that lead from a rail to where the current of
         * inductor or switch passes, or from there to a rail: one of a snubber or clamp ends at a node of its own.
         */
        private void findRectifiers() {
            List<String> all = namesOf(Part.Rectifier.class);
            check(Role.RECTIFIERS, all);
            if (names.containsKey(Role.RECTIFIERS) || !faults.isEmpty()) {
                return;
            }
            List<String> others =
                    all.stream().filter(name -> !isBodyDiode(name)).toList();
            if (others.size() > 1) {
                others = others.stream().filter(this::joinsRailAndCurrent).toList();
                if (others.isEmpty()) {
                    faults.add("rectifiers: cannot be told from those of snubbers and clamps among " + all
                            + "; name them with rectifiers(\"" + all.get(0) + "\")");
                }
            }
            if (!others.isEmpty()) {
                names.put(Role.RECTIFIERS, others);
            }
        }

        private boolean isBodyDiode(String name) {
            return Stream.concat(of(Role.SWITCHES).stream(), of(Role.SYNCHRONOUS).stream())
                    .anyMatch(each -> joins(port(each), port(name)));
        }

        private boolean joinsRailAndCurrent(String name) {
            Port diode = port(name);
            return isRail(diode.plus())
                    ? carriesCurrent(diode.minus())
                    : isRail(diode.minus()) && carriesCurrent(diode.plus());
        }

        private boolean carriesCurrent(String node) {
            return Stream.concat(of(Role.INDUCTOR).stream(), of(Role.SWITCHES).stream())
                    .anyMatch(each -> touches(node, each));
        }

        private boolean isRail(String node) {
            return node.equals(Circuit.GROUND)
                    || touches(node, of(Role.INPUT).get(0))
                    || of(Role.OUTPUT).contains(node);
        }

        private void findSwitchNode() {
            check(Role.SWITCH_NODE, circuit.nodes());
            if (names.containsKey(Role.SWITCH_NODE) || !faults.isEmpty()) {
                return;
            }
            String transistor = of(Role.SWITCHES).get(0);
            List<String> meeting = circuit.nodes().stream()
                    .filter(node -> !isRail(node) && touches(node, transistor))
                    .filter(node -> Stream.concat(of(Role.INDUCTOR).stream(), of(Role.RECTIFIERS).stream())
                            .anyMatch(each -> touches(node, each)))
                    .toList();
            if (meeting.size() == 1) {
                names.put(Role.SWITCH_NODE, meeting);
            }
        }

        private void findCapacitor() {
            List<String> all = namesOf(Part.Capacitor.class);
            check(Role.CAPACITOR, all);
            if (!names.containsKey(Role.CAPACITOR)) {
                List<String> across =
                        all.stream().filter(name -> joins(port(name), output())).toList();
                if (across.size() == 1) {
                    names.put(Role.CAPACITOR, across);
                }
            }
        }

        private void check(Role role, List<String> valid) {
            for (String name : of(role)) {
                if (!valid.contains(name)) {
                    faults.add(role.words() + ": '" + name + "' is none of " + valid + "; name it with " + role.how());
                }
            }
        }

        private Port output() {
            return new Port(
                    "output", "", of(Role.OUTPUT).get(0), of(Role.OUTPUT).get(1));
        }

        private boolean touches(String node, String port) {
            return port(port).plus().equals(node) || port(port).minus().equals(node);
        }

        private Port port(String name) {
            return Objects.requireNonNull(circuit.ports().stream()
                    .filter(each -> each.name().equals(name))
                    .findFirst()
                    .orElse(null));
        }

        private static boolean joins(Port one, Port other) {
            return (one.plus().equals(other.plus()) && one.minus().equals(other.minus()))
                    || (one.plus().equals(other.minus()) && one.minus().equals(other.plus()));
        }

        private List<String> namesOf(Class<? extends Part> kind) {
            return names(kind::isInstance);
        }

        private List<String> names(Predicate<Part> which) {
            return circuit.parts().stream().filter(which).map(Part::name).toList();
        }
    }
}
