package org.voltsecond.bench;

import java.util.OptionalDouble;

/**
 * What a comparison with a capture compares, of either side.
 *
 * <pre>{@code
 * PeriodFigures measured = SteadyStateComparison.of(
 *                 Capture.sampled("channel 1", Unit.VOLT, 0, nano(10), samples), steady.of(rail.switchNode()))
 *         .measured();
 * double frequency = measured.frequency().orElseThrow(); // 300 kHz
 * double dutyFactor = measured.dutyFactor().orElseThrow(); // 0.45
 * }</pre>
 *
 * @param mean mean over whole periods, in the unit of the signal
 * @param ripple from the lowest to the highest value of a period; of a capture that of the average of its whole
 *     periods, in which of noise with RMS value s about 6 s / sqrt(number of periods) is left
 * @param frequency periods per second, Hz; empty where the capture does not tell it
 * @param dutyFactor share of the period for which the signal is above the middle of its two levels, 0 to 1 (of a buck
 *     stage's switch node the duty cycle, of a boost stage's 1 less it); empty for a signal without edges
 */
public record PeriodFigures(double mean, double ripple, OptionalDouble frequency, OptionalDouble dutyFactor) {}
