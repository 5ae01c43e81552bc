package org.voltsecond.engine;

import java.util.List;

/**
 * A piecewise-affine system: its states, its clock, and the discrete part that says which phase follows which.
 *
 * <p>{@link #next} must depend on nothing but its arguments, since a run may skip the call: if the phase that followed
 * the same phase and cause before has all its guards strictly positive, all its constraints met and its timed end still
 * ahead, it follows again by the same jump. After a scheduled change, and where the {@link Entry} was not repeatable,
 * the run always asks.
 *
 * <pre>{@code
 * Configuration rising = Configuration.builder("rising", new double[] {1}, 1)
 *         .dynamics(new double[][] {{0}}, new double[] {1})
 *         .build();
 * Phase tooth = new Phase(rising, 1, Double.POSITIVE_INFINITY);
 * AffineMap toZero = AffineMap.of(new double[][] {{0}}, new double[] {0});
 * SwitchingLaw saw = new SwitchingLaw() { // rises for a period, then begins anew
 *     public double[] scale() { return new double[] {1}; }
 *     public double clockPeriod() { return 1; }
 *     public List<ClockTime> changes() { return List.of(); }
 *     public Entry first(double[] state) { return Entry.of(tooth); }
 *     public Entry next(Phase ended, Cause by, double[] state, double sinceTick) { return new Entry(tooth, toZero); }
 * };
 * double value = Simulation.of(saw).finalState(new double[] {0}, 2.25)[0]; // 0.25
 * }</pre>
 */
public interface SwitchingLaw {
    /**
     * Returns the scale of every state: multiplied by it, states become comparable (for a circuit: the square root of
     * the inductance or capacitance, which makes the square of the scaled state twice an energy).
     *
     * @return one positive factor for each state
     */
    double[] scale();

    /**
     * Returns the clock period.
     *
     * @return the period, s
     */
    double clockPeriod();

    /**
     * Returns the instants of changes that are known in advance, in ascending order.
     *
     * @return the instants
     */
    List<ClockTime> changes();

    /**
     * Returns the phase in which a run starts, on a clock edge.
     *
     * @param state the state before, SI units; not to be kept or written
     * @return the first phase, and how the state jumps into it
     */
    Entry first(double[] state);

    /**
     * Returns the phase that follows.
     *
     * @param ended the phase that has ended
     * @param cause why it ended
     * @param state the state at its end, SI units; not to be kept or written
     * @param sinceTick time since the last clock edge, s; one clock period if a scheduled change falls on the next edge:
     *     the change comes before the edge, so that a phase that ends with the period ends right after it
     * @return the phase that follows, and how the state jumps into it
     * @throws SwitchingException if no phase can follow
     */
    Entry next(Phase ended, Cause cause, double[] state, double sinceTick);
}
