/**
 * Pictures of waveforms and figures: stacked traces on one time axis, bars and lines, frequency responses, losses and
 * operating maps, as PNG and SVG.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.plot;

import org.jspecify.annotations.NullMarked;
