package org.voltsecond.study;

import java.util.Optional;

/**
 * What became of one design of a study. Immutable if the value is.
 *
 * <pre>{@code
 * List<org.voltsecond.study.Outcome<Double>> outcomes = Study.of(
 *                 List.of(9.0, 4.5), volt -> DutyCycleSearch.forOutput(rail.withInput(volt), 5).drive().dutyCycle())
 *         .run()
 *         .outcomes();
 * double found = outcomes.get(0).value().orElseThrow(); // 0.5927
 * String reason = outcomes.get(1).reason().orElseThrow(); // "no duty cycle gives 5 V..."
 * }</pre>
 *
 * @param <R> what a study finds for each design
 */
public sealed interface Outcome<R> permits Outcome.Found, Outcome.Failed, Outcome.Skipped {
    /**
     * Returns what was found.
     *
     * @return the value; empty if the design failed or was skipped
     */
    Optional<R> value();

    /**
     * Returns why nothing was found.
     *
     * @return the reason; empty if a value was found
     */
    Optional<String> reason();

    /**
     * A design that gave a value.
     *
     * @param <R> what a study finds for each design
     * @param found the value
     */
    record Found<R>(R found) implements Outcome<R> {
        @Override
        public Optional<R> value() {
            return Optional.of(found);
        }

        @Override
        public Optional<String> reason() {
            return Optional.empty();
        }
    }

    /**
     * A design that gave none.
     *
     * @param <R> what a study finds for each design
     * @param cause what went wrong
     */
    record Failed<R>(RuntimeException cause) implements Outcome<R> {
        @Override
        public Optional<R> value() {
            return Optional.empty();
        }

        @Override
        public Optional<String> reason() {
            String message = cause.getMessage();
            return Optional.of(message == null ? cause.getClass().getSimpleName() : message);
        }
    }

    /**
     * A design whose turn had not come when the study was cancelled.
     *
     * @param <R> what a study finds for each design
     */
    record Skipped<R>() implements Outcome<R> {
        @Override
        public Optional<R> value() {
            return Optional.empty();
        }

        @Override
        public Optional<String> reason() {
            return Optional.of("the study was cancelled before this design was run");
        }
    }
}
