package org.voltsecond.converter;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;

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

    Roles(Map<Role, List<String>> names) {
        this.names = new EnumMap<>(Role.class);
        this.names.putAll(names);
    }

    /**
     * Starts with no role named.
     *
     * @return roles to be named or found
     */
    public static Roles unnamed() {
        return new Roles(new EnumMap<>(Role.class));
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
        return new RoleSearch(circuit, names).complete();
    }

    @Override
    Roles with(Role role, String... parts) {
        Map<Role, List<String>> more = new EnumMap<>(Role.class);
        more.putAll(names);
        if (parts.length == 0) {
            more.remove(role);
        } else {
            more.put(role, List.of(parts));
        }
        return new Roles(more);
    }

    private List<String> of(Role role) {
        return names.getOrDefault(role, List.of());
    }

    private String required(Role role, int index) {
        List<String> found = of(role);
        if (found.size() <= index) {
            throw new IllegalStateException("the " + role.words + " is neither named nor found yet: name it with "
                    + role.how + ", or ask Roles.in(circuit)");
        }
        return found.get(index);
    }

    private Optional<String> optional(Role role) {
        return of(role).stream().findFirst();
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
    String transistor() {
        return required(Role.SWITCHES, 0);
    }

    /** The rectifier or the switch that stands in for it, the first of several; null where nothing rectifies. */
    @Nullable String rectifier() {
        return optional(Role.RECTIFIERS).or(() -> optional(Role.SYNCHRONOUS)).orElse(null);
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof Roles roles && roles.names.equals(names);
    }

    @Override
    public int hashCode() {
        return names.hashCode();
    }

    @Override
    public String toString() {
        return names.entrySet().stream()
                .map(role -> role.getKey().words + " " + String.join(", ", role.getValue()))
                .collect(Collectors.joining("; "));
    }
}
