package org.voltsecond.study;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.Load;
import org.voltsecond.engine.SwitchingException;

/**
 * The loop of a proposed regulator at every corner of input and load, each from the exact switching model. What fails is kept
 * beside what was found.
 *
 * <pre>{@code
 * LoopCheck check = loop.check(new SizingRange(9, 15), new SizingRange(0.05, 2)); // V in, A out
 * boolean stable = check.isStable(); // true
 * double least = check.worst().orElseThrow().margins().phaseMargin().orElseThrow(); // 58.9 degrees
 * }</pre>
 *
 * @param results the corners that can be reached, by input, then load
 * @param failures why the others cannot, by corner
 */
public record LoopCheck(List<LoopCornerResult> results, Map<SizingCorner, String> failures) {
    /** How far below the crossover wanted the loop gain is looked at: light loads cross over far earlier. */
    private static final double BELOW = 1e-3;

    private static final int POINTS_PER_DECADE = 20;

    static LoopCheck of(LoopProposal proposal, SizingRange input, SizingRange load) {
        List<LoopCornerResult> results = new ArrayList<>();
        Map<SizingCorner, String> failures = new LinkedHashMap<>();
        for (double volt : new TreeSet<>(List.of(input.low(), input.high()))) {
            for (double ampere : new TreeSet<>(List.of(load.low(), load.high()))) {
                SizingCorner corner = new SizingCorner(volt, ampere);
                try {
                    results.add(at(proposal, corner));
                } catch (NoSteadyStateException | SwitchingException e) {
                    failures.put(corner, String.valueOf(e.getMessage()));
                }
            }
        }
        return new LoopCheck(List.copyOf(results), Collections.unmodifiableMap(failures));
    }

    private static LoopCornerResult at(LoopProposal proposal, SizingCorner corner) {
        LoopTarget target = proposal.target();
        double output = target.reference() / proposal.divider();
        Converter converter = proposal.converter()
                .withInput(corner.inputVoltage())
                .withLoad(Load.resistor(output / corner.loadCurrent()));
        ConverterSteadyState steady = converter.steadyState();
        double[] frequencies = FrequencyResponse.decades(
                BELOW * target.crossover(), 0.5 / converter.regulator().clockPeriod(), POINTS_PER_DECADE);
        return new LoopCornerResult(
                corner,
                steady.conduction(),
                steady.smallSignal().loopGain(frequencies).margins(),
                steady.periodic().isStable());
    }

    /**
     * Tells whether the converter is stable at every corner.
     *
     * @return true if every corner was reached, and each steady state is stable
     */
    public boolean isStable() {
        return failures.isEmpty() && results.stream().allMatch(LoopCornerResult::stable);
    }

    /**
     * Returns the corner with the least phase margin; one that is not stable comes first.
     *
     * @return the corner; empty if none was reached
     */
    public Optional<LoopCornerResult> worst() {
        return results.stream()
                .min(Comparator.comparing(LoopCornerResult::stable)
                        .thenComparing(result -> result.margins().phaseMargin().orElse(Double.POSITIVE_INFINITY)));
    }
}
