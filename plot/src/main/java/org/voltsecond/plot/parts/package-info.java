/**
 * Pictures of parts as they are: what bends, rings, warms up, and what goes back into the supply.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot.parts;

import org.jspecify.annotations.NullMarked;
