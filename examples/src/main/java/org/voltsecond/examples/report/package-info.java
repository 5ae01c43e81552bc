/**
 * What a design does, worked out and written: figures as JSON, waveforms as CSV, pictures, a table for the terminal.
 *
 * <p>An object of the figures that holds a null also holds a {@code reason}. A change of the transient is judged by the
 * magnitude of the output: {@code droop} and {@code overshoot} count from {@code level_before}, the mean over the period
 * before the change, with the ripple in them; {@code settling_time} is the time after which the output stays within
 * {@code settling_band} of {@code level_after}, the mean in the steady state to which the change leads.
 */
@NullMarked
package org.voltsecond.examples.report;

import org.jspecify.annotations.NullMarked;
