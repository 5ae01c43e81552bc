package org.voltsecond.design;

import org.voltsecond.bench.Capture;

/**
 * A capture to lay beside the steady state or the transient.
 *
 * @param file the file as the design names it
 * @param signal the signal that was captured, under its name in the figures
 * @param againstTransient true to compare with the transient, false with the steady state
 * @param capture what was measured
 */
public record BenchPlan(String file, String signal, boolean againstTransient, Capture capture) {}
