package org.voltsecond.study;

import java.util.List;
import java.util.concurrent.CancellationException;
import org.voltsecond.units.Result;

/**
 * What a study found, in the order of its designs. Immutable if designs and values are.
 *
 * <pre>{@code
 * StudyResults<Double, Conduction> modes = Study.of(
 *                 List.of(2.5, 100.0), ohm -> rail.withLoad(Load.resistor(ohm)).steadyState().conduction())
 *         .run();
 * boolean complete = modes.isComplete(); // true
 * Conduction second = modes.values().get(1); // DISCONTINUOUS
 * }</pre>
 *
 * @param <D> a design
 * @param <R> what is found for each design
 * @param designs the designs
 * @param results what was found for each, in the same order, or why nothing was
 * @param skipped how many designs were not run, since the study was cancelled before their turn
 */
public record StudyResults<D, R>(List<D> designs, List<Result<R>> results, int skipped) {
    /**
     * Creates the results.
     *
     * @param designs the designs
     * @param results what was found for each, in the same order
     * @param skipped how many designs were not run
     * @throws IllegalArgumentException if there are not as many results as designs
     */
    public StudyResults {
        designs = List.copyOf(designs);
        results = List.copyOf(results);
        if (designs.size() != results.size()) {
            throw new IllegalArgumentException("every design has one result, but there are " + designs.size()
                    + " designs and " + results.size() + " results");
        }
    }

    /**
     * Returns the values that were found.
     *
     * @return those of the designs that neither failed nor were skipped, in order
     */
    public List<R> values() {
        return results.stream().filter(Result::exists).map(Result::get).toList();
    }

    /**
     * Returns how many designs failed.
     *
     * @return the number, those skipped not counted
     */
    public int failures() {
        return (int) results.stream().filter(result -> !result.exists()).count() - skipped;
    }

    /**
     * Tells whether every design was run.
     *
     * @return false if the study was cancelled before its end
     */
    public boolean isComplete() {
        return skipped == 0;
    }

    /**
     * Returns these results if every design was run.
     *
     * @return the same
     * @throws CancellationException if the study was cancelled before its end
     */
    public StudyResults<D, R> complete() {
        if (!isComplete()) {
            throw new CancellationException(
                    "the study was cancelled with " + skipped + " of " + designs.size() + " designs not run");
        }
        return this;
    }
}
