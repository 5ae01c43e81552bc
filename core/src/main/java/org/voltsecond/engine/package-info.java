/**
 * The piecewise-affine system: exact flow, guards, certified events and the trajectory. No word of electricity.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.engine;

import org.jspecify.annotations.NullMarked;
