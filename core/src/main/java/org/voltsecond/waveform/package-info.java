/**
 * Signals over a trajectory and everything that is measured on them, exactly: no measure is taken on a sampling grid.
 */
@NullMarked
package org.voltsecond.waveform;

import org.jspecify.annotations.NullMarked;
