/**
 * What a design does, worked out and written: figures as JSON, waveforms as CSV, pictures, a report for the browser, a
 * table for the terminal.
 *
 * <p>An object of the figures that holds a null also holds a {@code reason}. A change of the transient is judged by the
 * magnitude of the output: {@code droop} and {@code overshoot} count from {@code level_before}, the mean over the period
 * before the change, with the ripple in them; {@code peak_time} is when the output is farthest from it, and {@code
 * peak_inductor_current} the highest inductor current until the next change; {@code settling_time} is the time after which
 * the output stays within {@code settling_band} of {@code level_after}, the mean in the steady state to which the change
 * leads, and {@code recovery_time} the part of it after the peak. {@code duty_cycle} is of the whole switching cycles until
 * the next change: the smallest, the largest, and the last. Where no clock drives the regulator a period or cycle is from the
 * start of a pulse to the start of the next.
 */
@NullMarked
package org.voltsecond.plot.report;

import org.jspecify.annotations.NullMarked;
