/**
 * From what a rail is to do to its parts: which stage, which inductor and capacitor of the E-series, which compensator;
 * each proposal is checked by simulation at every corner of input and load.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.sizing;

import org.jspecify.annotations.NullMarked;
