/**
 * Estimates, from data-sheet values, of the losses that ideal switching leaves out: overlap of voltage and current, charge of gates and of
 * outputs, reverse recovery, dead times, core of the inductor; what they leave of the efficiency over load; and how hot they make the parts.
 *
 * <p>{@link org.voltsecond.losses.LossBudget} sums up one steady state, conduction exactly and everything else by a
 * {@linkplain org.voltsecond.losses.LossModel model}; {@link org.voltsecond.losses.EfficiencyCurve} goes over the load.
 *
 * <p>Temperatures: with T of each body, ambient T_a, thermal resistances R and losses P, {@link org.voltsecond.losses.HeatModel} solves
 * T = T_a + R P(T), where P is that of the steady state with the values that the parts have at T. The derivative of the losses is that by
 * part values times the slope of each value over the temperature. {@link org.voltsecond.losses.CapacitorStress} tells what the
 * currents of capacitors do to these.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.losses;

import org.jspecify.annotations.NullMarked;
