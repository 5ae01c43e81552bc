/** Signals over a trajectory: the value anywhere, and exact mean, RMS, extremes and crossings. */
@NullMarked
package org.voltsecond.waveform;

import org.jspecify.annotations.NullMarked;
