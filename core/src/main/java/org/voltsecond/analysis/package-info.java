/**
 * Transients, periodic steady state, conduction mode, losses and energy audit.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.analysis;

import org.jspecify.annotations.NullMarked;
