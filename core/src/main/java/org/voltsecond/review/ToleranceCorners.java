package org.voltsecond.review;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageValue;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.study.Tolerance;
import org.voltsecond.units.Result;

/**
 * Corners of the tolerances at a corner of the operation: each value is moved to its upper end by itself, and what that does to a stress
 * says to which end it belongs. So a stress that rises or falls with each value finds its worst corner with one step for each value; of
 * others it is a corner all the same. Those steps are designs within the tolerances, and count too.
 *
 * @param tolerances how far values may be off
 * @param nominal the corner with its parts at their nominal values, where it has a steady state
 * @param found the steady state of a converter that stands at this corner
 */
record ToleranceCorners(
        List<Tolerance> tolerances, CornerState nominal, Function<Converter, Result<ConverterSteadyState>> found) {
    /** What changes a stress by a smaller share than this is not worth a word: no rating is known to a millionth. */
    private static final double LEAST = 1e-6;

    /**
     * Looks for the worst of some stresses.
     *
     * @param stresses each as a number that is the larger the worse
     */
    List<CornerState> worstOf(List<ToDoubleFunction<ConverterSteadyState>> stresses) {
        ConverterSteadyState steady = nominal.steady().get();
        List<CornerState> steps = tolerances.stream()
                .map(each -> at(Map.of(each.value(), end(each, 1))))
                .toList();
        Set<Map<StageValue, Double>> corners = new LinkedHashSet<>();
        for (ToDoubleFunction<ConverterSteadyState> stress : stresses) {
            double here = stress.applyAsDouble(steady);
            Map<StageValue, Double> corner = new LinkedHashMap<>();
            for (int k = 0; k < tolerances.size(); k++) {
                double up = steps.get(k).steady().map(stress::applyAsDouble).orElse(Double.NEGATIVE_INFINITY);
                Tolerance tolerance = tolerances.get(k);
                if (Math.abs(up - here) > LEAST * Math.abs(here)) {
                    corner.put(tolerance.value(), end(tolerance, up > here ? 1 : -1));
                }
            }
            corners.add(corner);
        }
        List<CornerState> all = new ArrayList<>(steps);
        steps.forEach(step -> corners.remove(step.values()));
        corners.stream().filter(corner -> !corner.isEmpty()).map(this::at).forEach(all::add);
        return all;
    }

    private double end(Tolerance tolerance, int sign) {
        return tolerance.value().in(nominal.steady().get().converter()) + sign * tolerance.halfWidth();
    }

    private CornerState at(Map<StageValue, Double> values) {
        Converter changed = nominal.steady().get().converter();
        try {
            for (Map.Entry<StageValue, Double> value : values.entrySet()) {
                changed = value.getKey().set(changed, value.getValue());
            }
            return new CornerState(nominal.corner(), values, found.apply(changed));
        } catch (InvalidStageException e) {
            return new CornerState(nominal.corner(), values, Result.missing(String.valueOf(e.getMessage())));
        }
    }
}
