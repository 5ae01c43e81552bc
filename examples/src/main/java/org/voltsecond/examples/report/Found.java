package org.voltsecond.examples.report;

import java.util.Objects;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * A result, or the reason why there is none.
 *
 * @param value the result, or null
 * @param reason why there is none; empty if there is one
 * @param <T> what was looked for
 */
public record Found<T>(@Nullable T value, String reason) {
    static <T> Found<T> of(T value) {
        return new Found<>(value, "");
    }

    static <T> Found<T> missing(String reason) {
        return new Found<>(null, reason);
    }

    /**
     * Tells whether there is a result.
     *
     * @return true if there is
     */
    public boolean exists() {
        return value != null;
    }

    /**
     * Returns the result.
     *
     * @return the result
     * @throws NullPointerException if there is none
     */
    public T get() {
        return Objects.requireNonNull(value, reason);
    }

    <R> Found<R> map(Function<T, R> conversion) {
        return value == null ? missing(reason) : of(conversion.apply(value));
    }
}
