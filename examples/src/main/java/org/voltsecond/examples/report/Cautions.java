package org.voltsecond.examples.report;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.examples.design.Design;

/** What everybody who builds after these figures must have read. */
final class Cautions {
    private static final List<String> LINES = List.of(
            "Inductors and capacitors store energy after the supply is off: discharge them before you touch the circuit.",
            "Voltages above the limits of extra-low voltage can kill, and a boost stage makes them from a low input.",
            "A simulation is no safety approval: parts fail in ways that it does not know. Local codes and the judgement of "
                    + "a licensed engineer prevail.");

    private static final String CONSTANT_CURRENT = "The constant-current load draws its current at any output voltage, 0 V and the "
            + "wrong side of ground included, which no real load does.";

    private Cautions() {}

    static List<String> of(Design design) {
        List<String> lines = new ArrayList<>(LINES);
        if (design.load().isConstantCurrent()) {
            lines.add(CONSTANT_CURRENT);
        }
        return lines;
    }
}
