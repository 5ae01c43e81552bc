package org.voltsecond.sizing;

/**
 * Limits of the controller and the inductor. They do not enter the proposal but are held against it:
 * {@link PartsProposal#obstacles()} at full load, {@link PartsCheck} at every corner.
 *
 * <pre>{@code
 * PracticalLimits usual = PracticalLimits.USUAL;
 * double longest = usual.dutyCycle(); // 0.9
 * double shortest = usual.onTime(); // 100 ns
 * PracticalLimits controller = new PracticalLimits(0, 0.85, nano(150), nano(200), 4); // duty cycles, times, A
 * }</pre>
 *
 * @param leastDutyCycle the smallest that is asked of the controller at full load, from 0 to below 1; 0 for no limit
 * @param dutyCycle the largest that the controller gives, more than 0 and at most 1; 1 for no limit
 * @param onTime the shortest that the controller gives, s; 0 for no limit
 * @param offTime the shortest that the controller gives, s; 0 for no limit
 * @param inductorPeak the highest current of the inductor, A; infinite for no limit
 */
public record PracticalLimits(
        double leastDutyCycle, double dutyCycle, double onTime, double offTime, double inductorPeak) {
    /** No limits. */
    public static final PracticalLimits NONE = new PracticalLimits(0, 1, 0, 0, Double.POSITIVE_INFINITY);

    /**
     * What holds for a rail unless its file says otherwise; common practice, no source. Below a twentieth and beyond nine
     * tenths of the period one edge follows so closely upon the other that each nanosecond of delay moves the output, and a
     * stage that steps up has more of its power in resistances than at the output. A controller needs some 100 ns to blank the edge
     * of a pulse and to end it, and as long to open the switch for good.
     */
    public static final PracticalLimits USUAL =
            new PracticalLimits(0.05, 0.9, 100e-9, 100e-9, Double.POSITIVE_INFINITY);

    /**
     * Returns these limits with a duty cycle that is no longer than a stage bears.
     *
     * @param longest the longest duty cycle of the stage, more than 0 and at most 1
     * @return new limits
     */
    public PracticalLimits upTo(double longest) {
        return new PracticalLimits(leastDutyCycle, Math.min(dutyCycle, longest), onTime, offTime, inductorPeak);
    }
}
