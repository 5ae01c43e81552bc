package org.voltsecond.sizing;

/**
 * Limits of the controller and the inductor. They do not enter the proposal but are held against it.
 *
 * <pre>{@code
 * PracticalLimits controller = new PracticalLimits(0.85, nano(150), 4); // longest duty cycle, shortest on time, A
 * }</pre>
 *
 * @param dutyCycle the largest that the controller gives, more than 0 and at most 1; 1 for no limit
 * @param onTime the shortest that the controller gives, s; 0 for no limit
 * @param inductorPeak the highest current of the inductor, A; infinite for no limit
 */
public record PracticalLimits(double dutyCycle, double onTime, double inductorPeak) {
    /** No limits. */
    public static final PracticalLimits NONE = new PracticalLimits(1, 0, Double.POSITIVE_INFINITY);
}
