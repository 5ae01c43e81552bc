/**
 * SI prefixes, quantities in engineering notation, series of preferred values, and numbers as text of JSON.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.units;

import org.jspecify.annotations.NullMarked;
