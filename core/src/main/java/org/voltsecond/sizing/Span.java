package org.voltsecond.sizing;

/**
 * A range of an operating quantity.
 *
 * <pre>{@code
 * Span dutyCycle = proposal.dutyCycle(); // over the input range
 * double lowest = dutyCycle.low(); // 0.333
 * double highest = dutyCycle.high(); // 0.556
 * }</pre>
 *
 * @param low the lowest value, in the unit of the quantity
 * @param high the highest value, not below the lowest
 */
public record Span(double low, double high) {
    @Override
    public String toString() {
        return low + " to " + high;
    }
}
