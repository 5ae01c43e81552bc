package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.stage.RoleNaming.Role;

/** Looks for roles in a circuit. What it cannot tell for certain it leaves to be named. */
final class RoleSearch {
    private final Circuit circuit;
    private final Map<Role, List<String>> names;
    private final List<String> faults = new ArrayList<>();

    RoleSearch(Circuit circuit, Map<Role, List<String>> names) {
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
        check(Role.INPUT_CAPACITORS, circuit.parts().stream().map(Part::name).toList());
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
            int legs = Roles.pattern(names).legs().size();
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
        List<String> coils = named(RoleSearch::isCoil);
        if (!names.containsKey(Role.INDUCTOR) && coils.size() == 1) {
            names.put(Role.INDUCTOR, coils);
        }
        if (!names.containsKey(Role.INDUCTOR) && !coils.isEmpty()) {
            faults.add("inductor current: cannot be found, since there are several inductors, " + coils
                    + "; name it with inductorCurrent(\"" + coils.get(0) + "\")");
        }
        // a winding of an ideal transformer carries an inductor current where the core's inductance is a part of its
        // own
        check(Role.INDUCTOR, named(part -> isCoil(part) || part instanceof Part.IdealTransformer));
    }

    private List<String> named(Predicate<Part> wanted) {
        return circuit.ports().stream()
                .filter(port -> wanted.test(circuit.part(port.part())))
                .map(Port::name)
                .toList();
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
        List<String> others = all.stream().filter(name -> !isBodyDiode(name)).toList();
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
        return new Port("output", "", of(Role.OUTPUT).get(0), of(Role.OUTPUT).get(1));
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
