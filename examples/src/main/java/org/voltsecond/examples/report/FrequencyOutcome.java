package org.voltsecond.examples.report;

import java.util.List;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.converter.ConverterSmallSignal;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.examples.design.FrequencyPlan;

/**
 * How a regulated design answers to small signals.
 *
 * @param loopGain the gain around the loop; all zero where the inductor current has a fixed command
 * @param controlToOutput output voltage over control voltage, the loop taken as open
 * @param lineToOutput output voltage over input voltage, the loop closed
 * @param outputImpedance with the loop closed and the load in parallel
 */
public record FrequencyOutcome(
        FrequencyResponse loopGain,
        FrequencyResponse controlToOutput,
        FrequencyResponse lineToOutput,
        FrequencyResponse outputImpedance) {
    static FrequencyOutcome of(ConverterSteadyState steady, FrequencyPlan plan) {
        ConverterSmallSignal small = steady.smallSignal();
        double[] grid = FrequencyResponse.decades(plan.from(), plan.to(), plan.pointsPerDecade());
        return new FrequencyOutcome(
                small.loopGain(grid),
                small.controlToOutput(grid),
                small.lineToOutput(grid),
                small.outputImpedance(grid));
    }

    /** Whether the output is fed back at all. */
    boolean hasLoop() {
        return loopGain.peak().magnitude() > 1e-9;
    }

    /** In the order of the columns of the file. */
    List<FrequencyResponse> all() {
        return List.of(loopGain, controlToOutput, lineToOutput, outputImpedance);
    }
}
