package org.voltsecond.plot.report;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.units.Result;

/**
 * What everybody who builds after these figures must have read.
 *
 * <pre>{@code
 * Page page = Page.titled("Rail").cautions(Cautions.general());
 * }</pre>
 */
public final class Cautions {
    private static final List<String> LINES = List.of(
            "Inductors and capacitors store energy after the supply is off: discharge them before you touch the circuit.",
            "Voltages above the limits of extra-low voltage can kill, and a boost stage makes them from a low input.",
            "A simulation is no safety approval: parts fail in ways that it does not model. Local codes and the judgement of "
                    + "a licensed engineer prevail.");

    private static final String CONSTANT_CURRENT =
            "The constant-current load draws its current at any output voltage, 0 V and the "
                    + "wrong side of ground included, which no real load does.";

    private static final String ONE_SOFT_START =
            "The soft start of a compensator of parts raises the reference once, from the start of the run: after a hiccup "
                    + "or an under-voltage lock-out the converter starts anew with the reference already there. The soft "
                    + "start of a compensator given as a transfer function begins anew.";

    private Cautions() {}

    /**
     * Returns the cautions that hold for every design.
     *
     * @return one sentence or two each
     */
    public static List<String> general() {
        return LINES;
    }

    /**
     * Returns the cautions for one design.
     *
     * @param outcome what was found about it
     * @return those that hold for every design, and its own
     */
    public static List<String> of(Findings outcome) {
        List<String> lines = new ArrayList<>(LINES);
        lines.addAll(ofThisOne(outcome));
        return lines;
    }

    /** What holds for this design and not for every one. */
    static List<String> ofThisOne(Findings outcome) {
        List<String> lines = new ArrayList<>();
        if (drawsConstantCurrent(outcome)) {
            lines.add(CONSTANT_CURRENT);
        }
        if (outcome.design() != null
                && outcome.design().drive() instanceof Regulated regulated
                && regulated.startsAnewWithoutSoftStart()) {
            lines.add(ONE_SOFT_START);
        }
        return lines;
    }

    private static boolean drawsConstantCurrent(Findings outcome) {
        Result<TransientFigures> found = outcome.transientRun();
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
