package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.figures.Figure;
import org.voltsecond.units.CsvText;
import org.voltsecond.waveform.Waveform;

/**
 * A proposal, or a converter as it is, at every corner of input and load, each the exact periodic steady state with the duty cycle
 * that gives the wanted output. What fails is kept beside what was found.
 *
 * <pre>{@code
 * PartsCheck check = proposal.check();
 * boolean passes = check.passes(); // true
 * CornerMargin tightest = check.binding().orElseThrow();
 * String limit = tightest.limit().label(); // "inductor ripple"
 * }</pre>
 *
 * @param results the corners that can be reached, by input, then load
 * @param failures why the others cannot, by corner
 * @param margins the distance to every limit at every corner that was reached, tightest first
 */
public record PartsCheck(List<CornerResult> results, Map<Corner, String> failures, List<CornerMargin> margins) {
    static PartsCheck of(PartsProposal proposal) {
        Specification wanted = proposal.specification();
        return of(wanted.requirements(), PartsProposal.inputs(wanted), proposal::converter);
    }

    /**
     * Checks a converter with the parts that it has: at every corner its input and its load are those of the corner, and the output is
     * held there, by the duty cycle of all its switches together, or by its regulator.
     *
     * @param converter the converter; its own input, load and duty cycle are changed, of the load the kind stays
     * @param wanted what it is to do
     * @return the check
     */
    public static PartsCheck of(Converter converter, CornerRequirements wanted) {
        return of(
                wanted,
                new TreeSet<>(List.of(wanted.input().low(), wanted.input().high())),
                corner -> converter
                        .withInput(corner.inputVoltage())
                        .withLoad(converter.load().drawing(corner.loadCurrent(), wanted.outputVoltage())));
    }

    private static PartsCheck of(
            CornerRequirements wanted, Collection<Double> inputs, Function<Corner, Converter> converters) {
        List<CornerResult> results = new ArrayList<>();
        Map<Corner, String> failures = new LinkedHashMap<>();
        List<CornerMargin> margins = new ArrayList<>();
        for (double input : inputs) {
            double fullCurrent = Double.NaN;
            for (double load : loads(wanted)) {
                Corner corner = new Corner(input, load);
                try {
                    Converter there = converters.apply(corner);
                    CornerResult result = at(corner, there, wanted.outputVoltage());
                    // Full load comes first: what is allowed at light load is a fraction of its current as well.
                    fullCurrent = load == wanted.load().high() ? result.inductorCurrent() : fullCurrent;
                    results.add(result);
                    margins.addAll(
                            margins(wanted, result, fullCurrent, there.driven().clockPeriod()));
                } catch (NoSteadyStateException | SwitchingException e) {
                    failures.put(corner, String.valueOf(e.getMessage()));
                }
            }
        }
        results.sort(Comparator.<CornerResult>comparingDouble(
                        result -> result.corner().inputVoltage())
                .thenComparingDouble(result -> result.corner().loadCurrent()));
        margins.sort(Comparator.comparingDouble(CornerMargin::margin));
        return new PartsCheck(List.copyOf(results), Collections.unmodifiableMap(failures), List.copyOf(margins));
    }

    private static Set<Double> loads(CornerRequirements wanted) {
        Set<Double> loads = new TreeSet<>(Comparator.reverseOrder());
        loads.add(wanted.load().high());
        loads.add(wanted.load().low());
        return loads;
    }

    private static CornerResult at(Corner corner, Converter there, double outputVoltage) {
        Converter stage = there.isRegulated() ? there : DutyCycleSearch.forOutput(there, outputVoltage);
        ConverterSteadyState steady = stage.steadyState();
        Waveform current = steady.of(stage.inductorCurrent());
        return new CornerResult(
                corner,
                stage.isRegulated() ? steady.dutyCycle() : stage.drive().dutyCycle(),
                steady.onTime(),
                steady.conduction(),
                current.mean(),
                current.peakToPeak(),
                current.maximum(),
                steady.of(stage.outputVoltage()).peakToPeak(),
                steady.efficiency().orElse(Double.NaN));
    }

    private static List<CornerMargin> margins(
            CornerRequirements wanted, CornerResult result, double fullCurrent, double clockPeriod) {
        List<CornerMargin> margins = new ArrayList<>();
        Corner corner = result.corner();
        if (!Double.isNaN(fullCurrent) && wanted.inductorRipple() < Double.POSITIVE_INFINITY) {
            margins.add(new CornerMargin(
                    corner, Criterion.INDUCTOR_RIPPLE, result.inductorRipple(), wanted.inductorRipple() * fullCurrent));
        }
        if (wanted.outputRipple() < Double.POSITIVE_INFINITY) {
            margins.add(
                    new CornerMargin(corner, Criterion.OUTPUT_RIPPLE, result.outputRipple(), wanted.outputRipple()));
        }
        PracticalLimits limits = wanted.limits();
        if (limits.dutyCycle() < 1) {
            margins.add(new CornerMargin(corner, Criterion.DUTY_CYCLE, result.dutyCycle(), limits.dutyCycle()));
        }
        if (limits.onTime() > 0) {
            margins.add(new CornerMargin(corner, Criterion.ON_TIME, result.onTime(), limits.onTime()));
        }
        if (limits.offTime() > 0) {
            double offTime = (1 - result.dutyCycle()) * clockPeriod;
            margins.add(new CornerMargin(corner, Criterion.OFF_TIME, offTime, limits.offTime()));
        }
        if (limits.leastDutyCycle() > 0 && corner.loadCurrent() == wanted.load().high()) {
            margins.add(
                    new CornerMargin(corner, Criterion.LEAST_DUTY_CYCLE, result.dutyCycle(), limits.leastDutyCycle()));
        }
        if (limits.inductorPeak() < Double.POSITIVE_INFINITY) {
            margins.add(
                    new CornerMargin(corner, Criterion.INDUCTOR_PEAK, result.inductorPeak(), limits.inductorPeak()));
        }
        return margins;
    }

    /**
     * Returns what binds: the figure nearest to, or farthest beyond, its limit.
     *
     * @return corner, limit and by how much; empty if no corner could be reached
     */
    public Optional<CornerMargin> binding() {
        return margins.stream().findFirst();
    }

    /**
     * Returns what binds for one limit.
     *
     * @param limit the limit
     * @return its tightest corner; empty if the limit was not asked for or no corner was reached
     */
    public Optional<CornerMargin> binding(Criterion limit) {
        return margins.stream().filter(margin -> margin.limit() == limit).findFirst();
    }

    /**
     * Returns whether every corner can be reached and every limit is met there.
     *
     * @return true if so
     */
    public boolean passes() {
        return failures.isEmpty() && margins.stream().allMatch(CornerMargin::isMet);
    }

    boolean violates(Criterion limit) {
        return binding(limit).map(margin -> !margin.isMet()).orElse(false);
    }

    /**
     * Returns the corners as a table of comma-separated values, one line for each.
     *
     * @return the text; a corner that cannot be reached has empty cells and the reason in its last one
     */
    public String toCsv() {
        List<Figure<CornerResult>> figures = CornerResult.figures();
        List<String> headings = new ArrayList<>();
        figures.forEach(figure -> headings.add(CsvText.heading(figure.words(), figure.unit())));
        headings.addAll(List.of("conduction", "reason"));
        StringBuilder table = new StringBuilder(CsvText.line(headings));
        for (CornerResult result : results) {
            List<String> cells = new ArrayList<>();
            figures.forEach(figure -> cells.add(CsvText.number(figure.in(result))));
            cells.addAll(List.of(result.conduction().name().toLowerCase(Locale.ROOT), ""));
            table.append(CsvText.line(cells));
        }
        failures.forEach((corner, reason) -> {
            List<String> cells = new ArrayList<>(Collections.nCopies(headings.size(), ""));
            cells.set(0, CsvText.number(corner.inputVoltage()));
            cells.set(1, CsvText.number(corner.loadCurrent()));
            cells.set(headings.size() - 1, CsvText.text(reason));
            table.append(CsvText.line(cells));
        });
        return table.toString();
    }

    /** {@return whether all limits are met and what binds, then each corner on a line of its own} */
    @Override
    public String toString() {
        StringBuilder text = new StringBuilder(passes() ? "all limits met" : "not all limits met");
        binding().ifPresent(tightest -> text.append("; tightest: ").append(tightest));
        results.forEach(result -> text.append("\n  ").append(result));
        failures.forEach((corner, reason) -> text.append("\n  " + corner + ": " + reason));
        return text.toString();
    }
}
