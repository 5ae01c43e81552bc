package org.voltsecond.sizing;

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
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The loop of a regulated converter at every corner of input and load, each from the exact switching model. What fails is kept
 * beside what was found.
 *
 * <pre>{@code
 * LoopProposal loop = LoopProposal.of(rail, LoopTarget.of(kilo(20), 60)); // Hz, degrees
 * LoopCheck check = loop.check(new Span(9, 15), new Span(0.05, 2)); // V in, A out
 * boolean stable = check.isStable(); // true
 * double least = check.worst().orElseThrow().margins().phaseMargin().orElseThrow(); // 36.4 degrees
 * }</pre>
 *
 * @param results the corners that can be reached, by input, then load
 * @param failures why the others cannot, by corner
 */
public record LoopCheck(List<LoopCornerResult> results, Map<Corner, String> failures) {
    /** From where on the loop gain is looked at, in switching frequencies: light loads cross over early. */
    private static final double LOWEST = 1e-5;

    /** A loop gain of less, at the lowest frequency, is none: duty cycle or control voltage are held at a limit. */
    private static final double OPEN = 0.01;

    private static final int POINTS_PER_DECADE = 20;

    /**
     * Works out the loop at every corner.
     *
     * @param regulated a converter whose clocked regulator feeds its output back
     * @param input range of the input voltage, V; more than 0
     * @param load range of the load current at the output of this converter, A; more than 0
     * @return the check
     * @throws NoSteadyStateException if the converter itself has no steady state
     * @throws IllegalStateException if it is not regulated
     */
    public static LoopCheck of(Converter regulated, Span input, Span load) {
        double clockPeriod = regulated.regulator().clockPeriod();
        double[] frequencies = FrequencyResponse.decades(LOWEST / clockPeriod, 0.5 / clockPeriod, POINTS_PER_DECADE);
        ConverterSteadyState guide = regulated.steadyState();
        double output = Math.abs(guide.of(regulated.outputVoltage()).mean());
        List<LoopCornerResult> results = new ArrayList<>();
        Map<Corner, String> failures = new LinkedHashMap<>();
        for (double volt : new TreeSet<>(List.of(input.low(), input.high()))) {
            for (double ampere : new TreeSet<>(List.of(load.low(), load.high()))) {
                Corner corner = new Corner(volt, ampere);
                Converter there =
                        regulated.withInput(volt).withLoad(regulated.load().drawing(ampere, output));
                try {
                    ConverterSteadyState steady = there.steadyStateNear(guide);
                    FrequencyResponse gain = steady.smallSignal().loopGain(frequencies);
                    if (gain.magnitude(0) < OPEN) {
                        failures.put(corner, atItsLimit(steady, output));
                    } else {
                        results.add(at(corner, steady, gain));
                    }
                } catch (NoSteadyStateException | SwitchingException | IllegalStateException e) {
                    failures.put(corner, String.valueOf(e.getMessage()));
                }
            }
        }
        return new LoopCheck(List.copyOf(results), Collections.unmodifiableMap(failures));
    }

    private static String atItsLimit(ConverterSteadyState steady, double output) {
        double reached = steady.of(steady.converter().outputVoltage()).mean();
        return "the regulator is at its limit: the output is " + Quantity.format(Math.abs(reached), Unit.VOLT, 4)
                + " in place of " + Quantity.format(output, Unit.VOLT, 4)
                + ", and nothing of a change of it is fed back";
    }

    private static LoopCornerResult at(Corner corner, ConverterSteadyState steady, FrequencyResponse gain) {
        return new LoopCornerResult(corner, steady.conduction(), gain.margins());
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

    /** {@return whether the loop is stable at every corner, then each corner on a line of its own} */
    @Override
    public String toString() {
        StringBuilder text = new StringBuilder(isStable() ? "stable at every corner" : "not stable at every corner");
        results.forEach(result -> text.append("\n  ").append(result));
        failures.forEach((corner, reason) -> text.append("\n  " + corner + ": " + reason));
        return text.toString();
    }
}
