package org.voltsecond.analysis;

import java.util.OptionalDouble;

/**
 * How far a loop is from instability, as read off its gain; each is empty where the frequencies that were asked for do not
 * hold it.
 *
 * <pre>{@code
 * double[] frequencies = FrequencyResponse.decades(100, kilo(100), 20);
 * Margins margins = regulated.steadyState().smallSignal().loopGain(frequencies).margins();
 * double phase = margins.phaseMargin().orElseThrow(); // 94.4 degrees
 * double gain = margins.gainMargin().orElseThrow(); // 14.2 dB
 * }</pre>
 *
 * @param crossoverFrequency the highest frequency at which the loop gain falls through one, Hz
 * @param phaseMargin phase of the loop gain there above -180 degrees, degrees from -180 to 180
 * @param phaseCrossoverFrequency where the loop gain is real and negative; of several the one at which its magnitude is
 *     nearest to one, Hz
 * @param gainMargin one over the magnitude there, dB; less than 0 where the gain would have to fall
 */
public record Margins(
        OptionalDouble crossoverFrequency,
        OptionalDouble phaseMargin,
        OptionalDouble phaseCrossoverFrequency,
        OptionalDouble gainMargin) {}
