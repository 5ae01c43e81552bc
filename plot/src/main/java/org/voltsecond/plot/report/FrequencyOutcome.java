package org.voltsecond.plot.report;

import java.util.List;
import java.util.stream.IntStream;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.converter.ConverterSmallSignal;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.design.FrequencyPlan;

/**
 * How a regulated design answers to small signals.
 *
 * @param loopGain the gain around the loop; all zero where no loop is closed
 * @param controlToOutput output voltage over control voltage, the loop taken as open
 * @param lineToOutput output voltage over input voltage, the loop closed
 * @param outputImpedance with the loop closed and the load in parallel
 * @param margins those of the loop gain; each is searched for anew, so they are worked out once
 * @param highestImpedance where the output impedance is largest
 * @param whyOpen why no loop is closed, where {@link #hasLoop()} says so
 */
record FrequencyOutcome(
        FrequencyResponse loopGain,
        FrequencyResponse controlToOutput,
        FrequencyResponse lineToOutput,
        FrequencyResponse outputImpedance,
        Margins margins,
        FrequencyResponse.Peak highestImpedance,
        String whyOpen) {
    private static final double NOTHING = 1e-9;

    static FrequencyOutcome of(ConverterSteadyState steady, FrequencyPlan plan) {
        ConverterSmallSignal small = steady.smallSignal();
        double[] grid = FrequencyResponse.decades(plan.from(), plan.to(), plan.pointsPerDecade());
        FrequencyResponse loopGain = small.loopGain(grid);
        FrequencyResponse impedance = small.outputImpedance(grid);
        return new FrequencyOutcome(
                loopGain,
                small.controlToOutput(grid),
                small.lineToOutput(grid),
                impedance,
                loopGain.margins(),
                impedance.peak(),
                whyOpen(steady));
    }

    private static String whyOpen(ConverterSteadyState steady) {
        return steady.regulation()
                .flatMap(OutputRegulation::heldBy)
                .map(limiter -> "the loop does not act, since " + limiter.words())
                .orElse("the inductor current has a fixed command, so that no loop is closed");
    }

    /** Whether the output is fed back at all. */
    boolean hasLoop() {
        return IntStream.range(0, loopGain.size()).anyMatch(i -> loopGain.magnitude(i) > NOTHING);
    }

    /** In the order of the columns of the file. */
    List<FrequencyResponse> all() {
        return List.of(loopGain, controlToOutput, lineToOutput, outputImpedance);
    }
}
