package org.voltsecond.study;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CancellationException;

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
 * @param outcomes what became of each, in the same order
 */
public record StudyResults<D, R>(List<D> designs, List<Outcome<R>> outcomes) {
    /**
     * Creates the results.
     *
     * @param designs the designs
     * @param outcomes what became of each, in the same order
     * @throws IllegalArgumentException if there are not as many outcomes as designs
     */
    public StudyResults {
        designs = List.copyOf(designs);
        outcomes = List.copyOf(outcomes);
        if (designs.size() != outcomes.size()) {
            throw new IllegalArgumentException("every design has one outcome, but there are " + designs.size()
                    + " designs and " + outcomes.size() + " outcomes");
        }
    }

    /**
     * Returns the values that were found.
     *
     * @return those of the designs that neither failed nor were skipped, in order
     */
    public List<R> values() {
        return outcomes.stream().map(Outcome::value).flatMap(Optional::stream).toList();
    }

    /**
     * Returns how many designs failed.
     *
     * @return the number, those skipped not counted
     */
    public int failures() {
        return (int) outcomes.stream().filter(Outcome.Failed.class::isInstance).count();
    }

    /**
     * Tells whether every design was run.
     *
     * @return false if the study was cancelled before its end
     */
    public boolean isComplete() {
        return outcomes.stream().noneMatch(Outcome.Skipped.class::isInstance);
    }

    /**
     * Returns these results if every design was run.
     *
     * @return the same
     * @throws CancellationException if the study was cancelled before its end
     */
    public StudyResults<D, R> complete() {
        if (!isComplete()) {
            long skipped =
                    outcomes.stream().filter(Outcome.Skipped.class::isInstance).count();
            throw new CancellationException(
                    "the study was cancelled with " + skipped + " of " + designs.size() + " designs not run");
        }
        return this;
    }
}
