package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/** Finds everything that is wrong with a circuit, whatever its switches do. */
final class CircuitCheck {
    private static final int MOST_DEVICES = Long.SIZE;

    private final List<Part> parts;
    private final List<String> faults = new ArrayList<>();

    private CircuitCheck(List<Part> parts) {
        this.parts = parts;
    }

    static void check(List<Part> parts) {
        List<String> faults = new CircuitCheck(parts).faults();
        if (!faults.isEmpty()) {
            throw new InvalidCircuitException(faults);
        }
    }

    private List<String> faults() {
        if (parts.isEmpty()) {
            faults.add("a circuit must have at least one part");
            return faults;
        }
        parts.forEach(part -> faults.addAll(part.faults()));
        checkNames();
        checkNodes();
        checkControls();
        checkDevices();
        checkPaths();
        checkVoltageLoops();
        return faults;
    }

    private void checkNames() {
        Set<String> seen = new HashSet<>();
        for (Part part : parts) {
            if (part.name().isBlank()) {
                faults.add("a part of kind " + part.getClass().getSimpleName() + " has no name");
            }
            if (!seen.add(part.name())) {
                faults.add(part.name() + ": two parts have this name; give each its own");
            }
            Set<String> windings = new HashSet<>();
            for (Port port : part.ports()) {
                if (!windings.add(port.name())) {
                    faults.add(part.name() + ": two windings have the name " + port.name() + "; give each its own");
                }
            }
        }
    }

    private void checkNodes() {
        boolean grounded = false;
        for (Port port : ports()) {
            grounded |= port.plus().equals(Circuit.GROUND) || port.minus().equals(Circuit.GROUND);
            if (port.plus().isBlank() || port.minus().isBlank()) {
                faults.add(port.name() + ": a node must have a name but was blank");
            } else if (port.plus().equals(port.minus())) {
                faults.add(
                        port.name() + ": both terminals are at node " + port.plus() + "; put them at different nodes");
            }
        }
        if (!grounded) {
            faults.add("no part is at the reference node; name one node \"" + Circuit.GROUND + "\"");
        }
    }

    private void checkControls() {
        Set<String> nodes = new HashSet<>(Set.of(Circuit.GROUND));
        Set<String> names = new TreeSet<>();
        for (Port port : ports()) {
            nodes.add(port.plus());
            nodes.add(port.minus());
            names.add(port.name());
        }
        for (Part part : parts) {
            for (String node : controlNodes(part)) {
                if (!nodes.contains(node)) {
                    faults.add(part.name() + ": no part is at its controlling node " + node);
                }
            }
            String control = controlPort(part);
            if (!control.isEmpty() && !names.contains(control)) {
                faults.add(part.name() + ": there is no part " + control + " to control it; choose from " + names);
            }
            if (control.equals(part.name())) {
                faults.add(part.name() + ": a source must not be controlled by its own current");
            }
        }
    }

    private static List<String> controlNodes(Part part) {
        if (part instanceof ControlledSource.VoltageByVoltage source) {
            return List.of(source.controlPlus(), source.controlMinus());
        }
        return part instanceof ControlledSource.CurrentByVoltage source
                ? List.of(source.controlPlus(), source.controlMinus())
                : List.of();
    }

    private static String controlPort(Part part) {
        if (part instanceof ControlledSource.VoltageByCurrent source) {
            return source.controlPort();
        }
        return part instanceof ControlledSource.CurrentByCurrent source ? source.controlPort() : "";
    }

    private void checkDevices() {
        long switches = parts.stream().filter(Part.Switch.class::isInstance).count();
        long rectifiers =
                parts.stream().filter(Part.Rectifier.class::isInstance).count();
        if (switches > MOST_DEVICES || rectifiers > MOST_DEVICES) {
            faults.add("a circuit must have at most " + MOST_DEVICES + " switches and as many rectifiers but had "
                    + switches + " and " + rectifiers);
        }
        long bits = rectifiers + parts.stream().mapToInt(CircuitCheck::bits).sum();
        if (bits > MOST_DEVICES) {
            faults.add(
                    "a circuit has room for " + MOST_DEVICES + " rectifiers, and for fewer beside parts that bend, but "
                            + "its parts take " + bits + " bits; take fewer bends");
        }
    }

    private static int bits(Part part) {
        if (part instanceof NonlinearResistor n) {
            return Bends.width(n.curve().segments());
        }
        int bends = part instanceof Part.Inductor l
                ? l.saturation().size()
                : part instanceof Part.Capacitor c ? c.bias().size() : 0;
        return bends == 0 ? 0 : Bends.width(2 * bends + 1);
    }

    /** Every node needs a path to ground, and one that does not lead through current sources alone. */
    private void checkPaths() {
        Groups all = new Groups();
        Groups voltages = new Groups();
        for (Part part : parts) {
            for (Port port : part.ports()) {
                all.join(port.plus(), port.minus());
                if (isCurrentSource(part)) {
                    voltages.find(port.plus());
                    voltages.find(port.minus());
                } else {
                    voltages.join(port.plus(), port.minus());
                }
            }
        }
        for (List<String> group : all.apartFromGround()) {
            faults.add("nodes " + String.join(", ", group) + ": no path to ground; connect one of them to \""
                    + Circuit.GROUND + "\" (an isolated side needs a reference too)");
        }
        for (List<String> group : voltages.apartFromGround()) {
            if (all.find(group.get(0)).equals(all.find(Circuit.GROUND))) {
                faults.add("nodes " + String.join(", ", group) + ": only the current sources " + sourcesAt(group)
                        + " lead to the rest of the circuit, so that their voltage is undetermined; add a path");
            }
        }
    }

    private String sourcesAt(List<String> group) {
        List<String> names = new ArrayList<>();
        for (Part part : parts) {
            for (Port port : part.ports()) {
                if (isCurrentSource(part) && group.contains(port.plus()) != group.contains(port.minus())) {
                    names.add(part.name());
                }
            }
        }
        return String.join(", ", names);
    }

    private static boolean isCurrentSource(Part part) {
        return part instanceof Part.CurrentSource
                || part instanceof ControlledSource.CurrentByVoltage
                || part instanceof ControlledSource.CurrentByCurrent;
    }

    private void checkVoltageLoops() {
        Groups groups = new Groups();
        List<String> before = new ArrayList<>();
        for (Part part : parts) {
            if (part instanceof Part.VoltageSource
                    || part instanceof ControlledSource.VoltageByVoltage
                    || part instanceof ControlledSource.VoltageByCurrent) {
                before.add(part.name());
                Port port = part.ports().get(0);
                if (!port.plus().equals(port.minus()) && !groups.join(port.plus(), port.minus())) {
                    faults.add(part.name() + ": closes a loop of voltage sources (among " + String.join(", ", before)
                            + "); put a resistance in the loop or leave a source out");
                }
            }
        }
    }

    private List<Port> ports() {
        return parts.stream().flatMap(part -> part.ports().stream()).toList();
    }

    /** Disjoint groups of nodes. */
    private static final class Groups {
        private final Map<String, String> leader = new LinkedHashMap<>();

        Groups() {
            leader.put(Circuit.GROUND, Circuit.GROUND);
        }

        String find(String node) {
            String above = leader.computeIfAbsent(node, same -> same);
            return above.equals(node) ? node : find(above);
        }

        /** False if both were in one group already. */
        boolean join(String a, String b) {
            String first = find(a);
            String second = find(b);
            leader.put(second, first);
            return !first.equals(second);
        }

        List<List<String>> apartFromGround() {
            Map<String, List<String>> groups = new LinkedHashMap<>();
            for (String node : leader.keySet()) {
                groups.computeIfAbsent(find(node), any -> new ArrayList<>()).add(node);
            }
            groups.remove(find(Circuit.GROUND));
            return List.copyOf(groups.values());
        }
    }
}
