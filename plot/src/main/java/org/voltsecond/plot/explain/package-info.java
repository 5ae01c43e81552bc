/**
 * Pictures that explain how a stage works: where the current flows, why the output is what it is, who feeds a step of the
 * load. Each comes with its numbers as a record, so that a program can read what the picture shows.
 *
 * <p>Three balances carry the explanation of every stage in a steady state. Over one period the inductor voltage integrates to
 * zero (volt-seconds, or flux), the capacitor current integrates to zero (charge), and an inductor hands on the energy that it
 * took up. Source: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, section 2.2 (from
 * memory).
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot.explain;

import org.jspecify.annotations.NullMarked;
