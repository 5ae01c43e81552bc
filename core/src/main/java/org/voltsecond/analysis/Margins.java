package org.voltsecond.analysis;

import java.util.OptionalDouble;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

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
        OptionalDouble gainMargin) {
    /** {@return crossover and margins for a sentence; "no crossover" or "no gain margin" where there is none} */
    @Override
    public String toString() {
        String phase = crossoverFrequency.isEmpty() || phaseMargin.isEmpty()
                ? "no crossover"
                : "crossover " + Quantity.format(crossoverFrequency.getAsDouble(), Unit.HERTZ, 4) + ", phase margin "
                        + Quantity.format(phaseMargin.getAsDouble(), Unit.ONE, 4) + " degrees";
        return phase
                + (gainMargin.isEmpty()
                        ? ", no gain margin"
                        : ", gain margin " + Quantity.format(gainMargin.getAsDouble(), Unit.ONE, 4) + " dB");
    }
}
