/**
 * SI prefixes, quantities in engineering notation, and series of preferred values.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.units;

import org.jspecify.annotations.NullMarked;
