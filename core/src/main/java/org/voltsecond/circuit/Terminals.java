package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * What follows from the names of parts and nodes alone, so that all circuits that differ in values share it. Immutable.
 *
 * @param ports the pairs of terminals, in the order of the parts
 * @param nodes all nodes except ground, in the order in which the parts first name them
 * @param nodeIndex where a node stands among them
 * @param portIndex where a port stands among the ports
 * @param channelNames what each channel of a regime is: voltages of the nodes, then voltage and current of each port
 */
record Terminals(
        List<Port> ports,
        List<String> nodes,
        Map<String, Integer> nodeIndex,
        Map<String, Integer> portIndex,
        List<String> channelNames) {

    static Terminals of(List<Part> parts) {
        List<Port> ports = parts.stream().flatMap(part -> part.ports().stream()).toList();
        Set<String> found = new LinkedHashSet<>();
        Map<String, Integer> portIndex = new HashMap<>();
        for (Port port : ports) {
            found.add(port.plus());
            found.add(port.minus());
            portIndex.put(port.name(), portIndex.size());
        }
        found.remove(Circuit.GROUND);
        Map<String, Integer> nodeIndex = new HashMap<>();
        found.forEach(node -> nodeIndex.put(node, nodeIndex.size()));
        List<String> names = new ArrayList<>();
        found.forEach(node -> names.add("voltage of " + node));
        ports.forEach(port -> {
            names.add("voltage across " + port.name());
            names.add("current of " + port.name());
        });
        return new Terminals(List.copyOf(ports), List.copyOf(found), nodeIndex, portIndex, List.copyOf(names));
    }
}
