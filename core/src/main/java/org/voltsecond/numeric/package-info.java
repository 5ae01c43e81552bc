/**
 * The numerics that several floors need, once: dense real and complex algebra, polynomials, one-dimensional searches, and
 * what counts as round-off. No word of switching or of electricity.
 *
 * <p>Where the bits of a waveform depend on it, only {@code + - * /}, {@code sqrt} and {@code StrictMath} are used, so that
 * they are the same on every Java machine; elsewhere the work is left to Hipparchus. No type of that library shows.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.numeric;

import org.jspecify.annotations.NullMarked;
