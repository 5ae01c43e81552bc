package org.voltsecond.examples.report;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.converter.ConverterTransient;

/** What everybody who builds after these figures must have read. */
public final class Cautions {
    private static final List<String> LINES = List.of(
            "Inductors and capacitors store energy after the supply is off: discharge them before you touch the circuit.",
            "Voltages above the limits of extra-low voltage can kill, and a boost stage makes them from a low input.",
            "A simulation is no safety approval: parts fail in ways that it does not know. Local codes and the judgement of "
                    + "a licensed engineer prevail.");

    static final String CONSTANT_CURRENT =
            "The constant-current load draws its current at any output voltage, 0 V and the "
                    + "wrong side of ground included, which no real load does.";

    private Cautions() {}

    /**
     * Returns the cautions that hold for every design.
     *
     * @return one sentence or two each
     */
    public static List<String> general() {
        return LINES;
    }

    /** The cautions for one design. */
    static List<String> of(Outcome outcome) {
        List<String> lines = new ArrayList<>(LINES);
        if (drawsConstantCurrent(outcome)) {
            lines.add(CONSTANT_CURRENT);
        }
        return lines;
    }

    static boolean drawsConstantCurrent(Outcome outcome) {
        Found<TransientOutcome> found = outcome.transientRun();
        boolean draws = outcome.converter().load().isConstantCurrent();
        if (found != null && found.exists()) {
            ConverterTransient run = found.get().run();
            for (int k = 1; k <= run.changes().size(); k++) {
                draws |= run.after(k).load().isConstantCurrent();
            }
        }
        return draws;
    }
}
