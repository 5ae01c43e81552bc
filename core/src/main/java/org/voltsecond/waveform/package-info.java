/**
 * Signals over a trajectory and everything that is measured on them, exactly: no measure is taken on a sampling grid.
 * A capture of an oscilloscope can be laid beside them.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.waveform;

import org.jspecify.annotations.NullMarked;
