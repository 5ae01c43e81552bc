package org.voltsecond.units;

import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * A value, or the reason why there is none: in words, as they stand behind "none: " in a table. Immutable if the value is.
 *
 * <pre>{@code
 * Result<Double> gain = Result.finite(20 * Math.log10(0), "the gain is 0");
 * boolean known = gain.exists(); // false
 * String why = gain.reason(); // "the gain is 0"
 * double width = Result.of(milli(2)).map(volt -> 2 * volt).get(); // 4 mV
 * }</pre>
 *
 * @param <T> what was looked for
 */
public final class Result<T> {
    private final @Nullable T value;
    private final String reason;
    private final @Nullable RuntimeException cause;

    private Result(@Nullable T value, String reason, @Nullable RuntimeException cause) {
        this.value = value;
        this.reason = reason;
        this.cause = cause;
    }

    /**
     * Wraps a value.
     *
     * @param value the value
     * @param <T> what was looked for
     * @return the value
     */
    public static <T> Result<T> of(T value) {
        return new Result<>(Objects.requireNonNull(value), "", null);
    }

    /**
     * Wraps a number if it is one.
     *
     * @param value the number
     * @param reason why there is none if the number is infinite or not a number
     * @return the number or the reason
     */
    public static Result<Double> finite(double value, String reason) {
        return Double.isFinite(value) ? of(value) : missing(reason);
    }

    /**
     * Tells that there is no value.
     *
     * @param reason why, in words
     * @param <T> what was looked for
     * @return the reason
     */
    public static <T> Result<T> missing(String reason) {
        return new Result<>(null, Objects.requireNonNull(reason), null);
    }

    /**
     * Tells that there is no value because something was thrown in its place.
     *
     * @param cause what was thrown; its message is the reason
     * @param <T> what was looked for
     * @return the reason
     */
    public static <T> Result<T> failed(RuntimeException cause) {
        String message = cause.getMessage();
        return new Result<>(null, message == null ? cause.getClass().getSimpleName() : message, cause);
    }

    /**
     * Tells whether there is a value.
     *
     * @return true if there is
     */
    public boolean exists() {
        return value != null;
    }

    /**
     * Returns the value.
     *
     * @return the value
     * @throws IllegalStateException if there is none; the message is the reason
     */
    public T get() {
        if (value == null) {
            throw new IllegalStateException(reason, cause);
        }
        return value;
    }

    /**
     * Returns the value or something else in its place.
     *
     * @param other what to take if there is no value
     * @return one of the two
     */
    public T orElse(T other) {
        return value == null ? other : value;
    }

    /**
     * Returns why there is no value.
     *
     * @return the reason; empty if there is a value
     */
    public String reason() {
        return reason;
    }

    /**
     * Returns what was thrown in place of a value.
     *
     * @return what was thrown; empty if nothing was, since there is a value or the reason is known in words alone
     */
    public Optional<RuntimeException> cause() {
        return Optional.ofNullable(cause);
    }

    /**
     * Goes on from a value, or carries the reason on.
     *
     * @param conversion what to make of the value
     * @param <R> what that gives
     * @return the new value, or the same reason
     */
    public <R> Result<R> map(Function<? super T, ? extends R> conversion) {
        return value == null ? new Result<>(null, reason, cause) : of(conversion.apply(value));
    }

    /**
     * Goes on from a value to one that need not exist, or carries the reason on.
     *
     * @param conversion what to make of the value
     * @param <R> what that gives
     * @return what the conversion gives, or the same reason
     */
    public <R> Result<R> flatMap(Function<? super T, Result<R>> conversion) {
        return value == null ? new Result<>(null, reason, cause) : conversion.apply(value);
    }

    /**
     * Does something with a value if there is one.
     *
     * @param action what to do
     */
    public void ifExists(Consumer<? super T> action) {
        if (value != null) {
            action.accept(value);
        }
    }

    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof Result<?> result && Objects.equals(result.value, value) && result.reason.equals(reason);
    }

    @Override
    public int hashCode() {
        return Objects.hash(value, reason);
    }

    /**
     * Returns the value as text, or the reason.
     *
     * @return for example "4.7" or "none: the load draws nothing"
     */
    @Override
    public String toString() {
        return value == null ? "none: " + reason : value.toString();
    }
}
