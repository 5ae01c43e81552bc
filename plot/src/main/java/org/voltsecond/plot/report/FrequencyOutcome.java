package org.voltsecond.plot.report;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.IntStream;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.converter.ConverterSmallSignal;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.design.FrequencyPlan;
import org.voltsecond.numeric.Complex;
import org.voltsecond.units.Result;

/**
 * How a design answers to small signals.
 *
 * @param loopGain the gain around the loop; all zero where no loop is closed
 * @param controlToOutput output voltage over control voltage, the loop taken as open
 * @param lineToOutput output voltage over input voltage, the loop closed
 * @param outputImpedance with the loop closed and the load in parallel
 * @param margins those of the loop gain; each is searched for anew, so they are worked out once
 * @param highestImpedance where the output impedance is largest
 * @param whyOpen why no loop is closed, where {@link #hasLoop()} says so
 * @param input what lies between source and stage against the input of the converter, or why there is nothing to tell
 */
record FrequencyOutcome(
        FrequencyResponse loopGain,
        FrequencyResponse controlToOutput,
        FrequencyResponse lineToOutput,
        FrequencyResponse outputImpedance,
        Margins margins,
        FrequencyResponse.Peak highestImpedance,
        String whyOpen,
        Result<InputOutcome> input) {
    private static final double NOTHING = 1e-9;

    static FrequencyOutcome of(ConverterSteadyState steady, FrequencyPlan plan) {
        ConverterSmallSignal small = steady.smallSignal();
        double[] grid = FrequencyResponse.decades(plan.from(), plan.to(), plan.pointsPerDecade());
        FrequencyResponse loopGain = steady.converter().isRegulated()
                ? small.loopGain(grid)
                : FrequencyResponse.of("loop gain", "", grid, f -> Complex.ZERO);
        FrequencyResponse impedance = small.outputImpedance(grid);
        return new FrequencyOutcome(
                loopGain,
                small.controlToOutput(grid),
                small.lineToOutput(grid),
                impedance,
                loopGain.margins(),
                impedance.peak(),
                whyOpen(steady),
                InputOutcome.of(steady, grid));
    }

    private static String whyOpen(ConverterSteadyState steady) {
        if (!steady.converter().isRegulated()) {
            return "the duty cycle is fixed, so that no loop is closed";
        }
        return steady.regulation()
                .flatMap(OutputRegulation::heldBy)
                .map(limiter -> "the loop does not act, since " + limiter.words())
                .orElse("the inductor current has a fixed command, so that no loop is closed");
    }

    /** Whether the output is fed back at all. */
    boolean hasLoop() {
        return IntStream.range(0, loopGain.size()).anyMatch(i -> loopGain.magnitude(i) > NOTHING);
    }

    /** By the names of the columns of the file, in their order. */
    Map<String, FrequencyResponse> all() {
        Map<String, FrequencyResponse> all = new LinkedHashMap<>();
        all.put("loop_gain", loopGain);
        all.put("control_to_output", controlToOutput);
        all.put("line_to_output", lineToOutput);
        all.put("output_impedance", outputImpedance);
        input.ifExists(found -> all.putAll(found.curves()));
        return all;
    }
}
