/**
 * Estimates, from data-sheet values, of the losses that ideal switching leaves out: overlap of voltage and current, charge of gates and of
 * outputs, reverse recovery, dead times, core of the inductor; and what they leave of the efficiency over load.
 *
 * <p>{@link org.voltsecond.losses.LossBudget} sums up one steady state, conduction exactly and everything else by a
 * {@linkplain org.voltsecond.losses.LossModel model}; {@link org.voltsecond.losses.EfficiencyCurve} goes over the load.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.losses;

import org.jspecify.annotations.NullMarked;
