package org.voltsecond.plot.page;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;

/**
 * What stands in one place of a schematic: parts side by side between the same two nodes, the windings of a transformer, or
 * an amplifier.
 *
 * @param kind which of these
 * @param branches what lies between two nodes; of an amplifier its inputs, plus first, and its output as the plus of a second
 */
record SchematicItem(Kind kind, List<Branch> branches) {
    /** What stands in one place. */
    enum Kind {
        PAIR,
        WINDINGS,
        AMPLIFIER
    }

    /** A symbol with the nodes of its first and its second terminal. */
    record Branch(Symbol symbol, String plus, String minus) {
        boolean isGrounded() {
            return plus.equals(Circuit.GROUND) || minus.equals(Circuit.GROUND);
        }
    }

    /** All of a circuit but what carries no current whatever happens. */
    static List<SchematicItem> of(Circuit circuit) {
        List<SchematicItem> items = new ArrayList<>();
        Map<Set<String>, List<Branch>> pairs = new LinkedHashMap<>();
        Set<String> amplifiers = new LinkedHashSet<>();
        for (Part part : circuit.parts()) {
            String amplifier = amplifierOf(part.name(), circuit);
            if (!amplifier.isEmpty()) {
                amplifiers.add(amplifier);
            } else if (part.ports().size() > 1) {
                items.add(new SchematicItem(Kind.WINDINGS, windings(part)));
            } else if (Symbol.isVisible(part)) {
                Port port = part.ports().get(0);
                Branch branch = new Branch(Symbol.of(part), port.plus(), port.minus());
                pairs.computeIfAbsent(Set.copyOf(Arrays.asList(port.plus(), port.minus())), nodes -> new ArrayList<>())
                        .add(branch);
            }
        }
        pairs.values().forEach(branches -> items.add(new SchematicItem(Kind.PAIR, branches)));
        amplifiers.forEach(name -> items.add(amplifier(name, circuit)));
        return items;
    }

    /** The name of the symbol of a port. */
    static String symbolOf(Port port, Circuit circuit) {
        Part part = circuit.part(port.part());
        return part.ports().size() > 1
                ? part.name() + " " + port.name().substring(part.name().length() + 1)
                : port.name();
    }

    /** The same with other symbols, but for amplifiers, which have no room for more than their name. */
    SchematicItem with(UnaryOperator<Symbol> change) {
        return kind == Kind.AMPLIFIER
                ? this
                : new SchematicItem(
                        kind,
                        branches.stream()
                                .map(branch -> new Branch(change.apply(branch.symbol), branch.plus, branch.minus))
                                .toList());
    }

    private static List<Branch> windings(Part part) {
        List<Branch> branches = new ArrayList<>();
        for (int k = 0; k < part.ports().size(); k++) {
            Port port = part.ports().get(k);
            branches.add(new Branch(Symbol.ofWinding(part, k), port.plus(), port.minus()));
        }
        return branches;
    }

    /** The name of the amplifier that a part is a piece of; empty if it is none. */
    private static String amplifierOf(String part, Circuit circuit) {
        int dot = part.indexOf('.');
        String name = dot < 0 ? "" : part.substring(0, dot);
        boolean amplifies =
                circuit.parts().stream().anyMatch(other -> other.name().equals(name + ".transconductor"));
        return dot > 0 && amplifies ? name : "";
    }

    /** Its pieces are a model that nobody solders; what is drawn is what they stand for. */
    private static SchematicItem amplifier(String name, Circuit circuit) {
        ControlledSource.CurrentByVoltage first =
                (ControlledSource.CurrentByVoltage) circuit.part(name + ".transconductor");
        String output = first.to();
        for (Part part : circuit.parts()) {
            if (part.name().equals(name + ".buffer")) {
                output = output.equals(first.to()) ? part.ports().get(0).plus() : output;
            } else if (part.name().equals(name + ".output")) {
                output = part.ports().get(0).minus();
            }
        }
        Symbol symbol = Symbol.ofAmplifier(name);
        return new SchematicItem(
                Kind.AMPLIFIER,
                List.of(
                        new Branch(symbol, first.controlPlus(), first.controlMinus()),
                        new Branch(symbol, output, output)));
    }

    /** The nodes, each once, without ground. */
    Set<String> nodes() {
        Set<String> nodes = new LinkedHashSet<>();
        for (Branch branch : branches) {
            nodes.addAll(List.of(branch.plus, branch.minus));
        }
        nodes.remove(Circuit.GROUND);
        return nodes;
    }

    boolean isPair() {
        return kind == Kind.PAIR;
    }

    boolean isGrounded() {
        return branches.get(0).isGrounded();
    }
}
