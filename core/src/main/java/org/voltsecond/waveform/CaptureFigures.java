package org.voltsecond.waveform;

import java.util.OptionalDouble;

/**
 * What a comparison with a capture compares, of either side.
 *
 * @param mean mean over whole periods, in the unit of the signal
 * @param ripple from the lowest to the highest value of a period; of a capture that of its averaged period, in which
 *     noise has mostly gone
 * @param frequency periods per second, Hz; empty where the capture does not tell it
 * @param dutyFactor share of the period for which the signal is above the middle of its two levels, 0 to 1 (of a buck
 *     stage's switch node the duty cycle, of a boost stage's 1 less it); empty for a signal without edges
 */
public record CaptureFigures(double mean, double ripple, OptionalDouble frequency, OptionalDouble dutyFactor) {}
