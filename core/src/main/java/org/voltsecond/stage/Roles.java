package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
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
        return new Roles(new RoleSearch(circuit, names).complete(), readings, heats);
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

    static SwitchPattern pattern(Map<Role, List<String>> names) {
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

    /**
     * A signal that a stage tells beside those that every stage has: current or voltage of one of its parts.
     *
     * <pre>{@code
     * Roles.Reading second = Roles.Reading.current("second inductor current", "L2");
     * String key = second.key(); // "second_inductor_current"
     * }</pre>
     *
     * @param words what it is called, such as "second inductor current"; a file writes it with underscores
     * @param part reference designator, or "part.winding"
     * @param isVoltage whether it is the voltage across the part; else the current through it
     * @param sign 1, or -1 where it counts from the second node of the part to the first
     */
    public record Reading(String words, String part, boolean isVoltage, int sign) {
        /**
         * Returns the current through a part.
         *
         * @param words what it is called
         * @param part its reference designator
         * @return the reading, positive from the first node of the part to the second
         */
        public static Reading current(String words, String part) {
            return new Reading(words, part, false, 1);
        }

        /**
         * Returns the voltage across a part.
         *
         * @param words what it is called
         * @param part its reference designator
         * @return the reading, of the first node of the part against the second
         */
        public static Reading voltage(String words, String part) {
            return new Reading(words, part, true, 1);
        }

        /** {@return the same, counted the other way} */
        public Reading reversed() {
            return new Reading(words, part, isVoltage, -sign);
        }

        /** {@return its name in files, such as "second_inductor_current"} */
        public String key() {
            return words.replace(' ', '_');
        }
    }
}
