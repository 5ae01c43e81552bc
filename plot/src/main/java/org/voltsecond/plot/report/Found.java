package org.voltsecond.plot.report;

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
    /**
     * Wraps a result.
     *
     * @param value the result
     * @param <T> what was looked for
     * @return found
     */
    public static <T> Found<T> of(T value) {
        return new Found<>(value, "");
    }

    /**
     * Tells that there is no result.
     *
     * @param reason why
     * @param <T> what was looked for
     * @return not found
     */
    public static <T> Found<T> missing(String reason) {
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

    /**
     * Goes on from a result, or carries the reason on.
     *
     * @param conversion what to make of the result
     * @param <R> what that gives
     * @return the new result, or the same reason
     */
    public <R> Found<R> map(Function<T, R> conversion) {
        return value == null ? missing(reason) : of(conversion.apply(value));
    }
}
